"""The starts that the charging guide lists: each with its end worked out, none after the latest, at most four."""

from datetime import datetime, time, timedelta

import pytest

from builds.engineering import charging as engineering
from builds.engineering.charging import charge_plan
from builds.papers.charging import MOST_STARTS, charge_words, starts
from builds.papers.facts import Facts
from builds.parts.lasting import charging

DAY = datetime(2001, 1, 1)


def pairs(wake, sleep, capacity_ah=12):
    plan = charge_plan(
        capacity_ah=capacity_ah, discharged=1, charger_a=1.5, factor=1.2, plug_in=wake, wake=wake, sleep=sleep
    )
    return plan, starts(plan)


def after(start, moment):
    return (datetime.combine(DAY, moment) - datetime.combine(DAY, start)) % timedelta(days=1)


# 12 Ah from empty x 1.2 / 1.5 A = 9.6 h, up to the half hour 10 h.
@pytest.mark.parametrize(
    ("wake", "sleep", "count"),
    [
        (time(6, 30), time(16, 30), 1),
        (time(6, 30), time(17), 1),
        (time(6, 30), time(17, 30), 2),
        (time(6, 30), time(22, 30), 4),
        (time(7), time(1), 3),
    ],
)
def test_every_start_ends_ten_hours_later_and_before_bed(wake, sleep, count):
    plan, listed = pairs(wake, sleep)
    assert len(listed) == count
    assert listed[0][0] == wake
    for plug_in, take_off in listed:
        assert after(plug_in, take_off) == timedelta(hours=10)
        assert after(wake, plug_in) <= after(wake, plan.latest_plug_in)


def test_a_short_charge_lists_no_more_than_four():
    _, listed = pairs(time(6), time(23), capacity_ah=2)
    assert len(listed) <= MOST_STARTS


def test_the_guide_and_the_ticket_charge_alike(ready, monkeypatch):
    """One factor and one choice of the hour: what changes on the ticket changes on the paper."""
    usual = charge_words(Facts(ready)).longest
    monkeypatch.setattr(engineering, "CHARGE_FACTOR", 1.0)
    facts = Facts(ready)
    assert charge_words(facts).longest != usual
    assert charge_words(facts).findings == charging(ready, facts.battery, facts.charger)
