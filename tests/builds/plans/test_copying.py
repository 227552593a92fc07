"""A build gets its own copy of everything in the plan."""

import pytest

from builds.demo.factories.papers import make_build_for
from builds.demo.factories.parts import BaseUnitFactory, TwoMotorTypeFactory
from builds.plans.copying import copy_to_build
from builds.plans.words import SECTIONS

pytestmark = pytest.mark.django_db


@pytest.fixture
def build(lab):
    return make_build_for("one-hand-stick")


@pytest.mark.parametrize("code", ["one-hand-stick", "press-switch", "switch-socket"])
def test_starting_a_build_copies_all_of_its_plan(lab, code):
    build = make_build_for(code)
    content = build.plan_revision.content
    assert build.steps.count() == sum(len(content[part]) for part in SECTIONS)
    for name, rows in (("fuses", "fuses"), ("wire_runs", "wire_runs"), ("switching_parts", "switching_parts")):
        assert getattr(build, name).count() == len(content[rows])
    assert build.parts.count() == len(content["bom"])


def test_steps_keep_order_limits_and_the_plans_own_words(build):
    for part, (section, _) in SECTIONS.items():
        rows = build.plan_revision.content[part]
        steps = list(build.steps.filter(section=section))
        assert [step.code for step in steps] == [row["code"] for row in rows]
        assert [step.planned for step in steps] == rows
    step = build.steps.get(code="I2")
    assert (step.limit_low, step.limit_high, step.reading_unit) == (12.6, 13.2, "V")
    assert step.limit_source.startswith("Common practice")
    assert build.steps.get(code="C7").tests == "proving"


def test_runs_point_at_their_fuses_and_parts_at_their_runs(build):
    assert build.wire_runs.get(code="W5").fuse.code == "F1"
    assert build.wire_runs.get(code="W11").fuse.code == "F2"
    assert sorted(build.switching_parts.get(code="S1").runs.values_list("code", flat=True)) == ["W2", "W3"]


def test_motor_currents_come_from_the_unit_of_the_build(build):
    assert build.wire_runs.get(code="W5").stall_a == 28.0
    assert build.wire_runs.get(code="W1").stall_a == 56.0
    assert build.switching_parts.get(code="S1").stall_a == 56.0
    assert build.wire_runs.get(code="W11").running_a == 0.02


def test_what_neither_plan_nor_unit_knows_stays_unknown(lab):
    quiet = TwoMotorTypeFactory(name="Two-motor ride-on, not measured", motor_running_a=None, motor_stall_a=None)
    build = make_build_for(unit=BaseUnitFactory(type=quiet))
    run = build.wire_runs.get(code="W1")
    assert run.running_a is None and run.stall_a is None
    assert build.fuses.get(code="F1").distance_m is None
    assert build.fuses.get(code="F1").sheathed == "unknown"
    assert build.parts.get(find_number=9).mass_kg is None
    assert build.parts.first().place is None


def test_each_row_keeps_what_the_plan_says(build):
    run = build.wire_runs.get(code="W5")
    assert run.planned["gauge"] == run.gauge == "12 AWG"
    assert (run.planned["from"], run.planned["fuse"]) == (run.start, "F1")
    assert build.parts.get(find_number=3).planned["quantity"] == 2
    assert build.switching_parts.get(code="S1").planned["runs"] == ["W2", "W3"]


def test_the_counts_are_told(lab):
    build = make_build_for("switch-socket")
    for name in ("steps", "switching_parts", "wire_runs", "fuses", "parts"):
        getattr(build, name).all().delete()
    assert copy_to_build(build) == {"steps": 35, "fuses": 1, "wire_runs": 6, "switching_parts": 2, "parts": 5}
