import io
import re
import uuid

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from builds.bench.models import Section, StepResult
from builds.bench.progress import Bench
from builds.bench.rules import record_result, strike_result
from builds.demo.factories.bench import BuildStepFactory, drawn_photo
from builds.models import Nonconformance, Photo
from builds.record.rules import Refused
from tests.builds.bench.making import battery_step, configure

PASSED, FAILED, NOT_HERE = "passed", "failed", "does_not_apply"


def send(client, step, **typed):
    address = reverse("step_record", args=[step.build.number, step.pk])
    return client.post(address, {"once": uuid.uuid4(), **typed})


def shown_on(client, step):
    """What the form of this step was opened on."""
    page = client.get(reverse("step_record", args=[step.build.number, step.pk])).content.decode()
    return re.search(r'name="based_on" value="(\d+)"', page)[1]


def phone_photo(name="IMG_0001.jpg", turned=True, size=(400, 300)):
    """A photo as a phone sends it: with a place, a time, a device, and turned on its side."""
    exif = Image.Exif()
    if turned:
        exif[0x0112] = 6  # orientation: turn 90° clockwise to stand upright
    exif[0x010F] = "Phone maker"
    exif.get_ifd(0x8825)[1] = "N"
    exif.get_ifd(0x8825)[2] = (41.0, 52.0, 30.0)
    held = io.BytesIO()
    Image.new("RGB", size, "#335577").save(held, "JPEG", exif=exif)
    return SimpleUploadedFile(name, held.getvalue(), content_type="image/jpeg")


def test_a_passed_step_keeps_who_what_and_under_which_configuration(build, builder, as_person):
    step = battery_step(build)
    answer = send(as_person(builder), step, outcome=PASSED, reading="12.6 V", instrument="Meter 2", note="Rested 1 h")
    assert answer.status_code == 302
    result = step.results.get()
    assert (result.outcome, result.reading, result.reading_typed) == (PASSED, 12.6, "12.6 V")
    assert (result.instrument, result.note, result.made_by) == ("Meter 2", "Rested 1 h", builder)
    assert result.configuration == build.configuration()


def test_after_recording_the_page_stands_at_the_next_step(build, builder, as_person):
    first, second = battery_step(build, order=1), BuildStepFactory(build=build, order=2)
    answer = send(as_person(builder), first, outcome=PASSED, reading="12.6")
    assert answer["Location"] == reverse("bench_section", args=[build.number, "incoming_test"]) + f"#step-{second.pk}"


@pytest.mark.parametrize("reading", ["12.4", "12.4 V", "12400 mV", "12,4"])
def test_a_reading_on_its_limit_passes(build, builder, as_person, reading):
    step = battery_step(build)
    assert send(as_person(builder), step, outcome=PASSED, reading=reading).status_code == 302
    assert step.results.get().reading == 12.4


def test_a_reading_past_its_limit_does_not_pass(build, builder, as_person):
    step = battery_step(build)
    answer = send(as_person(builder), step, outcome=PASSED, reading="12.3")
    assert answer.status_code == 422
    assert "Battery voltage at rest must be 12.4 V or more to pass; record it as failed" in answer.content.decode()
    assert 'value="12.3"' in answer.content.decode()
    assert not step.results.exists()


def test_a_reading_that_cannot_be_is_refused_whatever_came_of_the_step(build, builder, as_person):
    """A limit on one side lets any slip of the meter's range pass it."""
    step = battery_step(build)
    for outcome in (PASSED, FAILED):
        answer = send(as_person(builder), step, outcome=outcome, reading="9999", note="As read")
        assert answer.status_code == 422
        told = "Battery voltage at rest must be from -60 to 60 V: look at the meter&#x27;s range"
        assert told in answer.content.decode()
    assert not step.results.exists()


def test_leads_the_wrong_way_round_pass_no_upper_limit_and_may_be_recorded_as_a_fault(build, builder, as_person):
    step = BuildStepFactory(build=build, reading_label="Current at rest", reading_unit="A", limit_high=0.5)
    answer = send(as_person(builder), step, outcome=PASSED, reading="-12")
    assert answer.status_code == 422
    assert "Current at rest must not be below zero to pass. Turn the leads" in answer.content.decode()
    assert send(as_person(builder), step, outcome=FAILED, reading="-12", note="Reversed").status_code == 302
    assert step.results.get().reading == -12


def test_an_open_circuit_can_be_said(build, builder, as_person):
    """Over range is the right answer where nothing may be short, and the wrong one where a wire must conduct."""
    facts = {"build": build, "reading_label": "Resistance", "reading_unit": "Ω"}
    no_short = BuildStepFactory(code="A", limit_low=100, **facts)
    conducts = BuildStepFactory(code="B", limit_high=1, **facts)
    client = as_person(builder)
    page = client.get(reverse("step_record", args=[build.number, no_short.pk])).content.decode()
    assert "Over range (OL, or a 1 alone on the display): type the end of the meter&#x27;s widest range" in page
    assert send(client, no_short, outcome=PASSED, reading="OL").status_code == 422
    assert send(client, no_short, outcome=PASSED, reading="20 Mohm", note="Over range").status_code == 302
    assert send(client, conducts, outcome=PASSED, reading="20 Mohm", note="Over range").status_code == 422
    assert send(client, conducts, outcome=FAILED, note="Over range at 20 Mohm").status_code == 302
    assert no_short.results.get().reading == 20e6


def test_a_reading_kept_from_before_that_cannot_be_counts_as_no_pass(build, builder):
    step = battery_step(build)
    result = record_result(step, builder, outcome=PASSED, reading_typed="12.6")
    result.reading = 9999
    result.save(update_fields=["reading"])
    state = next(one for one in Bench(build).states if one.step.pk == step.pk)
    assert not state.is_done


@pytest.mark.parametrize("reading", ["", "nan", "inf", "-inf", "1e999", "twelve", "12 kg", "9" * 300, "x" * 100_000])
def test_what_is_no_reading_is_refused_and_stays_on_the_page(build, builder, as_person, reading):
    step = battery_step(build)
    answer = send(as_person(builder), step, outcome=PASSED, reading=reading)
    assert answer.status_code == 422
    assert answer.content.decode().count("Error: ") >= 1
    assert reading in answer.content.decode()
    assert not step.results.exists()


def test_a_note_of_100_000_characters_is_refused_and_stays(build, builder, as_person):
    step = BuildStepFactory(build=build)
    answer = send(as_person(builder), step, outcome=PASSED, note="n" * 100_000)
    assert answer.status_code == 422
    assert "Note must be 5,000 characters or fewer" in answer.content.decode()
    assert "n" * 100_000 in answer.content.decode()


def test_an_outcome_is_chosen_and_none_is_assumed(build, builder, as_person):
    step = BuildStepFactory(build=build)
    page = as_person(builder).get(reverse("step_record", args=[build.number, step.pk])).content.decode()
    assert "checked" not in page
    answer = send(as_person(builder), step)
    assert answer.status_code == 422
    assert "Choose the outcome" in answer.content.decode()


@pytest.mark.parametrize(("outcome", "words"), [(FAILED, "what failed"), (NOT_HERE, "why the step does not apply")])
def test_what_did_not_pass_needs_a_note(build, builder, as_person, outcome, words):
    step = battery_step(build)
    answer = send(as_person(builder), step, outcome=outcome)
    assert answer.status_code == 422
    assert f"Enter the note: {words}" in answer.content.decode()
    assert not step.results.exists()


def test_a_step_that_does_not_apply_needs_no_reading(build, builder, as_person):
    step = battery_step(build)
    assert send(as_person(builder), step, outcome=NOT_HERE, note="Runs from single-use cells").status_code == 302
    assert step.results.get().reading is None


def test_a_failed_step_opens_one_nonconformance(build, builder, as_person):
    step, client = battery_step(build), as_person(builder)
    for note in ("Sags under load", "Sags again"):
        typed = {"outcome": FAILED, "reading": "11.2", "note": note, "based_on": shown_on(client, step)}
        assert send(client, step, **typed).status_code == 302
    opened = Nonconformance.objects.get()
    assert opened.source == f"step:{step.pk}"
    assert opened.is_open
    assert "Battery voltage at rest 11.2 V, must be 12.4 V or more" in opened.text
    assert "Sags under load" in opened.text
    assert step.results.count() == 2


def test_a_long_note_is_kept_whole_though_the_nonconformance_is_short(build, builder):
    step = battery_step(build)
    result = record_result(step, builder, outcome=FAILED, note="w" * 4000)
    assert result.note == "w" * 4000
    assert len(Nonconformance.objects.get().text) <= 500


def test_a_step_that_needs_a_photo_does_not_pass_without(build, builder, as_person):
    step = BuildStepFactory(build=build, needs_photo=True)
    answer = send(as_person(builder), step, outcome=PASSED)
    assert answer.status_code == 422
    assert "Choose the photo: this step needs one to pass" in answer.content.decode()
    assert send(as_person(builder), step, outcome=PASSED, photo=phone_photo()).status_code == 302
    assert step.results.get().photo.build == build


def test_a_photo_is_kept_upright_and_without_anything_but_the_picture(build, builder, as_person):
    step = BuildStepFactory(build=build)
    sent = phone_photo(name="Mia at home.jpg", size=(4000, 3000))
    assert send(as_person(builder), step, outcome=PASSED, photo=sent).status_code == 302
    kept = Photo.objects.get()
    assert "Mia" not in kept.file.name
    with kept.file.open("rb") as held:
        raw = held.read()
    picture = Image.open(io.BytesIO(raw))
    assert not picture.getexif()
    assert b"Phone maker" not in raw
    assert picture.size == (1200, 1600)


@pytest.mark.parametrize("content", [b"", b"not a picture", b"\xff\xd8\xff\xe0broken"])
def test_what_is_no_photo_is_refused(build, builder, as_person, content):
    step = BuildStepFactory(build=build)
    answer = send(as_person(builder), step, outcome=PASSED, photo=SimpleUploadedFile("a.jpg", content))
    assert answer.status_code == 422
    assert not step.results.exists()
    assert not Photo.objects.exists()


def test_a_photo_sent_with_a_refused_result_is_asked_for_again(build, builder, as_person):
    step = battery_step(build)
    answer = send(as_person(builder), step, outcome=PASSED, reading="", photo=phone_photo())
    assert answer.status_code == 422
    assert "Choose the photo again" in answer.content.decode()
    assert not Photo.objects.exists()


def test_a_double_click_records_one_result(build, builder, as_person):
    step, client, once = battery_step(build), as_person(builder), uuid.uuid4()
    answers = [send(client, step, once=once, outcome=PASSED, reading="12.6") for _ in range(2)]
    assert [one.status_code for one in answers] == [302, 302]
    assert answers[0]["Location"] == answers[1]["Location"]
    assert step.results.count() == 1


def test_user_text_is_escaped(build, builder, as_person):
    step = BuildStepFactory(build=build)
    send(as_person(builder), step, outcome=PASSED, note="<script>alert(1)</script>")
    page = as_person(builder).get(reverse("bench_section", args=[build.number, "incoming_test"])).content.decode()
    assert "<script>alert" not in page
    assert "&lt;script&gt;alert" in page


def test_a_struck_step_takes_no_result(build, builder):
    step = BuildStepFactory(build=build)
    step.strike(builder, "Not on this unit")
    with pytest.raises(Refused):
        record_result(step, builder, outcome=PASSED)


def test_the_rule_refuses_what_the_form_would(build, builder):
    step = battery_step(build, needs_photo=True)
    for typed in ({}, {"reading_typed": "12.6"}, {"reading_typed": "11", "photo_file": drawn_photo()}):
        with pytest.raises(Refused):
            record_result(step, builder, outcome=PASSED, **typed)
    assert not StepResult.objects.exists()


def test_the_instrument_last_used_for_a_unit_stands_ready(build, builder, as_person):
    first, second = battery_step(build, code="A"), battery_step(build, code="B")
    send(as_person(builder), first, outcome=PASSED, reading="12.6", instrument="Meter 7")
    page = as_person(builder).get(reverse("step_record", args=[build.number, second.pk])).content.decode()
    assert 'value="Meter 7"' in page


def test_a_reader_may_not_record_and_a_stranger_learns_nothing(build, as_person, reviewer, director, other_builder):
    step = BuildStepFactory(build=build)
    statuses = [send(as_person(one), step, outcome=PASSED).status_code for one in (reviewer, director, other_builder)]
    assert statuses == [403, 403, 404]
    assert not step.results.exists()


def test_a_step_of_another_build_is_not_found(build, opened_build, builder, as_person):
    step = BuildStepFactory(build=opened_build)
    address = reverse("step_record", args=[build.number, step.pk])
    assert as_person(builder).post(address, {"outcome": PASSED}).status_code == 404


def test_a_build_on_hold_takes_no_result(build, builder, as_person):
    step = BuildStepFactory(build=build)
    build.standing, build.standing_reason = "on_hold", "Waiting for a battery"
    build.save(update_fields=["standing", "standing_reason"])
    assert send(as_person(builder), step, outcome=PASSED).status_code == 403


def test_the_side_under_which_it_was_recorded_is_shown_as_the_occupants(build, builder, as_person):
    step = BuildStepFactory(build=build, section=Section.INCOMING_TEST)
    configure(build, builder, "right")
    send(as_person(builder), step, outcome=PASSED)
    page = as_person(builder).get(reverse("bench_section", args=[build.number, "incoming_test"])).content.decode()
    assert "configuration 2, occupant&#x27;s right" in page
    assert "The control is on the occupant's right." in page


def test_a_page_opened_before_another_result_does_not_record_over_it(build, builder, as_person):
    """Failed in one window, then passed from another that was opened before: the failure stands until it is seen."""
    step = battery_step(build)
    client = as_person(builder)
    before = shown_on(client, step)
    send(client, step, outcome=FAILED, reading="11.9", note="Dead cell", based_on=before)
    for sent in ({"based_on": before}, {}, {"based_on": "x"}):
        answer = send(client, step, outcome=PASSED, reading="12.6", note="Charged again", **sent)
        page = answer.content.decode()
        assert answer.status_code == 422
        told = rf"{step.code} was recorded as failed by {builder.full_name} on \d+ \w+ \d{{4}}, \d\d:\d\d meanwhile"
        assert re.search(told + r"\. Look at it and record again\.", page)
        assert 'value="12.6"' in page and "Charged again" in page and "Dead cell" in page
    assert step.results.get().outcome == FAILED
    again = re.search(r'name="based_on" value="(\d+)"', page)[1]
    assert send(client, step, outcome=PASSED, reading="12.6", based_on=again).status_code == 302
    assert step.results.count() == 2


def test_a_photo_sent_from_an_older_page_is_asked_for_again(build, builder, as_person):
    step = BuildStepFactory(build=build, needs_photo=True)
    record_result(step, builder, outcome=FAILED, note="Loose wheel")
    answer = send(as_person(builder), step, outcome=PASSED, photo=phone_photo())
    assert answer.status_code == 422
    assert "Choose the photo again" in answer.content.decode()
    assert not Photo.objects.exists()


def test_the_rule_itself_records_over_nothing_unseen(build, builder):
    step = battery_step(build)
    first = record_result(step, builder, outcome=FAILED, note="Dead cell", based_on=0)
    with pytest.raises(Refused, match="was recorded as failed by .* meanwhile"):
        record_result(step, builder, outcome=PASSED, reading_typed="12.6", based_on=0)
    record_result(step, builder, outcome=PASSED, reading_typed="12.6", based_on=first.pk)


def test_a_result_struck_meanwhile_is_none_to_record_over(build, builder):
    step = battery_step(build)
    strike_result(record_result(step, builder, outcome=FAILED, note="Dead cell"), builder, "Wrong battery")
    record_result(step, builder, outcome=PASSED, reading_typed="12.6", based_on=0)
    assert step.results.count() == 2
