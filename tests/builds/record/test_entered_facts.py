"""Who entered a fact of a unit, its type, a battery or a charger releases no hold point that judges it."""

from datetime import timedelta

import pytest
from auditlog.context import set_actor
from auditlog.models import LogEntry
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from builds.demo.factories.parts import BatteryFactory, TwoMotorTypeFactory
from builds.models import BaseUnit, BaseUnitType, Battery, Build, Charger, HoldDecision, Nonconformance
from builds.parts.entered import facts
from builds.record import nonconformances, registry, releasing, rules, voids
from builds.record.holds import Hold
from labsite.roles import Role
from tests.builds.record.changers import CHANGERS
from tests.factory import make_account

pytestmark = pytest.mark.django_db

SHARED = (BaseUnitType, BaseUnit, Battery, Charger)
POWER = {Hold.FIRST_POWER, Hold.FIRST_RIDE, Hold.HAND_OFF}
RIDE = {Hold.SOUND_UNIT, Hold.FIRST_RIDE, Hold.HAND_OFF}
MOTORS = {Hold.FIRST_POWER, Hold.FIRST_RIDE}


@pytest.fixture
def build(case):
    return case.build


@pytest.fixture
def both():
    """A small lab: who keeps the lists also reviews."""
    return make_account(Role.REVIEWER, is_coordinator=True)


def fresh(build):
    return Build.objects.get(pk=build.pk)


def enter(account, row, **values):
    with set_actor(account):
        for name, value in values.items():
            setattr(row, name, value)
        row.save(update_fields=list(values))


def why_not(build, account, hold):
    build = fresh(build)
    return releasing.why_not(build, account, registry.reports(build), hold)


def refused(build, account):
    """The hold points that this person may not release."""
    return {hold for hold in Hold if why_not(build, account, hold)}


def battery(build):
    return build.configuration().battery


def charger(build):
    return build.configuration().charger


def kind(build):
    return build.unit.type


@pytest.mark.parametrize(
    ("find", "column", "value", "holds"),
    [
        (kind, "rated_load_kg", 31.0, RIDE),
        (kind, "own_mass_kg", 15.0, {Hold.FIRST_RIDE, Hold.HAND_OFF}),
        (kind, "own_place", [0.3, 0.0, 0.2], {Hold.FIRST_RIDE}),
        (kind, "track_m", 0.5, {Hold.FIRST_RIDE}),
        (kind, "layout", "one-rear", {Hold.FIRST_RIDE}),
        (kind, "battery_voltage_v", 24.0, MOTORS),
        (kind, "wheel_diameter_m", 0.3, set()),  # no condition reads it
        (kind, "charger_current_a", 1.0, set()),
        (lambda build: build.unit, "recall", "remedied", RIDE),
        (lambda build: build.unit, "cost", "12.00", set()),
        (battery, "chemistry", "li_ion", set(Hold)),
        (battery, "voltage_v", 24.0, POWER),
        (battery, "capacity_ah", 9.0, POWER),
        (battery, "peukert", 1.3, set()),
        (charger, "chemistry", "li_ion", set(Hold)),
        (charger, "current_a", 1.0, POWER),
        (charger, "stops_by_itself", "no", POWER),
        (charger, "light_full", "blue", {Hold.HAND_OFF}),
    ],
)
def test_who_enters_a_fact_releases_no_hold_point_that_judges_it(build, both, find, column, value, holds):
    enter(both, find(build), **{column: value})
    assert refused(build, both) == holds
    assert refused(build, make_account(Role.REVIEWER)) == set()


def test_every_fact_of_a_shared_row_that_voids_is_known_to_its_author(build):
    """Whatever a change of such a row voids, its author does not release."""
    known = {(fact.row, fact.column): fact.holds for fact in facts(build)}
    seen = set()
    for (kind_, field), changer in CHANGERS.items():
        row, values = changer(build)
        if isinstance(row, SHARED):
            for column in values:
                seen.add(type(row))
                assert voids.judged_by(kind_, field) <= known[row, column], (kind_, field, column)
    assert seen == set(SHARED)


def test_every_fact_that_is_named_has_its_line_in_the_table(build):
    assert all(fact.holds for fact in facts(build))


def test_the_sentence_tells_what_was_entered_and_when_on_the_page_and_at_the_release(build, both, as_person):
    enter(both, battery(build), voltage_v=12.5)
    enter(both, battery(build), capacity_ah=11.0)
    enter(both, kind(build), track_m=0.45)
    said = why_not(build, both, Hold.FIRST_POWER)
    assert said.startswith("You entered or changed facts that First power judges: battery BAT-")
    assert "(voltage, capacity; last on " in said and "track" not in said
    assert said.endswith("Somebody who did not must release it.")
    HoldDecision.objects.filter(build=build).delete()
    page = as_person(both).get(reverse("hold_point", args=[build.number, Hold.FIRST_POWER])).content.decode()
    assert said in page
    assert "Release" not in [one.strip() for one in page.replace("<", ">").split(">")]
    with pytest.raises(rules.Refused) as refusal:
        releasing.release(fresh(build), Hold.FIRST_POWER, both)
    assert str(refusal.value) == said


def test_who_entered_it_long_before_and_though_others_changed_it_since_does_not_release(build, both):
    other = make_account(Role.COORDINATOR, is_reviewer=True)
    enter(both, kind(build), rated_load_kg=31.0)
    LogEntry.objects.filter(actor=both).update(timestamp=build.made_at - timedelta(days=900))
    enter(other, kind(build), rated_load_kg=30.0)
    assert refused(build, both) == refused(build, other) == RIDE


def test_who_makes_the_row_entered_what_stands_in_it_and_not_what_was_left_open(case, build, both):
    maker, filler = both, make_account(Role.REVIEWER, is_coordinator=True)
    with set_actor(maker):
        made = BatteryFactory(chemistry="unknown", voltage_v=None)
    enter(filler, made, chemistry="lead_acid", voltage_v=12.0)
    rules.configure(build, case.crew.coordinator, "Another battery", battery=made)
    assert Hold.SOUND_UNIT in refused(build, filler)
    assert refused(build, maker) == POWER  # its capacity is in the words of the maker


def test_a_battery_that_the_build_does_not_use_any_more_is_nobodys_work_on_it(case, build, both):
    enter(both, battery(build), voltage_v=12.5)
    rules.configure(build, case.crew.coordinator, "Another battery", battery=BatteryFactory())
    assert refused(build, both) == set()


@pytest.mark.parametrize("column", ["motor_stall_a", "motor_running_a", "motors"])
def test_the_currents_of_the_motors_count_as_far_as_the_harness_was_copied_from_them(build, both, column):
    before = getattr(kind(build), column)
    enter(both, kind(build), **{column: before + 1})
    assert refused(build, both) == set(), "the harness has the currents of the day when it was copied"
    LogEntry.objects.filter(actor=both).update(timestamp=build.made_at - timedelta(days=1))
    assert refused(build, both) == MOTORS


def test_where_a_plan_gives_the_currents_itself_those_of_the_type_are_not_read(build, both):
    enter(both, kind(build), motor_stall_a=30.0)
    LogEntry.objects.filter(actor=both).update(timestamp=build.made_at - timedelta(days=1))
    content = build.plan_revision.content
    for row in (*content["wire_runs"], *content["switching_parts"]):
        row["amperes_from"] = None
    build.plan_revision.save(update_fields=["content"])
    assert refused(build, both) == set()


def test_another_type_for_the_unit_is_a_fact_too(build, both):
    enter(both, build.unit, type=TwoMotorTypeFactory(name="Two-motor ride-on, 12 V, two seats"))
    assert refused(build, both) == RIDE


def test_who_entered_a_fact_uses_nothing_as_it_is(case, build, both):
    enter(both, kind(build), rated_load_kg=31.0)
    found = Nonconformance.objects.create(build=build, text="Heavier than its rated load", made_by=case.crew.second)
    with pytest.raises(rules.Refused, match="entered no facts"):
        nonconformances.dispose(found, both, disposition="use_as_is", cause="Not found", fix="Nothing")


def test_a_long_trail_is_read_at_once(build, both, as_person):
    address = reverse("hold_point", args=[build.number, Hold.FIRST_POWER])
    person = as_person(make_account(Role.REVIEWER))
    person.get(address)
    enter(both, kind(build), rated_load_kg=31.0)
    counts = []
    for count in (1, 9):
        for number in range(count):
            enter(both, battery(build), voltage_v=12.1 + number / 10)
            enter(both, charger(build), voltage_v=12.1 + number / 10)
        with CaptureQueriesContext(connection) as asked:
            person.get(address)
        counts.append(len(asked))
    assert counts[0] == counts[1]
