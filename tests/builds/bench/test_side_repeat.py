"""What must be proved again after the arm has moved to the occupant's other side."""

import pytest

from builds.bench.models import Section
from builds.bench.progress import Bench, counting_result
from builds.bench.rules import record_result
from builds.demo.factories.bench import BuildStepFactory
from builds.record.holds import Hold
from tests.builds.bench.making import configure, let_stand


@pytest.fixture
def steps(opened_build, builder, reviewer):
    """A direction test that repeats per side, and a heat test that does not, both passed on the left."""
    repeats = BuildStepFactory(build=opened_build, section=Section.COMMISSIONING, order=1, repeats_per_side=True)
    once = BuildStepFactory(build=opened_build, section=Section.COMMISSIONING, order=2)
    let_stand(opened_build, reviewer, Hold.SOUND_UNIT, Hold.FIRST_POWER)
    for step in (repeats, once):
        record_result(step, builder, outcome="passed")
    let_stand(opened_build, reviewer, Hold.FIRST_RIDE)
    return repeats, once


def codes(build):
    return [state.code for state in Bench(build).states]


def test_a_result_counts_on_the_side_it_was_taken_on(opened_build, builder, steps):
    assert codes(opened_build) == ["passed", "passed"]
    configure(opened_build, builder, "right")
    assert codes(opened_build) == ["again", "passed"]
    repeats, _ = steps
    assert counting_result(repeats, opened_build.configuration()) is None


def test_a_change_of_something_else_asks_for_nothing_again(opened_build, builder, steps):
    configure(opened_build, builder, "left", ceiling_m_s=0.8)
    assert codes(opened_build) == ["passed", "passed"]


def test_an_arm_that_came_back_has_been_moved_and_is_proved_again(opened_build, builder, steps):
    configure(opened_build, builder, "right")
    configure(opened_build, builder, "left")
    assert codes(opened_build) == ["again", "passed"]


def test_it_is_proved_again_on_the_new_side(opened_build, builder, steps):
    configure(opened_build, builder, "right")
    record_result(steps[0], builder, outcome="passed")
    assert codes(opened_build) == ["passed", "passed"]
    configure(opened_build, builder, "right", ceiling_m_s=0.8)
    assert codes(opened_build) == ["passed", "passed"]


def test_first_ride_is_void_and_says_which_test_is_to_be_done_again(opened_build, builder, steps):
    configure(opened_build, builder, "right")
    first_ride = opened_build.hold_decisions.get(hold=Hold.FIRST_RIDE)
    assert first_ride.voided_at is not None
    said = f"Commissioning step {steps[0]}: outcome was Passed, now to be done again with the control on this side"
    assert any(line.startswith(said) for line in first_ride.void_changes)
    assert opened_build.hold_decisions.get(hold=Hold.FIRST_POWER).voided_at is None


def test_a_side_that_becomes_known_asks_for_the_tests_again(opened_build, builder, reviewer):
    configure(opened_build, builder, "unknown")
    step = BuildStepFactory(build=opened_build, section=Section.COMMISSIONING, repeats_per_side=True)
    let_stand(opened_build, reviewer, Hold.SOUND_UNIT, Hold.FIRST_POWER)
    record_result(step, builder, outcome="passed")
    configure(opened_build, builder, "left")
    assert codes(opened_build) == ["again"]
