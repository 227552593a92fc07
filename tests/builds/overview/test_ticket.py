"""The ticket tells who it is for, where the build is, and the one next thing to do."""

import pytest
from django.urls import reverse
from django.utils import timezone

from builds.bench.models import Section
from builds.demo import harness, journey
from builds.demo.factories.parts import place_parts
from builds.models import Task, WireRun
from builds.record import nonconformances, releasing, rules
from builds.record.holds import Hold, Stage, Standing


def ticket(as_person, account, build):
    answer = as_person(account).get(reverse("ticket", args=[build.number]))
    assert answer.status_code == 200
    return answer


def next_of(as_person, account, build):
    return ticket(as_person, account, build).context["next"]


def test_it_says_who_it_is_for_by_code_only(as_person, crew, build):
    page = ticket(as_person, crew.builder, build).content.decode()
    assert build.client.case_code in page and "Occupant&#x27;s left" in page
    assert build.client.person.family_name not in page and build.client.person.given_name not in page


def test_it_says_at_once_where_the_configuration_leaves_the_clearance(as_person, crew, build):
    build.client.clearances.update(scope="left", supports=[])
    assert "The configuration says:" not in ticket(as_person, crew.builder, build).content.decode()
    build.client.clearances.update(scope="right")
    page = ticket(as_person, crew.builder, build).content.decode()
    assert "Control on the occupant&#x27;s right" in page
    assert "The configuration says: occupant&#x27;s left." in page


def test_next_leads_along_the_path(as_person, crew, build):
    step = next_of(as_person, crew.coordinator, build)
    assert step.text == "Move on to Incoming test."
    journey.through_planning(build, crew)
    step = next_of(as_person, crew.builder, build)
    assert step.text.startswith("Incoming test: I1")
    assert step.url.startswith(reverse("bench_section", args=[build.number, "incoming_test"]))


def test_next_asks_for_the_reviewer_then_waits_then_moves_on(as_person, crew, build):
    journey.through_planning(build, crew)
    journey.work(build, crew, "incoming_test")
    assert "Ask a reviewer to release Sound unit" in next_of(as_person, crew.builder, build).text
    releasing.ask(build, Hold.SOUND_UNIT, crew.builder)
    assert "Sound unit waits for a reviewer" in next_of(as_person, crew.builder, build).text
    releasing.release(build, Hold.SOUND_UNIT, crew.reviewer)
    assert next_of(as_person, crew.builder, build).text == "Move on to Teardown."


def test_what_is_not_met_is_said_as_what_is_needed_and_never_as_a_fact(as_person, crew, build):
    """Where it is unknown that says so; the page of the hold point says it in the same words."""
    journey.through_planning(build, crew)
    journey.work(build, crew, "incoming_test")
    build.unit.recall = "recalled"
    build.unit.save(update_fields=["recall"])
    told = next_of(as_person, crew.builder, build).text
    assert told.startswith("Sound unit. Still needed: The recall was looked up, and none is open.")
    page = reverse("hold_point", args=[build.number, Hold.SOUND_UNIT])
    shown = as_person(crew.builder).get(page).content.decode()
    assert ">Still needed: The recall was looked up, and none is open<" in shown
    assert ">Photos all round are taken<" in shown  # met: the bare statement
    build.unit.recall = "unknown"
    build.unit.save(update_fields=["recall"])
    told = next_of(as_person, crew.builder, build).text
    assert told.startswith("Sound unit. Not known yet: The recall was looked up, and none is open.")


def test_next_names_whose_check_of_the_wiring_it_is(as_person, crew, build):
    journey.take_to(build, Stage.ADAPTATION, crew)
    journey.work(build, crew, Section.ADAPTATION)
    place_parts(build)
    harness.measure(build, crew.builder)
    for person, who, page in (
        ("first", "Builder", "wire_checks"),
        ("second", "Second person, who did no work on it", "second_check"),
    ):
        step = next_of(as_person, crew.builder, build)
        assert step.text.startswith("First power. Not known yet: Every wire run is terminated at both ends.")
        assert f"Not checked by the {person} person yet: W1" in step.text
        assert (step.who, step.url) == (who, reverse(page, args=[build.number]))
        harness.check_all(build, crew.builder if person == "first" else crew.second, person)
    assert "Ask a reviewer to release First power" in next_of(as_person, crew.builder, build).text


def test_next_is_an_open_nonconformance_first(as_person, crew, build):
    nonconformances.open_nonconformance(build, crew.builder, "A bolt is missing")
    assert "A bolt is missing" in next_of(as_person, crew.builder, build).text


def test_a_stopped_build_says_why(as_person, crew, build):
    rules.set_standing(build, Standing.ON_HOLD, crew.coordinator, "Family is away")
    assert "Family is away" in next_of(as_person, crew.builder, build).text


def test_a_refusal_hides_no_void(as_person, crew, build):
    journey.take_to(build, Stage.TEARDOWN, crew)
    build.hold_decisions.get(hold=Hold.SOUND_UNIT).void(["The battery was changed"])
    releasing.refuse(build, Hold.SOUND_UNIT, crew.reviewer, "Test it again first")
    answer = ticket(as_person, crew.builder, build)
    (line,) = [one for one in answer.context["holds"] if one.hold == Hold.SOUND_UNIT]
    assert line.state == ("void", "Void") and line.why_void == ["The battery was changed"]
    page = answer.content.decode()
    assert "The battery was changed" in page and "Test it again first" in page


def test_next_tells_the_reason_of_a_refusal_until_somebody_asks_again(as_person, crew, build):
    journey.through_planning(build, crew)
    journey.work(build, crew, "incoming_test")
    assert next_of(as_person, crew.builder, build).text == "Ask a reviewer to release Sound unit."
    releasing.refuse(build, Hold.SOUND_UNIT, crew.reviewer, "The label cannot be read.")
    told = "Sound unit was refused: The label cannot be read. When that is mended, ask a reviewer again."
    assert next_of(as_person, crew.builder, build).text == told
    releasing.ask(build, Hold.SOUND_UNIT, crew.builder)
    assert next_of(as_person, crew.builder, build).text == "Sound unit waits for a reviewer."


def test_a_void_release_says_which_change_voided_it(as_person, crew, build):
    journey.take_to(build, Stage.COMMISSIONING, crew)
    run = WireRun.objects.filter(build=build).first()
    run.gauge = "22 AWG"
    run.save(update_fields=["gauge"])
    answer = ticket(as_person, crew.builder, build)
    page = answer.content.decode()
    assert "Void because of a later change" in page
    assert f"Wire run {run.code}: gauge was" in page and "now 22 AWG" in page
    assert "First power" in answer.context["next"].text


def test_a_void_while_in_use_asks_for_stop_use_and_a_call(as_person, crew, build):
    journey.take_to(build, Stage.IN_USE, crew)
    run = WireRun.objects.filter(build=build).first()
    run.gauge = "22 AWG"
    run.save(update_fields=["gauge"])
    page = ticket(as_person, crew.coordinator, build).content.decode()
    assert "Stop its use and call the family today" in page
    (task,) = build.tasks.filter(done_at__isnull=True, stops_use=True)
    assert task.text.startswith("Call the family today: stop use of") and not task.told_by_the_family


def test_next_is_the_call_that_stops_the_use_before_anything_else(as_person, crew, build, reported):
    nonconformances.open_nonconformance(build, crew.builder, "A bolt is missing")
    task = reported(build)
    step = next_of(as_person, crew.coordinator, build)
    assert step.text == task.text and "stop use of" in step.text
    assert step.url == reverse("task_done", args=[build.number, task.pk]) and step.who == "Lab coordinator"
    answer = ticket(as_person, crew.builder, build)
    assert answer.context["next"].text == task.text and answer.context["next"].url == ""
    assert "The family reported a problem. Stop its use and call the family today." in answer.content.decode()
    task.finish(crew.coordinator, "Called them")
    answer = ticket(as_person, crew.coordinator, build)
    assert "A bolt is missing" in answer.context["next"].text
    assert "The family reported a problem" not in answer.content.decode()


@pytest.mark.parametrize(
    "text", ["Call the family about a screw", "Call the family today: stop use of the old charger, says the maker"]
)
def test_a_task_that_stops_no_use_does_not_push_ahead(as_person, crew, build, text):
    Task.objects.create(build=build, text=text, due_on=timezone.localdate())
    answer = ticket(as_person, crew.coordinator, build)
    assert answer.context["next"].text == "Move on to Incoming test."
    page = answer.content.decode()
    assert text in page and "Urgent: call today" not in page


def test_more_reports_of_a_family_take_no_more_queries(
    as_person, crew, build, reported, django_assert_num_queries, django_assert_max_num_queries
):
    browser, address = as_person(crew.coordinator), reverse("ticket", args=[build.number])
    reported(build)
    browser.get(address)  # what Django reads once for a process is read here
    with django_assert_max_num_queries(25) as few:
        assert "The family reported a problem" in browser.get(address).content.decode()
    calls = [reported(build, text=f"Screw {number} came out", danger="unknown") for number in range(3)]
    calls[0].problem.strike(crew.builder, "Written twice")
    with django_assert_num_queries(len(few)):
        page = browser.get(address).content.decode()
    assert page.count("Urgent: call today") == 4


def test_a_unit_marked_do_not_use_shows_a_warning(as_person, crew, build):
    build.unit.mark_do_not_use(crew.builder, "It smells hot")
    page = ticket(as_person, crew.builder, build).content.decode()
    assert "Do not use this unit" in page and "It smells hot" in page


def test_reported_text_is_escaped(as_person, crew, build):
    nonconformances.open_nonconformance(build, crew.builder, "<script>alert(1)</script>")
    assert "<script>alert" not in ticket(as_person, crew.builder, build).content.decode()
