"""What First power asks of the harness, and what voids it."""

import pytest
from django.db import connection
from django.db.models import prefetch_related_objects
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from builds.demo.factories.parts import make_one_motor_unit, make_toy_unit
from builds.demo.factories.wiring import WireRunFactory, measure_harness
from builds.models import HoldDecision, WireCheck
from builds.record import registry, releasing, rules, voids
from builds.record.holds import Hold
from builds.wiring import evidence
from labsite.roles import Role
from tests.builds.wiring.making import fresh, make_planned_build, tick_runs
from tests.factory import make_account

SECOND = WireCheck.Round.SECOND


@pytest.fixture
def checker(build):
    account = make_account(Role.BUILDER, full_name="Ida Moss")
    build.builders.add(account)
    return account


@pytest.fixture
def made(build, builder, checker):
    """The harness as the plan has it, measured and checked by both persons."""
    measure_harness(build)
    tick_runs(build, builder)
    tick_runs(build, checker, SECOND)
    return build


@pytest.fixture
def only_wiring(monkeypatch, build):
    """First power as its only hold point, asked by the record and the harness alone."""
    rooms = {name: room for name, room in registry._rooms.items() if name in ("record", "wiring")}
    monkeypatch.setattr(registry, "_rooms", rooms)
    build.hold_points = [Hold.FIRST_POWER]
    build.save(update_fields=["hold_points"])


@pytest.fixture
def released(only_wiring, made, reviewer):
    return releasing.release(fresh(made), Hold.FIRST_POWER, reviewer)


def conditions(build):
    return {one.text: one for one in evidence.report(fresh(build)).conditions}


def unmet(build):
    return {text: one.why for text, one in conditions(build).items() if one.met is not True}


def test_nothing_is_met_before_the_checks(build):
    found = conditions(build)
    of_runs = [one for text, one in found.items() if "checked" in text or "every wire run" in text.lower()]
    assert len(of_runs) == 6
    assert all(one.met is not True for one in of_runs)
    assert all(one.url for one in found.values())


def test_a_made_and_checked_harness_meets_every_clause(made):
    assert unmet(made) == {}
    assert len(conditions(made)) == 12


UNIT_OF = {"press-switch": make_one_motor_unit, "switch-socket": make_toy_unit}


@pytest.mark.parametrize("plan", UNIT_OF)
def test_the_other_plans_as_written_meet_every_clause_too(coordinator, builder, checker, plan):
    build = make_planned_build(coordinator, builder, plan=plan, unit=UNIT_OF[plan]())
    measure_harness(build)
    tick_runs(build, builder)
    tick_runs(build, checker, SECOND)
    assert unmet(build) == {}


def test_an_empty_harness_meets_nothing_that_speaks_of_runs(build):
    build.switching_parts.all().delete()
    build.wire_runs.all().delete()
    met = [text for text, one in conditions(build).items() if one.met]
    assert met == ["No 3.5 mm plug carries motor current"]


@pytest.mark.parametrize(
    ("code", "changes", "clause", "why"),
    [
        ("W5", {"termination_end": "unknown"}, "terminated at both ends", "W5"),
        ("W5", {"label_end": ""}, "labelled at both ends", "W5"),
        ("W11", {"spliced": "yes"}, "No splice lies in a flexing arm", "W11"),
        ("W11", {"spliced": "unknown"}, "No splice lies in a flexing arm", "W11"),
        ("W5", {"fuse": None}, "sized to the thinnest wire", "Wire run W5: fuse of a power wire"),
        ("W5", {"fuse": None, "role": "control"}, "sized to the thinnest wire", "Wire run W5: fuse of a power wire"),
        ("W5", {"gauge": "16 AWG", "bundle": 7}, "sized to the thinnest wire", "Fuse F1: fuse against"),
        ("W5", {"running_a": None}, "No wiring finding says stop", "Wire run W5: voltage drop"),
        ("W11", {"termination_end": "crimp_on_tinned"}, "No wiring finding says stop", "Wire run W11: termination"),
        ("W5", {"colour": "green"}, "A second person has checked", "W5"),
    ],
)
def test_each_clause_names_the_runs_that_fail_it(made, builder, code, changes, clause, why):
    run = made.wire_runs.get(code=code)
    for name, value in changes.items():
        setattr(run, name, value)
    run.save(update_fields=list(changes))
    found = {text: said for text, said in unmet(made).items() if clause in text}
    assert len(found) == 1
    assert why in next(iter(found.values()))


def test_a_fuse_too_far_from_the_battery_is_named(made):
    fuse = made.fuses.get(code="F1")
    fuse.distance_m = 0.3
    fuse.save(update_fields=["distance_m"])
    assert any("178 mm" in text and "F1" in why for text, why in unmet(made).items())


@pytest.mark.parametrize("rating", [None, 20.0])
def test_a_contact_not_rated_for_the_stall_current_is_named(made, rating):
    part = made.switching_parts.get(code="S1")
    part.rating_dc_a = rating
    part.save(update_fields=["rating_dc_a"])
    assert any("rated in direct current" in text and "S1" in why for text, why in unmet(made).items())


def test_a_plug_with_motor_current_is_named(made):
    part = made.switching_parts.get(code="S1")
    part.kind = "plug"
    part.save(update_fields=["kind"])
    assert any("3.5 mm plug" in text and "S1" in why for text, why in unmet(made).items())


def test_a_difference_between_the_persons_is_unmet(made, checker):
    from builds.demo.factories.wiring import ALL_RIGHT
    from builds.wiring.checks import run_digest
    from builds.wiring.rules import record_check

    run = made.wire_runs.get(code="W5")
    record_check(run, checker, SECOND, {**ALL_RIGHT, "polarity": "not_seen"}, seen_digest=run_digest(run))
    assert any("agrees" in text and "W5" in why for text, why in unmet(made).items())
    assert any("polarity" in text and "W5" in why for text, why in unmet(made).items())


def test_no_clause_tells_the_first_ticks_before_the_second_round_is_whole(build, builder):
    measure_harness(build)
    tick_runs(build, builder)
    told = [(one.text, one.met, one.why) for one in conditions(build).values()]
    WireCheck.objects.update(polarity="wrong", continuity="not_seen")
    assert [(one.text, one.met, one.why) for one in conditions(build).values()] == told


def test_the_evidence_has_exactly_the_fields_of_the_table(made):
    known = voids.known_fields()
    found = evidence.report(fresh(made)).evidence
    assert {one.kind for one in found} == {"wire-run", "fuse", "switching-part", "wire-check", "harness"}
    assert all(set(one.fields) == known[one.kind] for one in found)


def test_the_workers_are_the_first_checkers_and_who_departed_from_the_plan(made, builder, checker, coordinator):
    run = made.wire_runs.get(code="W5")
    run.deviation_by = coordinator
    run.save(update_fields=["deviation_by"])
    assert evidence.report(fresh(made)).workers == {builder.pk, coordinator.pk}


def test_the_report_asks_the_database_as_often_however_long_the_harness(made):
    def queries():
        build = fresh(made)
        prefetch_related_objects([build], "configurations__battery")
        with CaptureQueriesContext(connection) as asked:
            prefetch_related_objects([build], *evidence.TICKET_PREFETCH)
            evidence.report(build)
        return len(asked)

    before = queries()
    for _ in range(5):
        WireRunFactory(build=made, fuse=made.fuses.first())
    assert (before, queries()) == (5, 5)  # the lab among them; within a request it is read already


def test_the_harness_page_asks_the_same_number_of_times_for_one_run_and_for_sixty(made, as_person, coordinator):
    browser, address = as_person(coordinator), reverse("harness", args=[made.number])

    def queries():
        with CaptureQueriesContext(connection) as asked:
            assert browser.get(address).status_code == 200
        return len(asked)

    many_first = queries()
    for _ in range(60 - made.wire_runs.count()):
        WireRunFactory(build=made, fuse=made.fuses.first(), deviation_by=coordinator)
    assert queries() == many_first


def test_a_released_first_power_is_void_once_a_gauge_changes(released, made, as_person, builder):
    from tests.builds.wiring.making import typed

    assert released.stands(released.made_at.date())
    run = made.wire_runs.get(code="W3")
    browser, address = as_person(builder), reverse("wire_run_edit", args=[made.number, run.pk])
    sent = {**typed(browser.get(address).context["form"]), "gauge": "18 AWG", "deviation_reason": "Ran out"}
    assert browser.post(address, sent).status_code == 302
    void = HoldDecision.objects.get(pk=released.pk)
    assert "Wire run W3: gauge was 10 AWG, now 18 AWG" in void.void_changes
    others = [line for line in void.void_changes if not line.startswith("Wire run W3: gauge")]
    checks = [line.partition(" was")[0] for line in others]
    assert checks == ["Checks of wire run W3: first", "Checks of wire run W3: second"]
    assert void.voided_by == builder


def change_fuse(build):
    fuse = build.fuses.get(code="F1")
    fuse.rating_a = 15.0
    fuse.save(update_fields=["rating_a"])


def change_part(build):
    part = build.switching_parts.get(code="S1")
    part.rating_dc_a = 90.0
    part.save(update_fields=["rating_dc_a"])


def unlink_part(build):
    build.switching_parts.get(code="S1").runs.remove(build.wire_runs.get(code="W2"))


def unlink_from_the_run(build):
    build.wire_runs.get(code="W2").switching_parts.clear()


def strike_run(build):
    build.wire_runs.get(code="W9").strike(build.builders.first(), "Not fitted")


def strike_check(build):
    build.wire_runs.get(code="W5").checks.first().strike(build.builders.first(), "Wrong run")


def check_again_differently(build):
    row = build.wire_runs.get(code="W5").checks.get(round="first")
    row.pk, row.polarity = None, "wrong"
    row.save(force_insert=True)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (change_fuse, "Fuse F1: rating was 20 A, now 15 A"),
        (change_part, "Switch S1: rating was 100 A, now 90 A"),
        (unlink_part, "Switch S1: runs was W2, W3, now W3"),
        (unlink_from_the_run, "Switch S1: runs was W2, W3, now W3"),
        (strike_run, "Wire run W9 was taken away"),
        (strike_check, "Checks of wire run W5: first was"),
        (check_again_differently, "Checks of wire run W5: first was"),
        (lambda build: WireRunFactory(build=build, code="W70"), "Wire run W70 was added"),
    ],
)
def test_every_kind_of_evidence_voids_first_power(released, made, change, says):
    change(made)
    void = HoldDecision.objects.get(pk=released.pk)
    assert void.voided_at is not None
    assert any(line.startswith(says) for line in void.void_changes), void.void_changes


def test_the_reviewer_who_made_the_first_check_does_not_release(only_wiring, made, builder):
    builder.is_reviewer = True
    builder.save(update_fields=["is_reviewer"])
    with pytest.raises(rules.Refused, match="You did work on this build"):
        releasing.release(fresh(made), Hold.FIRST_POWER, builder)
