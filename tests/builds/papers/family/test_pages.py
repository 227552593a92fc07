"""Behind the door: the guides as they are issued, a report that reaches a person, the diary, and no name anywhere."""

from datetime import timedelta
from io import BytesIO
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone
from PIL import Image

from builds.demo.factories import clients as make
from builds.papers.family import rules
from builds.papers.family.models import DiaryLine, FamilyReport
from builds.record import rules as record
from builds.record.holds import Standing
from builds.record.models import Problem, Task
from builds.record.photos import consent_for_photos
from clients.models import Consent
from clients.naming import ERASED
from labsite.models import Lab
from tests.builds.papers.conftest import again
from tests.builds.papers.family.conftest import at, door
from tests.rules.test_no_identity import TOLD
from tests.test_every_form import NONSENSE, Fields, trouble


def picture(kind="JPEG"):
    exif = Image.Exif()
    exif[0x010E] = "Taken at home"
    held = BytesIO()
    Image.new("RGB", (40, 30), "gray").save(held, kind, exif=exif)
    return SimpleUploadedFile("smoke.jpg", held.getvalue(), "image/jpeg")


def send(phone, made, **typed):
    return phone.post(at(made, "family_report"), {"hurt": "no", "danger": "no", "text": "It hums", **typed})


def test_the_home_page_leads_to_what_is_issued(phone, made):
    page = phone.get(door(made)).text
    for kind in ("use_guide", "charging_guide", "supervision_card"):
        assert at(made, "family_paper", kind=kind) in page
    assert "hand_off_sheet" not in page


def test_the_guide_is_the_paper_without_the_lab_s_own_links(phone, made, build):
    page = phone.get(at(made, "family_paper", kind="use_guide")).text
    assert "Three things matter most" in page
    assert build.unit.number in page
    assert "/builds/" not in page
    assert "Draft" not in page


def test_the_home_page_and_the_report_say_where_to_stop_it_and_whom_to_call(phone, made):
    for page in (phone.get(door(made)).text, phone.get(at(made, "family_report")).text):
        assert "press the stop switch.</strong> It is here: on the push handle at the back, the red knob." in page
        assert "Take away the power here: pull the red plug behind the seat" in page
        assert "Call the emergency number first: 911." in page


def test_without_an_emergency_number_no_number_is_made_up(phone, made):
    Lab.objects.update(emergency_number="")
    assert "Call the emergency number of your region first." in phone.get(door(made)).text


@pytest.mark.parametrize("kind", ["hand_off_sheet", "as_built", "nonsense"])
def test_no_other_paper_is_shown(phone, made, kind):
    assert phone.get(at(made, "family_paper", kind=kind))["Location"] == door(made)


def test_on_hold_the_link_goes_on_telling_to_stop_and_taking_reports(phone, made, build, coordinator):
    record.set_standing(build, Standing.ON_HOLD, coordinator, "Looked at after a fall")
    page = phone.get(door(made)).text
    assert "Call the lab before you use it" in page and "use_guide" not in page
    send(phone, made, text="It smells hot")
    assert FamilyReport.objects.get(link=made.link).text == "It smells hot"


def test_a_guide_that_is_no_longer_true_is_not_shown(phone, made, build, coordinator):
    record.configure(again(build), coordinator, "The other hand tires less", side="right")
    page = phone.get(door(made)).text
    assert "use_guide" not in page
    assert "Call the lab before you use it" in page
    assert phone.get(at(made, "family_paper", kind="use_guide")).status_code == 302


def test_a_unit_that_must_not_be_used_says_stop(phone, made, build, coordinator):
    build.unit.mark_do_not_use(coordinator, "Cracked")
    page = phone.get(door(made)).text
    assert "WARNING" in page
    assert "Unplug the battery" in page
    assert "Cracked" not in page


def test_a_report_is_in_the_problem_log_and_somebody_calls(phone, made, build):
    answer = send(phone, made)
    assert "The lab has your report" in phone.get(answer["Location"]).text
    problem = Problem.objects.get(build=build)
    assert problem.text == "Family link 1. Anyone hurt: no. It hums"
    assert problem.told_by == "The family"
    task = Task.objects.get(build=build)
    assert task.text == "Call the family about the problem they reported: It hums"
    assert task.problem == problem and task.told_by_the_family and not task.stops_use
    assert task.due_on == timezone.localdate()


@pytest.mark.parametrize(("hurt", "why"), [("yes", "somebody is hurt"), ("unknown", "cannot say if anybody is hurt")])
def test_somebody_hurt_or_maybe_stops_the_use_at_once(phone, made, build, hurt, why):
    send(phone, made, hurt=hurt)
    task = Task.objects.get(build=build)
    assert task.is_urgent and task.told_by_the_family and task.problem == Problem.objects.get(build=build)
    assert task.text.startswith("Call the family today: stop use of")
    assert why in task.text


@pytest.mark.parametrize(
    ("danger", "why", "logged"),
    [("yes", "The family reports smoke, fire or heat", "yes"), ("unknown", "cannot say if there was smoke", "unknown")],
)
def test_smoke_or_heat_or_maybe_stops_the_use_though_nobody_is_hurt(phone, made, build, danger, why, logged):
    send(phone, made, danger=danger, text="It hums")
    task = Task.objects.get(build=build)
    assert task.is_urgent and task.told_by_the_family
    assert FamilyReport.objects.get(link=made.link).danger == danger
    assert why in task.text and task.text.endswith("moved by itself. It hums")
    assert "hurt" not in task.text
    said = f"Anyone hurt: no. Smoke, fire, heat or moving by itself: {logged}. It hums"
    assert Problem.objects.get(build=build).text == f"Family link 1. {said}"
    assert again(build).call_today() == "Family reported a problem: call today"
    kept = rules.without_their_words(f"Family link 1. {said}")
    assert kept == f"Family link 1. {said.removesuffix('It hums')}{ERASED}"
    assert rules.without_their_words(task.text).endswith(f"moved by itself. {ERASED}")


@pytest.mark.parametrize(("danger", "told"), [("yes", True), ("unknown", True), ("no", False)])
def test_who_reported_smoke_reads_what_to_do_about_it_at_once(phone, made, danger, told):
    send(phone, made, danger=danger)
    page = phone.get(at(made, "family_reported", pk=FamilyReport.objects.get().pk)).text
    assert ("Battery hot, swollen or leaking?" in page) is told
    assert ("Get everybody away." in page) is told


@pytest.mark.parametrize("danger", ["yes", "no", "unknown"])
def test_the_desk_reads_what_they_answered(phone, made, build, coordinator, as_person, danger):
    send(phone, made, danger=danger)
    page = as_person(coordinator).get(reverse("family_links", args=[build.number])).text
    assert f"Anyone hurt: no. Smoke, fire, heat or moving by itself: {danger}." in page


def test_a_report_without_hurt_or_danger_is_a_call_and_not_urgent(phone, made, build):
    send(phone, made)
    assert not Task.objects.get(build=build).is_urgent and again(build).call_today() == ""


def test_a_report_must_say_if_it_smoked_or_moved_by_itself(phone, made, build):
    answer = send(phone, made, danger="")
    assert answer.status_code == 422 and "Say if it smoked, burned, got hot or moved by itself" in answer.text
    assert not Task.objects.filter(build=build).exists()


def test_the_caution_stands_before_the_form(phone, made):
    page = phone.get(at(made, "family_report")).text
    assert page.index("Unplug the battery") < page.index("<textarea")


def test_names_stay_out_of_the_problem_log_and_the_task(phone, made, build):
    adult = build.client.caregivers.get()
    given = build.client.person.given_name
    send(phone, made, text=f"{given.upper()} fell, says {adult.name}")
    for text in (Problem.objects.get().text, Task.objects.get().text):
        assert given.casefold() not in text.casefold()
        assert adult.name.split()[0] not in text
        assert "[name] fell" in text
    assert given.upper() in FamilyReport.objects.get().text


def test_one_report_sent_twice_counts_once(phone, made):
    once = uuid4()
    send(phone, made, once=once)
    send(phone, made, once=once)
    assert FamilyReport.objects.count() == 1


def test_a_photo_loses_its_metadata(phone, made):
    send(phone, made, photo=picture(), shows_client="no")
    kept = FamilyReport.objects.get().photo.open("rb").read()
    assert b"Taken at home" not in kept
    assert Image.open(BytesIO(kept)).format == "JPEG"


@pytest.mark.parametrize("shows", ["yes", "unknown", ""])
def test_a_photo_that_may_show_the_client_needs_consent(phone, made, build, shows):
    assert not consent_for_photos(build)
    answer = send(phone, made, photo=picture(), shows_client=shows)
    kept = FamilyReport.objects.get()
    assert not kept.photo
    assert kept.photo_refused
    assert "Your photo was not kept. Send one without your child" in phone.get(answer["Location"]).text


@pytest.fixture
def agreed(build, coordinator):
    return make.ConsentFactory(client=build.client, made_by=coordinator, purpose=Consent.Purpose.PHOTO_RECORD)


@pytest.mark.parametrize("shows", ["yes", "unknown", ""])
def test_with_consent_any_photo_is_kept(phone, made, agreed, shows):
    send(phone, made, photo=picture(), shows_client=shows)
    kept = FamilyReport.objects.get()
    assert kept.photo and not kept.photo_refused


BEFORE_SENDING = (
    "We cannot keep a photo with your child in it. One without your child is welcome.",
    "We keep the photo only if you choose No. If you choose nothing, it is not kept.",
)


def test_without_consent_the_form_says_before_which_photo_is_not_kept(phone, made):
    fresh, refused = phone.get(at(made, "family_report")), send(phone, made, text="")
    assert refused.status_code == 422
    for told in BEFORE_SENDING:
        assert told in fresh.text and told in refused.text


def test_with_consent_the_form_holds_nobody_off(phone, made, agreed):
    page = phone.get(at(made, "family_report")).text
    assert [told for told in BEFORE_SENDING if told in page] == []


def test_a_consent_taken_back_counts_at_once(phone, made, agreed):
    agreed.withdrawn_on = timezone.localdate()
    agreed.save(update_fields=["withdrawn_on"])
    assert BEFORE_SENDING[0] in phone.get(at(made, "family_report")).text


def test_a_photo_without_the_client_is_kept_without_consent(phone, made):
    send(phone, made, photo=picture(), shows_client="no")
    assert FamilyReport.objects.get().photo


@pytest.mark.parametrize("shows", ["no", "yes", ""])
@pytest.mark.parametrize("content", [b"nonsense", b""], ids=["nonsense", "empty"])
def test_a_file_that_is_no_photo_is_left_out_and_the_report_goes_on(phone, made, agreed, shows, content):
    answer = send(phone, made, photo=SimpleUploadedFile("x.jpg", content, "image/jpeg"), shows_client=shows)
    kept = FamilyReport.objects.get()
    assert (kept.text, bool(kept.photo), kept.photo_refused) == ("It hums", False, True)
    assert Task.objects.filter(build=made.link.build).exists()
    assert "Your photo was not kept. It could not be opened." in phone.get(answer["Location"]).text


def test_nor_does_it_hold_up_a_report_without_consent(phone, made):
    nothing = SimpleUploadedFile("x.jpg", b"nonsense", "image/jpeg")
    answer = send(phone, made, photo=nothing)
    assert FamilyReport.objects.get().photo_refused
    assert "Your photo was not kept." in phone.get(answer["Location"]).text


def test_reports_have_an_end(phone, made):
    statuses = [send(phone, made, text=f"Number {count}").status_code for count in range(11)]
    assert statuses == [302] * 10 + [422]
    assert FamilyReport.objects.count() == 10


def test_the_diary_keeps_a_line(phone, made):
    today = timezone.localdate()
    line = {"used_on": today, "minutes": "12", "place": "Yard", "note": "Went to the gate"}
    assert phone.post(at(made, "family_diary"), line).status_code == 302
    kept = DiaryLine.objects.get()
    assert (kept.used_on, kept.minutes, kept.place, kept.note) == (today, 12, "Yard", "Went to the gate")
    assert "Went to the gate" in phone.get(at(made, "family_diary")).text


@pytest.mark.parametrize(
    "wrong", [{"minutes": "0"}, {"minutes": "601"}, {"used_on": "tomorrow"}, {"used_on": ""}, {"minutes": "12.5"}]
)
def test_a_line_that_cannot_be_is_refused(phone, made, wrong):
    line = {"used_on": timezone.localdate(), "minutes": "12", **wrong}
    assert phone.post(at(made, "family_diary"), line).status_code == 422
    assert not DiaryLine.objects.exists()


def test_a_day_to_come_is_refused(phone, made):
    line = {"used_on": timezone.localdate() + timedelta(days=1), "minutes": "5"}
    assert phone.post(at(made, "family_diary"), line).status_code == 422


@pytest.mark.parametrize("name", ["family_report", "family_diary"])
def test_nonsense_is_answered_in_words(phone, made, name):
    fields = Fields()
    fields.feed(phone.get(at(made, name)).text)
    assert fields.typed
    for kind, value in NONSENSE.items():
        answer = phone.post(at(made, name), {**fields.carried, **dict.fromkeys(fields.typed, value), "once": uuid4()})
        assert trouble(kind, answer, fields) == "", kind


def test_no_page_tells_who_they_are(phone, made, build):
    """What a family says itself stays with the lab too: another phone with the link reads none of it."""
    person, adult = build.client.person, build.client.caregivers.get()
    for name in ("given_name", "family_name", "address"):
        setattr(person, name, TOLD[name])
    person.save(update_fields=["given_name", "family_name", "address"])
    adult.name, adult.relation = TOLD["caregiver"], TOLD["relation"]
    adult.save(update_fields=["name", "relation"])
    send(phone, made, text="Smoke")
    report = FamilyReport.objects.get()
    pages = [door(made), at(made, "family_report"), at(made, "family_reported", pk=report.pk), at(made, "family_diary")]
    pages += [at(made, "family_paper", kind=kind) for kind in rules.shown(made.link)]
    assert len(pages) == 7
    for address in pages:
        answer = phone.get(address)
        assert answer.status_code == 200
        text = answer.text.replace(made.token, "")
        found = [said for said in (*TOLD.values(), build.client.case_code, build.number) if said in text]
        assert found == [], address


def test_another_link_reads_no_report_of_this_one(phone, made, build, coordinator):
    from builds.papers.family import links

    other = links.make_link(build, coordinator, days=30)
    report = rules.report(other.link, text="It hums", hurt="no")
    assert phone.get(at(made, "family_reported", pk=report.pk)).status_code == 404


def test_the_lab_s_own_pages_are_not_named(phone, made):
    assert reverse("papers", args=[made.link.build.number]) not in phone.get(door(made)).text
