"""The summary for the clinician: consent decides, purpose by purpose."""

import pytest
from django.core.management import call_command
from django.urls import reverse

from builds.papers import rules
from builds.papers.render import PaperError, render_html, render_pdf
from clients.models import Consent
from labsite.models import FileOpening
from tests.builds.papers.conftest import again, pages_of
from tests.builds.papers.test_workshop_papers import text_of

KIND = "clinician_summary"


def agree(build, account, *purposes, given=True):
    for purpose in purposes:
        Consent.objects.create(
            client=build.client, purpose=purpose, given=given, version="2", signer="Elena", signed_on="2026-03-01",
            made_by=account,
        )  # fmt: skip


@pytest.fixture
def shared(ready, coordinator):
    agree(ready, coordinator, "clinician", "measures")
    return again(ready)


def test_without_consent_there_is_none(ready, coordinator, as_person):
    with pytest.raises(PaperError, match="has not agreed to sharing with the clinician"):
        render_html(KIND, ready)
    with pytest.raises(PaperError):
        rules.issue(ready, KIND, coordinator)
    for name in ("paper_view", "paper_pdf"):
        answer = as_person(coordinator).get(reverse(name, args=[ready.number, KIND]))
        assert answer.status_code == 422
        assert ready.client.person.family_name not in answer.text


def test_a_consent_that_was_refused_or_taken_back_counts_no_more(ready, coordinator):
    agree(ready, coordinator, "clinician", given=False)
    assert rules.why_not(KIND, again(ready)) != []
    agree(ready, coordinator, "clinician")
    assert rules.why_not(KIND, again(ready)) == []
    ready.client.consents.filter(purpose="clinician").update(withdrawn_on="2026-03-02")
    assert rules.why_not(KIND, again(ready)) != []


def test_it_tells_the_clinician_what_the_case_needs(shared):
    text = text_of(KIND, shared)
    for said in (
        "born 14 March 2022", "Clearance in date", "20 min", "Lets go on request", "Occupant's left",
        "The stick is on the occupant's left", "on the push handle at the back", "Turns the head away",
        "16 kg", "Does the clearance go on? Until when?",
    ):  # fmt: skip
        assert said in text, said


def test_measures_need_a_consent_of_their_own(ready, coordinator):
    ready.client.consents.filter(purpose="measures").delete()
    agree(ready, coordinator, "clinician")
    text = text_of(KIND, ready)
    assert "The family has not agreed to keeping measures. They are not shown." in text
    assert "Stature" not in text


def test_a_clearance_that_has_ended_says_so(shared):
    shared.client.clearances.update(given_on="2025-01-01", expires_on="2025-06-01")
    assert "Clearance: NOT in date" in text_of(KIND, shared)


def test_it_is_kept_as_issued_and_its_opening_is_written_down(shared, coordinator, as_person):
    assert rules.issue(shared, KIND, coordinator).is_current
    as_person(coordinator).get(reverse("paper_view", args=[shared.number, KIND]))
    assert FileOpening.objects.filter(what__startswith="Clinician summary").exists()


def test_no_adult_of_the_family_is_named_and_no_address(shared):
    text = " ".join(pages_of(render_pdf(render_html(KIND, shared), shared)))
    adult = shared.client.caregivers.first()
    for secret in (adult.name, adult.phone, shared.client.person.address):
        assert not secret or secret not in text


def test_the_command_says_why_it_leaves_it_out(ready, tmp_path, capsys, monkeypatch):
    from builds.management.commands import papers

    monkeypatch.setattr(papers, "render_pdf", lambda html, build=None: b"%PDF-")
    call_command("papers", ready.number, "--to", str(tmp_path))
    assert "has not agreed" in capsys.readouterr().err
    assert not list(tmp_path.glob("*clinician*"))
