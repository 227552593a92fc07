"""Nothing is recorded of a unit under power, or driven, before the record lets it be switched on."""

import pytest

from builds.demo.factories.controller import make_told_digest
from builds.demo.factories.drive import make_accepted_calibration, make_accepted_fit, make_timed_runs
from builds.demo.factories.parts import make_toy_unit
from builds.demo.factories.proving import make_stop, record_lines, start_proving
from builds.record.holds import Hold
from builds.record.nonconformances import dispose, open_nonconformance
from builds.record.powering import why_not_driven, why_not_powered
from builds.record.rules import Refused
from tests.builds.bench.making import let_stand
from tests.builds.wiring.making import fresh, make_planned_build

POWERED = {"what the controller told": make_told_digest, "a proving run": start_proving}
DRIVEN = {"timed runs": make_timed_runs, "a stop": make_stop}


@pytest.fixture
def tuned(build, builder):
    make_accepted_calibration(build, builder)
    make_accepted_fit(build, builder)
    return fresh(build)


@pytest.mark.parametrize("record", [*POWERED.values(), *DRIVEN.values()], ids=[*POWERED, *DRIVEN])
@pytest.mark.parametrize("hold", [Hold.SOUND_UNIT, Hold.FIRST_POWER])
def test_nothing_under_power_is_recorded_before_first_power(tuned, builder, record, hold):
    tuned.hold_decisions.filter(hold=hold).delete()
    with pytest.raises(Refused, match=f"The hold point {hold.label} is not released"):
        record(fresh(tuned), builder)


@pytest.mark.parametrize("record", [*POWERED.values(), *DRIVEN.values()], ids=[*POWERED, *DRIVEN])
def test_a_unit_marked_do_not_use_is_not_switched_on(tuned, builder, record):
    tuned.unit.mark_do_not_use(builder, "It smelt of smoke")
    with pytest.raises(Refused, match="is marked do not use"):
        record(fresh(tuned), builder)


@pytest.mark.parametrize("record", DRIVEN.values(), ids=DRIVEN)
def test_nothing_is_driven_while_a_nonconformance_is_open(tuned, builder, record):
    found = open_nonconformance(tuned, builder, "A wheel is loose")
    with pytest.raises(Refused, match="A nonconformance is open"):
        record(fresh(tuned), builder)
    dispose(found, builder, disposition="rework", cause="A nut came off", fix="A new lock nut")
    assert record(fresh(tuned), builder).pk


@pytest.mark.parametrize("record", POWERED.values(), ids=POWERED)
def test_with_its_wheels_up_it_is_looked_at_while_a_nonconformance_is_open(tuned, builder, record):
    open_nonconformance(tuned, builder, "The left wheel turns backward")
    assert record(fresh(tuned), builder).pk


def test_each_line_of_a_run_asks_again(tuned, builder, reviewer):
    run = start_proving(tuned, builder)
    decision = tuned.hold_decisions.filter(hold=Hold.FIRST_POWER).latest("pk")
    decision.void(["Fuse F1: rating was 20 A, now 40 A"], builder)
    with pytest.raises(Refused, match="First power is not released"):
        record_lines(run, builder)
    let_stand(fresh(tuned), reviewer, Hold.FIRST_POWER)
    tuned.unit.mark_do_not_use(builder, "It smelt of smoke")
    with pytest.raises(Refused, match="is marked do not use"):
        record_lines(run, builder)
    assert not run.lines.exists()


@pytest.mark.parametrize("name", ["timed_runs_new", "stop_new", "controller"])
def test_the_page_says_why_before_anybody_types(tuned, page, name):
    tuned.hold_decisions.all().delete()
    assert "The hold point Sound unit is not released." in page.get(name).content.decode()


def test_a_plan_without_these_hold_points_asks_for_none(coordinator, builder, lab):
    build = make_planned_build(coordinator, builder, plan="switch-socket", unit=make_toy_unit())
    build.hold_points = [Hold.HAND_OFF]
    build.save(update_fields=["hold_points"])
    assert (why_not_powered(build), why_not_driven(build)) == ("", "")
    build.unit.mark_do_not_use(builder, "It smelt of smoke")
    assert "is marked do not use" in why_not_powered(fresh(build))
