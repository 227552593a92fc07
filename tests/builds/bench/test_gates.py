import pytest
from django.urls import reverse

from builds.bench.models import Section
from builds.bench.progress import Bench, next_step
from builds.bench.rules import record_result, strike_result
from builds.demo.factories.bench import BuildStepFactory
from builds.record.holds import Hold, Stage
from builds.record.nonconformances import open_nonconformance
from builds.record.rules import Refused
from tests.builds.bench.making import let_stand, make_bench_build

PASSED = "passed"


def at(build, stage):
    build.stage = stage
    build.save(update_fields=["stage"])


def why_blocked(build, step):
    blocked = Bench(build).blocked(step)
    return blocked.why if blocked else ""


@pytest.mark.parametrize("stage", [Stage.PLAN, Stage.INCOMING_TEST])
def test_the_incoming_test_comes_before_the_unit_is_opened(build, builder, stage):
    at(build, stage)
    step = BuildStepFactory(build=build)
    assert record_result(step, builder, outcome=PASSED).pk


@pytest.mark.parametrize("stage", [Stage.TEARDOWN, Stage.COMMISSIONING, Stage.IN_USE])
def test_the_incoming_test_is_over_once_the_unit_is_opened(build, builder, stage):
    at(build, stage)
    step = BuildStepFactory(build=build)
    with pytest.raises(Refused, match="Move it back to Incoming test"):
        record_result(step, builder, outcome=PASSED)


def test_a_unit_that_was_opened_and_tested_again_needs_a_word_on_how_it_was_put_back(build, builder, reviewer):
    incoming, teardown = BuildStepFactory(build=build), BuildStepFactory(build=build, section=Section.TEARDOWN)
    at(build, Stage.TEARDOWN)
    let_stand(build, reviewer, Hold.SOUND_UNIT)
    record_result(teardown, builder, outcome=PASSED)
    at(build, Stage.INCOMING_TEST)
    with pytest.raises(Refused, match="put back"):
        record_result(incoming, builder, outcome=PASSED)
    assert record_result(incoming, builder, outcome=PASSED, note="Motors and pedal put back as bought").pk


@pytest.mark.parametrize("section", [Section.TEARDOWN, Section.ADAPTATION])
def test_teardown_waits_for_sound_unit(build, builder, reviewer, section):
    step = BuildStepFactory(build=build, section=section)
    at(build, Stage.TEARDOWN)
    blocked = Bench(build).blocked(step)
    assert blocked.why == "The hold point Sound unit is not released."
    assert blocked.url == reverse("ticket", args=[build.number]) + "#hold-points"
    let_stand(build, reviewer, Hold.SOUND_UNIT)
    assert record_result(step, builder, outcome=PASSED).pk


def test_teardown_waits_for_the_stage_too(build, reviewer):
    step = BuildStepFactory(build=build, section=Section.TEARDOWN)
    let_stand(build, reviewer, Hold.SOUND_UNIT)
    assert "Move it to Teardown first" in why_blocked(build, step)


def test_power_waits_for_first_power_and_what_needs_no_battery_does_not(opened_build, builder, reviewer):
    dry = BuildStepFactory(build=opened_build, section=Section.COMMISSIONING, battery_out=True)
    live = BuildStepFactory(build=opened_build, section=Section.COMMISSIONING)
    let_stand(opened_build, reviewer, Hold.SOUND_UNIT)
    record_result(dry, builder, outcome=PASSED)
    assert why_blocked(opened_build, live) == "The hold point First power is not released."
    let_stand(opened_build, reviewer, Hold.FIRST_POWER)
    assert record_result(live, builder, outcome=PASSED).pk


def test_the_client_sits_in_it_only_after_first_ride(opened_build, builder, reviewer):
    static = BuildStepFactory(build=opened_build, section=Section.FITTING, battery_out=True)
    driven = BuildStepFactory(build=opened_build, section=Section.FITTING)
    let_stand(opened_build, reviewer, Hold.SOUND_UNIT, Hold.FIRST_POWER)
    record_result(static, builder, outcome=PASSED)
    assert why_blocked(opened_build, driven) == "The hold point First ride is not released."
    let_stand(opened_build, reviewer, Hold.FIRST_RIDE)
    assert record_result(driven, builder, outcome=PASSED).pk


def test_a_hold_point_that_the_plan_has_not_gates_nothing(coordinator, builder, reviewer, lab):
    toy = make_bench_build(
        coordinator, builder, holds=["sound_unit", "first_power", "hand_off"], stage=Stage.FITTING
    )
    fitting = BuildStepFactory(build=toy, section=Section.FITTING)
    let_stand(toy, reviewer, Hold.SOUND_UNIT)
    assert why_blocked(toy, fitting) == "The hold point First power is not released."
    let_stand(toy, reviewer, Hold.FIRST_POWER)
    assert why_blocked(toy, fitting) == ""


def test_a_void_release_closes_the_gate_again(opened_build, builder, reviewer):
    step = BuildStepFactory(build=opened_build, section=Section.ADAPTATION)
    let_stand(opened_build, reviewer, Hold.SOUND_UNIT)
    opened_build.hold_decisions.get().void(["A test changed"])
    assert "Sound unit" in why_blocked(opened_build, step)


def test_the_client_does_not_sit_in_a_unit_that_is_marked_or_has_an_open_nonconformance(
    opened_build, builder, reviewer
):
    step = BuildStepFactory(build=opened_build, section=Section.FITTING)
    let_stand(opened_build, reviewer, Hold.SOUND_UNIT, Hold.FIRST_POWER, Hold.FIRST_RIDE)
    assert why_blocked(opened_build, step) == ""
    open_nonconformance(opened_build, builder, "A cable is loose")
    assert "nonconformance" in why_blocked(opened_build, step)
    opened_build.nonconformances.all().delete()
    opened_build.unit.do_not_use_at = opened_build.stage_since
    assert "do not use" in why_blocked(opened_build, step)


@pytest.fixture
def powered(opened_build, reviewer):
    steps = [BuildStepFactory(build=opened_build, section=Section.COMMISSIONING, order=n) for n in (30, 10, 20)]
    let_stand(opened_build, reviewer, Hold.SOUND_UNIT, Hold.FIRST_POWER)
    return opened_build, sorted(steps, key=lambda one: one.order)


def test_commissioning_goes_strictly_in_order(powered, builder):
    build, (first, second, third) = powered
    for later in (second, third):
        with pytest.raises(Refused, match=f"First comes {first.code}"):
            record_result(later, builder, outcome=PASSED)
    record_result(first, builder, outcome=PASSED)
    with pytest.raises(Refused, match=f"First comes {second.code}"):
        record_result(third, builder, outcome=PASSED)
    record_result(second, builder, outcome="does_not_apply", note="No such part")
    assert record_result(third, builder, outcome=PASSED).pk


def test_a_failed_test_stops_those_after_it_and_may_be_done_again(powered, builder):
    build, (first, second, _) = powered
    record_result(first, builder, outcome="failed", note="Left wheel creeps")
    with pytest.raises(Refused, match="First comes"):
        record_result(second, builder, outcome=PASSED)
    record_result(first, builder, outcome=PASSED)
    assert record_result(second, builder, outcome=PASSED).pk


def test_striking_an_early_result_opens_that_step_and_closes_the_later_ones(powered, builder):
    build, (first, second, third) = powered
    result = record_result(first, builder, outcome=PASSED)
    record_result(second, builder, outcome=PASSED)
    strike_result(result, builder, "Wrong unit")
    assert next_step(build)[0] == first
    with pytest.raises(Refused, match="First comes"):
        record_result(third, builder, outcome=PASSED)


def test_a_struck_step_keeps_nobody_waiting(powered, builder):
    build, (first, second, _) = powered
    first.strike(builder, "Not on this unit")
    assert record_result(second, builder, outcome=PASSED).pk


def test_other_sections_go_in_any_order_and_the_page_leads(build, builder):
    first, second = (BuildStepFactory(build=build, order=n) for n in (1, 2))
    assert next_step(build) == (first, None)
    record_result(second, builder, outcome=PASSED)
    assert next_step(build) == (first, None)
    record_result(first, builder, outcome=PASSED)
    assert next_step(build) == (None, None)


def test_the_next_step_says_why_it_waits(build, builder):
    teardown = BuildStepFactory(build=build, section=Section.TEARDOWN)
    step, blocked = next_step(build)
    assert step == teardown
    assert "Sound unit" in blocked.why


def test_a_blocked_step_is_refused_on_its_page(build, builder, as_person):
    step = BuildStepFactory(build=build, section=Section.TEARDOWN)
    client, address = as_person(builder), reverse("step_record", args=[build.number, step.pk])
    page = client.get(address)
    assert page.status_code == 200
    assert "Not open yet" in page.content.decode()
    assert 'name="outcome"' not in page.content.decode()
    answer = client.post(address, {"outcome": PASSED})
    assert answer.status_code == 422
    assert "The hold point Sound unit is not released." in answer.content.decode()
    assert not step.results.exists()
