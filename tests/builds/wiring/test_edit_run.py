"""Changing, adding and striking rows of the harness."""

import pytest

from builds.demo.factories.wiring import WireRunFactory
from builds.models import WireRun
from builds.wiring.deviation import differences
from tests.builds.wiring.making import typed


@pytest.fixture
def run(build):
    return build.wire_runs.get(code="W3")


def sent(page, run, **changes):
    form = page.get("wire_run_edit", run.pk).context["form"]
    return page.post("wire_run_edit", run.pk, data={**typed(form), **changes})


def test_a_thinner_wire_is_a_deviation_and_needs_a_reason(page, run):
    answer = sent(page, run, gauge="18 AWG")
    assert answer.status_code == 422
    assert "Gauge: 10 AWG in the plan, 18 AWG now" in answer.content.decode()
    run.refresh_from_db()
    assert run.gauge == "10 AWG"


def test_a_deviation_keeps_its_reason_its_person_and_the_plans_words(page, run, builder):
    answer = sent(page, run, gauge="8 awg", deviation_reason="No 10 AWG in stock")
    assert answer.status_code == 302
    run.refresh_from_db()
    assert (run.gauge, run.deviation_by, run.planned["gauge"]) == ("8 AWG", builder, "10 AWG")
    assert "Gauge: 10 AWG in the plan, 8 AWG now" in page.get("harness").content.decode()


def test_filling_in_what_the_plan_left_unknown_is_no_deviation(page, run):
    run.planned["length_m"] = None
    run.length_m = None
    run.save(update_fields=["planned", "length_m"])
    assert sent(page, run, length_m="2 ft 4 in").status_code == 302
    run.refresh_from_db()
    assert run.length_m == pytest.approx(0.7112)
    assert differences(run) == []


def test_a_second_deviation_needs_its_own_reason(page, run):
    sent(page, run, gauge="8 AWG", deviation_reason="No 10 AWG in stock")
    assert sent(page, run, colour="green").status_code == 422
    assert sent(page, run, colour="green", deviation_reason="No 10 AWG, and red ran out").status_code == 302


def test_saving_without_a_change_keeps_the_exact_value(page, run):
    run.length_m = run.planned["length_m"] = 0.123456789
    run.save(update_fields=["length_m", "planned"])
    assert sent(page, run).status_code == 302
    run.refresh_from_db()
    assert run.length_m == 0.123456789


def test_an_added_run_needs_a_reason(page, build):
    new = {"code": "W60", "start": "Fuse F1", "end": "Lamp", "role": "power", "motor_circuit": "no", "side": "both",
           "in_arm": "no", "spliced": "no", "termination_start": "crimp", "termination_end": "crimp"}  # fmt: skip
    assert page.post("wire_run_new", data=new).status_code == 422
    assert page.post("wire_run_new", data={**new, "deviation_reason": "A lamp"}).status_code == 302
    run = build.wire_runs.get(code="W60")
    assert (run.planned, run.gauge, run.length_m) == (None, "", None)
    assert "Added to the plan" in page.get("harness").content.decode()


def test_a_code_is_used_once_in_a_build(page, run):
    answer = sent(page, run, code="w4", deviation_reason="Renamed")
    assert "w4 is in use on this build" in answer.content.decode()


@pytest.mark.parametrize(
    ("name", "value", "told"),
    [
        ("gauge", "14", "AWG or mm^2"),
        ("gauge", "44 AWG", "from 4/0 AWG to 30 AWG"),
        ("length_m", "2 kg", "must be a length"),
        ("length_m", "0", "or more"),
        ("length_m", "2 km", "or less"),
        ("length_m", "nan", "must be a length"),
        ("running_a", "-3", "or more"),
        ("running_a", "5 V", "must be a current"),
        ("stall_a", "1e9 A", "or less"),
        ("conductor_c", "hot", "must be a temperature"),
        ("insulation_c", "900 degC", "or less"),
        ("bundle", "0", "from 1 to 500"),
        ("bundle", "two", "whole number"),
        ("start", "", "Enter"),
        ("start", "x" * 100_000, "120 characters or fewer"),
        ("colour", "red\x00", "cannot be kept"),
        ("role", "both", "Choose"),
    ],
)
def test_what_cannot_be_is_refused_in_words(page, run, name, value, told):
    answer = sent(page, run, **{name: value, "deviation_reason": "Trying"})
    assert answer.status_code == 422
    assert told in answer.content.decode()
    run.refresh_from_db()
    assert run.deviation_reason == ""


def test_a_second_tab_is_told_what_changed(page, run):
    opened = typed(page.get("wire_run_edit", run.pk).context["form"])
    sent(page, run, gauge="8 AWG", deviation_reason="No 10 AWG in stock")
    late = page.post("wire_run_edit", run.pk, data={**opened, "colour": "green", "deviation_reason": "Ran out"})
    assert late.status_code == 422
    assert "Gauge is now 8 AWG (it was 10 AWG when this page was opened)" in late.content.decode()


def test_a_struck_run_stays_readable_with_its_reason(page, run, build):
    assert page.post("wire_run_strike", run.pk, data={"reason": ""}).status_code == 422
    assert page.post("wire_run_strike", run.pk, data={"reason": "Not needed here"}).status_code == 302
    assert "Not needed here" in page.get("harness").content.decode()
    assert page.get("wire_run_edit", run.pk).status_code == 404
    assert WireRun.objects.filter(build=build, code="W3").exists()


def test_a_fuse_that_protects_runs_is_not_struck(page, build):
    fuse = build.fuses.get(code="F1")
    answer = page.post("wire_fuse_strike", fuse.pk, data={"reason": "Out"})
    assert answer.status_code == 422
    assert "protects W1" in answer.content.decode()


def test_a_fuse_and_a_part_are_added_and_changed(page, build):
    fuse = {"code": "F9", "rating_a": "5 A", "distance_m": "4 in", "sheathed": "no", "deviation_reason": "Lamp"}
    assert page.post("wire_fuse_new", data=fuse).status_code == 302
    assert build.fuses.get(code="F9").distance_m == pytest.approx(0.1016)
    run = WireRunFactory(build=build)
    part = {"code": "S9", "name": "Lamp switch", "kind": "switch", "runs": [run.pk], "motor_circuit": "no",
            "rating_dc_a": "", "stall_a": "", "deviation_reason": "Lamp"}  # fmt: skip
    assert page.post("switching_part_new", data=part).status_code == 302
    made = build.switching_parts.get(code="S9")
    assert (made.rating_dc_a, list(made.runs.all())) == (None, [run])
    form = page.get("switching_part_edit", made.pk).context["form"]
    assert page.post("switching_part_edit", made.pk, data={**typed(form), "rating_dc_a": "20 A"}).status_code == 302
    made.refresh_from_db()
    assert (made.rating_dc_a, list(made.runs.all())) == (20, [run])


def test_taking_a_part_out_of_a_run_is_a_deviation(page, build):
    part = build.switching_parts.get(code="S1")
    form = page.get("switching_part_edit", part.pk).context["form"]
    runs = [build.wire_runs.get(code="W2").pk]
    answer = page.post("switching_part_edit", part.pk, data={**typed(form), "runs": runs})
    assert "In the runs: W2, W3 in the plan, W2 now" in answer.content.decode()


def test_the_plan_as_copied_has_no_deviation(build):
    rows = [*build.wire_runs.all(), *build.fuses.all(), *build.switching_parts.all()]
    assert [str(one) for row in rows for one in differences(row)] == []
