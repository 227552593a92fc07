"""The proving run: line by line in order, judged against the drive map, and demanded again after a change."""

import re

import pytest
from django.db import transaction
from django.urls import reverse

from builds.demo.factories.drive import make_accepted_calibration, make_ride_settings
from builds.demo.factories.proving import good_showing, make_proving_run, record_lines, start_proving
from builds.drive import evidence, proving
from builds.engineering.proving import LINES
from builds.models import ProvingRun
from builds.record.holds import Hold
from builds.record.rules import Refused, configure
from builds.wiring.rules import strike_row
from labsite.roles import Role
from tests.builds.bench.making import let_stand
from tests.builds.wiring.making import make_planned_build
from tests.factory import make_account, make_lab

PASSED = "A passed proving run stands for this configuration"
MIRRORED = {  # what a cart with the right motor's wires exchanged shows
    "right-channel": {"seen": "right-"},
    "forward": {"left": "forward", "right": "backward"},
    "right": {"left": "forward", "right": "forward"},
}


@pytest.fixture(scope="module")
def tuned(django_db_setup, django_db_blocker):
    """People and a build that is ready to be proved; each test takes back what it changes."""
    with django_db_blocker.unblock(), transaction.atomic():
        rows = {"lab": make_lab(), "coordinator": make_account(Role.COORDINATOR, full_name="Cora Ames"),
                "builder": make_account(Role.BUILDER, full_name="Bo Lind"),
                "reviewer": make_account(Role.REVIEWER, full_name="Rhea Voss")}  # fmt: skip
        rows["build"] = build = make_planned_build(rows["coordinator"], rows["builder"])
        make_ride_settings(build, rows["coordinator"])
        make_accepted_calibration(build, rows["builder"])
        let_stand(build, rows["reviewer"], Hold.SOUND_UNIT, Hold.FIRST_POWER)
        yield rows
        transaction.set_rollback(True)


@pytest.fixture
def lab(tuned, db):
    return fresh(tuned["lab"])


@pytest.fixture
def coordinator(tuned, db):
    return fresh(tuned["coordinator"])


@pytest.fixture
def builder(tuned, db):
    return fresh(tuned["builder"])


@pytest.fixture
def reviewer(tuned, db):
    return fresh(tuned["reviewer"])


@pytest.fixture
def build(tuned, db):
    return fresh(tuned["build"])


def fresh(row):
    return type(row).objects.get(pk=row.pk)


@pytest.fixture
def proved(build, builder):
    make_proving_run(build, builder)
    return fresh(build)


def condition(build):
    found = next(one for one in evidence.report(fresh(build)).conditions if one.text == PASSED)
    return found.met, found.why


def text_of(answer):
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", answer.content.decode()))


def test_none_is_not_passed(build):
    assert condition(build) == (None, "None is recorded.")


def test_a_whole_run_as_it_must_be_passes(proved):
    assert ProvingRun.objects.get().state == "passed"
    assert condition(proved) == (True, "")


def test_a_run_that_is_not_finished_is_not_passed(build, builder):
    record_lines(start_proving(build, builder), builder, until="stop-power")
    assert ProvingRun.objects.get().state == "open"
    assert condition(build) == (False, "It is not finished.")


@pytest.mark.parametrize("line", LINES, ids=lambda one: one.code)
def test_each_single_line_fails_the_run_and_holds_the_build(build, builder, line):
    wrong = {"wheels": {"left": "backward", "right": "backward"}, "channel": {"seen": "nothing"},
             "stick": {"seen": "nothing"}, "stop": {"stopped": False, "seconds": None}}[line.kind]  # fmt: skip
    if line.code in ("backward", "backward-left", "backward-right"):
        wrong = {"left": "forward", "right": "forward"}
    run = make_proving_run(build, builder, {line.code: wrong})
    assert run.state == "failed"
    assert condition(build) == (False, "It failed.")
    found = fresh(build).nonconformances.get()
    assert found.is_open
    assert found.text.startswith(f"Proving run, {line.title}: ")


def test_the_lines_go_in_order(build, builder):
    run = start_proving(build, builder)
    with pytest.raises(Refused, match="Stick at rest for 1 minute comes next"):
        proving.record_line(run, builder, "forward", left="forward", right="forward")
    record_lines(run, builder)
    with pytest.raises(Refused, match="Every line of this run is recorded"):
        proving.record_line(run, builder, "forward", left="forward", right="forward")


def test_a_struck_line_is_asked_for_again(build, builder):
    run = make_proving_run(build, builder, {"forward": {"left": "still", "right": "forward"}})
    proving.strike_line(run.lines.get(code="forward"), builder, "The left wheel was looked at too late")
    run.refresh_from_db()
    assert (run.state, proving.next_line(run).code) == ("open", "forward")
    proving.record_line(run, builder, "forward", left="forward", right="forward")
    run.refresh_from_db()
    assert run.state == "passed"


@pytest.mark.parametrize(
    ("settings", "told"),
    [({"turn_gain": None}, "Turn gain or reverse gain"), ({"reverse_gain": None}, "Turn gain or reverse gain"),
     ({"side": "unknown"}, "The side of the control is unknown")],
)  # fmt: skip
def test_no_run_begins_while_nothing_says_what_must_be_seen(build, builder, settings, told):
    configure(build, builder, "Not known", **settings)
    with pytest.raises(Refused, match=told):
        start_proving(fresh(build), builder)


def test_no_run_begins_before_first_power(build, builder):
    build.hold_decisions.filter(hold=Hold.FIRST_POWER).delete()
    with pytest.raises(Refused, match="First power is not released"):
        start_proving(fresh(build), builder)


def test_one_run_at_a_time(build, builder):
    run = start_proving(build, builder)
    with pytest.raises(Refused, match="A run is not finished yet"):
        start_proving(fresh(build), builder)
    proving.strike_run(run, builder, "The wheels touched the floor")
    assert start_proving(fresh(build), builder)


def rewire(build, builder):
    strike_row(build.wire_runs.get(code="W5"), builder, "Another motor lead")


def new_ends(build, builder):
    run = build.wire_runs.get(code="W6")
    run.end = "Motor on the occupant's right, minus"
    run.save(update_fields=["end"])


CHANGES = {
    "side": lambda build, who: configure(build, who, "Arm moved", side="right", shoulder_place=None,
                                         control_place=None),
    "calibration": lambda build, who: make_accepted_calibration(build, who, x_rest=500.0),
    "setting": lambda build, who: configure(build, who, "Slower turns", turn_gain=0.5),
    "rewire": rewire,
    "ends of a wire": new_ends,
}  # fmt: skip
SAYS = {"side": "side was Occupant's left", "calibration": "fit was", "setting": "turn gain was 0.7, now 0.5",
        "rewire": "was taken away", "ends of a wire": "end was"}  # fmt: skip


@pytest.mark.parametrize("change", list(CHANGES))
def test_it_is_demanded_again_after(proved, builder, change):
    CHANGES[change](proved, builder)
    run = ProvingRun.objects.get()
    assert run.voided_at is not None
    assert any(SAYS[change] in line for line in run.void_changes), run.void_changes
    met, why = condition(proved)
    assert met is False
    assert why.startswith("The last one is void: ")


def test_coming_back_to_the_side_does_not_bring_it_back(proved, builder):
    configure(proved, builder, "Arm moved", side="right", shoulder_place=None, control_place=None)
    configure(fresh(proved), builder, "And back", side="left")
    assert condition(proved)[0] is False


@pytest.mark.parametrize("settings", [{"seat": "Foam wedge"}, {"mount": "Another clamp"}, {"purpose": "training"}])
def test_what_does_not_steer_leaves_it_standing(proved, builder, settings):
    configure(proved, builder, "Softer", **settings)
    assert condition(proved) == (True, "")


def test_a_void_run_goes_no_further_and_another_one_begins(build, builder):
    run = record_lines(start_proving(build, builder), builder, until="forward")
    configure(fresh(build), builder, "Slower turns", turn_gain=0.5)
    with pytest.raises(Refused, match="This run is void or struck"):
        proving.record_line(run, builder, "forward", left="forward", right="forward")
    assert make_proving_run(fresh(build), builder).state == "passed"
    assert condition(build) == (True, "")


def test_first_ride_goes_void_when_the_run_is_struck(proved, builder, reviewer):
    let_stand(fresh(proved), reviewer, Hold.FIRST_RIDE)
    proving.strike_run(ProvingRun.objects.get(), builder, "The wheels touched the floor")
    ride = fresh(proved).hold_decisions.get(hold=Hold.FIRST_RIDE)
    assert "Proving run was taken away" in ride.void_changes


def test_whoever_recorded_a_line_did_work(build, builder, other_builder):
    run = record_lines(start_proving(build, builder), builder, until="stop-power")
    proving.record_line(run, other_builder, "stop-power", stopped=True, seconds=0.2)
    assert other_builder.pk in evidence.report(fresh(build)).workers


def test_a_failed_run_leads_to_the_fault_finding_with_what_it_showed(page, build, builder, as_person):
    make_proving_run(build, builder, MIRRORED)
    text = page.get("proving_runs").content.decode()
    address = re.search(r'href="([^"]*fault-finding/\?[^"]*)"', text)[1].replace("&amp;", "&")
    for part in ("forward=spins-right", "right=forward", "right_channel=right-", "left_channel=left%2B"):
        assert part in address
    answer = as_person(builder).get(address)
    assert [one.faults for one in answer.context["causes"]] == [("right polarity reversed",)]


def test_a_run_through_the_pages(page, build):
    assert page.post("proving_new", data={"supply": ""}).status_code == 422
    answer = page.post("proving_new", data={"supply": "Bench supply, limited to 2 A"})
    run = ProvingRun.objects.get()
    assert answer.url == reverse("proving_line", args=[build.number, run.pk])
    for line in LINES:
        shown = page.get("proving_line", run.pk)
        assert f"<h1>{line.title}" in shown.content.decode().replace("&#x27;", "'")
        data = {name: value for name, value in good_showing(line, run.configuration).items() if value is not None}
        if line.kind == "stop":
            data["stopped"] = "yes"
        assert page.post("proving_line", run.pk, data={**data, "line": line.code}).status_code == 302
    run.refresh_from_db()
    assert run.state == "passed"
    assert "Passed" in text_of(page.get("proving_runs"))


def test_a_page_opened_for_another_line_records_nothing(page, build, builder):
    run = record_lines(start_proving(build, builder), builder, until="forward")
    answer = page.post("proving_line", run.pk, data={"line": "rest", "left": "still", "right": "still"})
    assert answer.status_code == 302
    assert not run.lines.filter(code="forward").exists()


def test_a_stop_without_its_time_is_asked_for_it(page, build, builder):
    run = record_lines(start_proving(build, builder), builder, until="stop-release")
    answer = page.post("proving_line", run.pk, data={"stopped": "yes"})
    assert answer.status_code == 422
    assert "Enter the time to stop" in str(answer.context["form"].errors)


def test_the_page_says_why_no_run_may_begin(page, build):
    build.hold_decisions.filter(hold=Hold.FIRST_POWER).delete()
    assert "The hold point First power is not released." in text_of(page.get("proving_runs"))


def test_the_ticket_leads_to_the_run(page, build, as_person, builder):
    text = as_person(builder).get(reverse("ticket", args=[build.number])).content.decode()
    assert reverse("proving_runs", args=[build.number]) in text
    assert "none stands" in text
