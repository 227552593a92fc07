"""The pages: issue, open a kept copy, collect; hand-off with its signed sheet; nothing for those who may not."""

from datetime import timedelta
from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone
from PIL import Image

from builds.demo.factories.papers import settle
from builds.papers import handing_over
from builds.papers.models import HandOff, IssuedPaper
from builds.record import rules as record
from builds.record.models import Build
from builds.record.registry import fetch_whole, reports
from builds.record.voids import known_fields
from labsite.models import FileOpening, Lab
from tests.builds.papers.conftest import again

PLAIN = {"size": "letter", "language": "en", "print_size": "normal"}
PDF = b"%PDF-1.7\n1 0 obj\n<<>>\nendobj\n%%EOF\n"


def url(name, build, **more):
    return reverse(name, kwargs={"number": build.number, **more})


def issue(client, build, kind="use_guide", **typed):
    return client.post(url("paper_issue", build, kind=kind), {**PLAIN, "given_to": "Elena", **typed})


def test_issuing_keeps_a_copy_that_opens_under_a_plain_name(ready, coordinator, as_person):
    client = as_person(coordinator)
    assert issue(client, ready).status_code == 302
    paper = IssuedPaper.objects.get()
    answer = client.get(url("issued_paper", ready, pk=paper.pk))
    assert f'filename="{ready.number}-use-guide-c2-copy1.pdf"' in answer["Content-Disposition"]
    assert b"".join(answer.streaming_content).startswith(b"%PDF-")


def test_one_form_sent_twice_issues_one_copy(ready, coordinator, as_person):
    client = as_person(coordinator)
    once = "6b1f7f9e-8a54-4a3f-9d7e-0d7e2d8f5a11"
    issue(client, ready, once=once)
    issue(client, ready, once=once)
    assert IssuedPaper.objects.count() == 1


def test_a_refused_paper_says_why_and_keeps_what_was_typed(ready, coordinator, as_person):
    ready.client.household.delete()
    answer = issue(as_person(coordinator), ready, "charging_guide", given_to="Grandmother")
    assert answer.status_code == 422
    assert "Not known for charging" in answer.text
    assert 'value="Grandmother"' in answer.text


def test_builders_read_the_list_without_names(ready, coordinator, builder, as_person):
    issue(as_person(coordinator), ready, given_to="Elena Castellan")
    ready.builders.add(builder)
    client = as_person(builder)
    page = client.get(url("papers", ready)).text
    assert "Elena" not in page
    assert "Copy 1" in page
    assert client.get(url("paper_view", ready, kind="hand_off_sheet")).status_code == 403
    assert client.get(url("paper_pdf", ready, kind="hand_off_sheet")).status_code == 403


def test_a_copy_of_another_build_is_not_there(ready, coordinator, as_person):
    issue(as_person(coordinator), ready)
    pk = IssuedPaper.objects.get().pk
    other = Build.objects.start(
        client=ready.client, unit=ready.unit, plan_revision=ready.plan_revision, made_by=coordinator
    )
    assert as_person(coordinator).get(url("issued_paper", other, pk=pk)).status_code == 404


def test_opening_a_page_with_names_is_written_down(ready, director, as_person):
    client = as_person(director)
    for name in ("teach_back", "hand_off", "contacts"):
        assert client.get(url(name, ready)).status_code == 200
    client.get(url("paper_view", ready, kind="hand_off_sheet"))
    whats = list(FileOpening.objects.filter(account=director).order_by("pk").values_list("what", flat=True))
    assert [what.split(" of build")[0] for what in whats] == ["Teach-back", "Hand-off", "Contacts", "Hand-off sheet"]


def test_a_superseded_copy_is_collected_once(ready, coordinator, as_person):
    client = as_person(coordinator)
    issue(client, ready)
    record.configure(again(ready), coordinator, "Slower", ceiling_m_s=0.5)
    page = client.get(url("papers", ready)).text
    assert "Old copies to collect" in page
    assert "ceiling was 0.8 m/s, now 0.5 m/s" in page
    client.post(url("paper_collect", ready, pk=IssuedPaper.objects.get().pk))
    assert "Old copies to collect" not in client.get(url("papers", ready)).text


def photo_with_place():
    held = BytesIO()
    image = Image.new("RGB", (40, 30), "white")
    exif = image.getexif()
    exif[0x010F] = "SecretMaker"
    image.save(held, "JPEG", exif=exif)
    return held.getvalue()


@pytest.mark.parametrize(
    ("name", "content", "kind"),
    [("sheet.pdf", PDF, "application/pdf"), ("sheet.jpg", photo_with_place(), "image/jpeg")],
)
def test_the_signed_sheet_is_kept_and_opened(ready, coordinator, as_person, name, content, kind):
    client = as_person(coordinator)
    answer = client.post(url("signed_sheet_add", ready), {"sheet": SimpleUploadedFile(name, content)})
    assert answer.status_code == 302
    answer = client.get(url("signed_sheet", ready))
    assert answer["Content-Type"] == kind
    kept = b"".join(answer.streaming_content)
    assert b"SecretMaker" not in kept
    assert (kept == PDF) == (kind == "application/pdf")


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"hello", "could not be opened"),
        (b"%PDF-1.7 cut off", "is not a whole PDF"),
        (PDF + b" " * (handing_over.MOST_BYTES), "must be 15 MB or smaller"),
    ],
)
def test_what_is_no_signed_sheet_is_refused(ready, coordinator, as_person, content, said):
    answer = as_person(coordinator).post(
        url("signed_sheet_add", ready), {"sheet": SimpleUploadedFile("x.pdf", content)}
    )
    assert answer.status_code == 422
    assert said in answer.text
    assert not HandOff.objects.exists()


def condition(build, start):
    return next(one for one in reports(again(build))["papers"].conditions if one.text.startswith(start))


def test_another_language_waits_for_an_interpreter(ready, coordinator, as_person):
    ready.client.caregivers.update(language="pl")
    settle(ready, coordinator)
    assert condition(ready, "Papers in the family's language").met is False
    client = as_person(coordinator)
    assert "not available in Polish" in client.get(url("hand_off", ready)).text
    assert "not available in Polish" in client.get(url("paper_view", ready, kind="hand_off_sheet")).text
    HandOff.objects.update(interpreted_by="Ines Roldan", interpreted_on="2026-01-05")
    assert condition(ready, "Papers in the family's language").met is True


@pytest.mark.parametrize(("days", "status"), [(0, 302), (1, 422)])
def test_an_interpreter_who_is_still_to_come_went_through_nothing(ready, coordinator, as_person, days, status):
    ready.client.caregivers.update(language="pl")
    day = timezone.localdate() + timedelta(days=days)
    sent = {"terms": "loan", "interpreted_by": "Ines Roldan", "interpreted_on": f"{day}"}
    assert as_person(coordinator).post(url("hand_off_edit", ready), sent).status_code == status
    assert condition(ready, "Papers in the family's language").met is (status == 302)


def test_terms_are_unknown_until_they_are_settled(ready, coordinator):
    assert condition(ready, "Loan or gift").met is None
    settle(ready, coordinator)
    assert condition(ready, "Loan or gift").met is True


def test_evidence_has_rows_in_the_table_and_costs_no_query_when_fetched(ready, django_assert_num_queries):
    build = fetch_whole(Build.objects.all(), pk=ready.pk)
    from builds.followup.evidence import report as followup
    from builds.papers.evidence import report as papers

    with Lab.current().serves_this_request(), django_assert_num_queries(0):
        evidence = [*papers(build).evidence, *followup(build).evidence]
    assert {(one.kind, name) for one in evidence for name in one.fields} <= {
        (kind, name) for kind, names in known_fields().items() for name in names
    }
