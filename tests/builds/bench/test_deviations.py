import uuid

import pytest
from django.urls import reverse

from builds.bench.deviations import add_step, change_step, changed_from_plan, strike_step
from builds.bench.models import Section
from builds.bench.progress import Bench
from builds.bench.rules import record_result, strike_result
from builds.demo.factories.bench import BuildStepFactory
from builds.record.rules import Refused
from tests.builds.bench.making import battery_step

WHY = "This unit has a 6 V battery"


@pytest.fixture
def step(build):
    return battery_step(build)


def words_of(step, **changed):
    """What the page of a step sends back, with these boxes changed."""
    names = ("title", "detail", "must_see", "reading_label", "reading_unit", "limit_source")
    typed = {name: getattr(step, name) for name in names}
    typed |= {name: "" if getattr(step, name) is None else getattr(step, name) for name in ("limit_low", "limit_high")}
    return {"once": uuid.uuid4(), **typed, **changed}


def change(client, step, **typed):
    return client.post(reverse("step_change", args=[step.build.number, step.pk]), words_of(step, **typed))


def test_a_change_shows_the_plans_words_the_reason_and_who(build, step, builder, as_person):
    client = as_person(builder)
    assert changed_from_plan(step) == []
    assert change(client, step, limit_low="6.2", reason=WHY).status_code == 302
    step.refresh_from_db()
    assert (step.limit_low, step.deviation_reason, step.deviation_by) == (6.2, WHY, builder)
    assert changed_from_plan(step) == [("At least", "12.4", "6.2")]
    page = client.get(reverse("bench_section", args=[build.number, "incoming_test"])).content.decode()
    assert "At least: 6.2 (the plan says: 12.4)" in page
    assert WHY in page
    assert "Bo Lind" in page


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"reason": ""}, "Enter the reason for the deviation"),
        ({"reason": "r" * 301}, "Reason for the deviation must be 300 characters or fewer"),
        ({"title": "", "reason": WHY}, "Enter what to do"),
        ({"title": "t" * 100_000, "reason": WHY}, "What to do must be 200 characters or fewer"),
        ({"limit_low": "low", "reason": WHY}, "At least must be a number"),
        ({"limit_low": "nan", "reason": WHY}, "At least must be a number"),
        ({"limit_high": "inf", "reason": WHY}, "At most must be a number"),
        ({"limit_high": "3", "reason": WHY}, "At least must not be above at most"),
        ({"limit_low": "61", "reason": WHY}, "At least must be from -60 to 60 V"),
        ({"limit_high": "60.5", "reason": WHY}, "At most must be from -60 to 60 V"),
        ({"limit_low": "6", "limit_source": "", "reason": WHY}, "Enter where the limit comes from"),
        ({"reason": WHY}, "Nothing is changed yet"),
    ],
)
def test_a_change_that_cannot_be_is_refused_in_words(step, builder, as_person, typed, message):
    answer = change(as_person(builder), step, **typed)
    assert answer.status_code == 422
    assert message in answer.content.decode()
    step.refresh_from_db()
    assert step.deviation_by is None


def test_a_limit_in_a_comma_country_is_understood_or_refused_never_misread(step, builder, as_person):
    answer = change(as_person(builder), step, limit_low="6,2", reason=WHY)
    step.refresh_from_db()
    assert (answer.status_code, step.limit_low) in [(302, 6.2), (422, 12.4)]


def test_a_tightened_limit_is_held_against_the_reading_that_was_taken(build, step, builder):
    record_result(step, builder, outcome="passed", reading_typed="12.5")
    change_step(step, builder, {"limit_low": 12.6}, "New battery data sheet")
    (state,) = Bench(build).states
    assert (state.code, state.is_done) == ("outside", False)


def test_a_photo_asked_for_later_is_still_lacking(build, step, builder):
    record_result(step, builder, outcome="passed", reading_typed="12.5")
    change_step(step, builder, {"needs_photo": True}, "The reviewer asked for one")
    assert [state.is_done for state in Bench(build).states] == [False]


@pytest.mark.parametrize("changes", [{"title": "Other"}, {"reading_unit": "mV"}, {"must_see": "Other"}])
def test_the_words_of_a_step_do_not_change_under_its_result(step, builder, changes):
    result = record_result(step, builder, outcome="passed", reading_typed="12.5")
    with pytest.raises(Refused, match="Strike the result first"):
        change_step(step, builder, changes, WHY)
    strike_result(result, builder, "Before the change")
    assert change_step(step, builder, changes, WHY).deviation_reason == WHY


def test_a_second_change_keeps_both_reasons(step, builder):
    change_step(step, builder, {"limit_low": 12.5}, "First")
    assert change_step(step, builder, {"limit_low": 12.6}, "Second").deviation_reason == "First; Second"


def test_only_the_words_and_limits_can_be_changed(step, builder):
    with pytest.raises(ValueError, match="tests"):
        change_step(step, builder, {"tests": ""}, WHY)


def add(client, build, section="incoming_test", **typed):
    address = reverse("step_add", args=[build.number, section])
    return client.post(address, {"once": uuid.uuid4(), "title": "Look at the seat screws", "reason": WHY, **typed})


def test_a_step_is_added_with_a_reason_and_counts_like_any_other(build, step, builder, as_person):
    assert add(as_person(builder), build).status_code == 302
    added = build.steps.get(code="X1")
    assert (added.planned, added.deviation_by, added.deviation_reason) == (None, builder, WHY)
    assert [state.step.code for state in Bench(build).states] == [step.code, "X1"]
    page = as_person(builder).get(reverse("bench_section", args=[build.number, "incoming_test"])).content.decode()
    assert "Added for this build" in page


def test_a_step_is_added_after_another(build, builder, as_person):
    first, last = (BuildStepFactory(build=build, order=n, code=f"C{n}") for n in (10, 20))
    for _ in range(2):
        assert add(as_person(builder), build, after=first.pk).status_code == 302
    assert [state.step.code for state in Bench(build).states] == ["C10", "X1", "X2", "C20"]


def test_a_step_is_not_added_after_one_of_another_section(build, builder, as_person):
    elsewhere = BuildStepFactory(build=build, section=Section.TEARDOWN)
    assert add(as_person(builder), build, after=elsewhere.pk).status_code == 422


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"reason": ""}, "Enter the reason for the deviation"),
        ({"title": ""}, "Enter what to do"),
        ({"limit_low": "5"}, "Enter the reading that the limits are for"),
    ],
)
def test_an_added_step_that_cannot_be_is_refused(build, builder, as_person, typed, message):
    answer = add(as_person(builder), build, **typed)
    assert answer.status_code == 422
    assert message in answer.content.decode()
    assert not build.steps.exists()


def test_a_double_click_adds_one_step(build, builder, as_person):
    client, once = as_person(builder), uuid.uuid4()
    for _ in range(2):
        assert add(client, build, once=once).status_code == 302
    assert build.steps.count() == 1


def test_a_section_that_is_none_is_not_found(build, builder, as_person):
    assert add(as_person(builder), build, section="wishes").status_code == 404


def strike(client, step, reason=WHY):
    return client.post(
        reverse("step_strike", args=[step.build.number, step.pk]), {"once": uuid.uuid4(), "reason": reason}
    )


def test_a_struck_step_stays_readable_and_is_no_longer_asked_for(build, builder, as_person):
    step = BuildStepFactory(build=build, title="Test the horn")
    assert strike(as_person(builder), step, "This unit has no horn").status_code == 302
    assert Bench(build).states == []
    page = as_person(builder).get(reverse("bench_section", args=[build.number, "incoming_test"])).content.decode()
    assert "<del>Test the horn</del>" in page
    assert "This unit has no horn" in page


def test_a_test_that_a_hold_point_counts_on_is_not_struck(step, builder, as_person):
    answer = strike(as_person(builder), step)
    assert answer.status_code == 422
    assert "A hold point counts on this test" in answer.content.decode()
    step.refresh_from_db()
    assert not step.is_struck


def test_striking_needs_a_reason(build, builder, as_person):
    step = BuildStepFactory(build=build)
    assert strike(as_person(builder), step, "").status_code == 422
    with pytest.raises(Refused):
        strike_step(step, builder, " ")


def test_readers_make_no_deviation_and_strangers_learn_nothing(build, reviewer, director, other_builder, as_person):
    step = BuildStepFactory(build=build)
    people = [as_person(one) for one in (reviewer, director, other_builder)]
    for tried in (strike, lambda client, step: change(client, step, title="No", reason="No")):
        assert [tried(client, step).status_code for client in people] == [403, 403, 404]
    assert [add(client, build).status_code for client in people] == [403, 403, 404]


def test_the_rule_of_adding_needs_a_reason(build, builder):
    with pytest.raises(Refused):
        add_step(build, builder, Section.FITTING, "", title="Seat the client")
