"""Moves along the path: only through the rules, each with date, person and reason."""

import pytest

from builds.demo import journey
from builds.record import nonconformances, rules
from builds.record.holds import Hold, Stage, Standing
from builds.record.models import Build


def test_a_move_is_kept_with_person_and_states(crew, build):
    rules.move(build, Stage.INCOMING_TEST, crew.coordinator)
    move = build.moves.last()
    assert (move.from_state, move.to_state, move.made_by) == ("plan", "incoming_test", crew.coordinator)


def test_two_stages_in_one_move_are_refused(crew, build):
    with pytest.raises(rules.Refused, match="does not go to Adaptation in one move"):
        rules.move(build, Stage.ADAPTATION, crew.coordinator, "In a hurry")


def test_teardown_waits_for_the_sound_unit(crew, build):
    rules.move(build, Stage.INCOMING_TEST, crew.coordinator)
    with pytest.raises(rules.Refused, match="Sound unit is not released"):
        rules.move(build, Stage.TEARDOWN, crew.coordinator)


def test_an_open_nonconformance_holds_the_build(crew, build):
    journey.take_to(build, Stage.TEARDOWN, crew)
    found = nonconformances.open_nonconformance(build, crew.builder, "A bolt is missing")
    with pytest.raises(rules.Refused, match="nonconformance is open"):
        rules.move(build, Stage.ADAPTATION, crew.coordinator)
    nonconformances.dispose(found, crew.builder, disposition="rework", cause="Lost", fix="New bolt")
    assert rules.move(build, Stage.ADAPTATION, crew.coordinator).stage == Stage.ADAPTATION


def test_a_unit_marked_do_not_use_holds_the_build(crew, build):
    journey.take_to(build, Stage.TEARDOWN, crew)
    build.unit.mark_do_not_use(crew.builder, "It smells hot")
    with pytest.raises(rules.Refused, match="marked do not use"):
        rules.move(build, Stage.ADAPTATION, crew.coordinator)


def test_a_move_back_needs_a_reason(crew, build):
    rules.move(build, Stage.INCOMING_TEST, crew.coordinator)
    with pytest.raises(rules.Refused, match="Enter the reason"):
        rules.move(build, Stage.PLAN, crew.coordinator)
    assert rules.move(build, Stage.PLAN, crew.coordinator, "Other unit wanted").stage == Stage.PLAN


def test_a_unit_that_fails_its_incoming_test_may_be_retired(crew, build):
    rules.move(build, Stage.INCOMING_TEST, crew.coordinator)
    assert rules.move(build, Stage.RETIRED, crew.coordinator, "Gearbox stripped").stage == Stage.RETIRED


@pytest.mark.parametrize("standing", [Standing.ON_HOLD, Standing.CANCELLED])
def test_a_stopped_build_moves_only_when_reopened(crew, build, standing):
    rules.set_standing(build, standing, crew.coordinator, "Family is away")
    with pytest.raises(rules.Refused, match="Reopen it first"):
        rules.move(build, Stage.INCOMING_TEST, crew.coordinator)
    rules.set_standing(build, Standing.OPEN, crew.coordinator, "Family is back")
    assert rules.move(build, Stage.INCOMING_TEST, crew.coordinator).stage == Stage.INCOMING_TEST
    assert build.moves.filter(reason="Family is away").exists()


def test_on_hold_at_home_asks_to_call_the_family(crew, build):
    Build.objects.filter(pk=build.pk).update(stage=Stage.IN_USE)
    build.refresh_from_db()
    rules.set_standing(build, Standing.ON_HOLD, crew.coordinator, "A part of it is recalled")
    (task,) = build.tasks.all()
    assert task.is_urgent and not task.told_by_the_family and "A part of it is recalled" in task.text


def test_nothing_is_cancelled_while_the_family_has_the_unit(crew, build):
    Build.objects.filter(pk=build.pk).update(stage=Stage.IN_USE)
    build.refresh_from_db()
    with pytest.raises(rules.Refused, match="The family has the unit. Record its return first"):
        rules.set_standing(build, Standing.CANCELLED, crew.coordinator, "They moved away")
    assert build.standing == Standing.OPEN


def test_stopping_needs_a_reason(crew, build):
    with pytest.raises(rules.Refused, match="Enter the reason"):
        rules.set_standing(build, Standing.ON_HOLD, crew.coordinator, "")


def test_gates_are_those_of_the_plan(build):
    assert rules.gates_before(build, Stage.FITTING) == [Hold.SOUND_UNIT, Hold.FIRST_POWER, Hold.FIRST_RIDE]
    build.hold_points = ["sound_unit", "first_power", "hand_off"]
    assert rules.gates_before(build, Stage.FITTING) == [Hold.SOUND_UNIT, Hold.FIRST_POWER]
