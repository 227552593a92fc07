"""Charging, storing and emptying batteries, and the family's charge plan."""

from datetime import time
from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builds.engineering.battery import (
    DAYS_A_MONTH,
    charge_time,
    charger_window,
    chemistry_agrees,
    runtime,
    standby_drain,
)
from builds.engineering.charging import charge_plan, home_charge
from builds.engineering.finding import CHECK, FITS, STOP, UNKNOWN, EngineeringError

CHARGE = {"capacity_ah": 12, "discharged": 0.5, "charger_a": 1.2, "factor": 1.2}
DAY = {"plug_in": time(15, 30), "wake": time(7), "sleep": time(22)}


@given(st.floats(0.5, 200), st.floats(0.01, 1), st.floats(0.1, 20), st.floats(1, 2))
def test_hours_are_rounded_up_to_the_half_hour(capacity, discharged, charger, factor):
    charge = charge_time(capacity_ah=capacity, discharged=discharged, charger_a=charger, factor=factor)
    assert charge.hours_rounded == ceil(2 * charge.hours - 1e-6) / 2
    assert -1e-6 < charge.hours_rounded - charge.hours < 0.5 + 1e-6


@pytest.mark.parametrize("name", list(CHARGE))
def test_an_unknown_makes_the_charge_unknown(name):
    charge = charge_time(**{**CHARGE, name: None})
    assert (charge.hours, charge.hours_rounded, charge.findings[1].verdict) == (None, None, UNKNOWN)


@pytest.mark.parametrize(
    ("charger", "verdict"), [(1.19, CHECK), (1.2, FITS), (3.0, FITS), (3.01, CHECK), (None, UNKNOWN)]
)
def test_the_charger_lies_within_its_window(charger, verdict):
    assert charger_window(12, charger).verdict == verdict


@pytest.mark.parametrize("case", [{"discharged": 1.1}, {"discharged": -0.1}, {"factor": 0.9}, {"charger_a": 0}])
def test_nonsense_is_refused(case):
    with pytest.raises(EngineeringError):
        charge_time(**{**CHARGE, **case})


def stored_charge(days, capacity, drain, lost_percent, steps=4000):
    """Charge left, stepped through the days by the midpoint rule: a witness that knows no closed form."""
    from math import log

    rate, step, charge = -log(1 - lost_percent / 100) / DAYS_A_MONTH, days / steps, capacity
    for _ in range(steps):
        middle = charge - (charge * rate + drain * 24) * step / 2
        charge -= (middle * rate + drain * 24) * step
    return charge


@pytest.mark.parametrize(("capacity", "drain", "lost"), [(12, 0.005, 3), (7, 0.02, 0), (100, 0.001, 15), (12, 0.5, 3)])
def test_days_in_storage_agree_with_stepping_through_them(capacity, drain, lost):
    stored = standby_drain(capacity_ah=capacity, drain_a=drain, self_discharge_percent=lost)
    assert stored_charge(stored.days_to_half, capacity, drain, lost) == pytest.approx(capacity / 2, rel=1e-5)
    assert stored_charge(stored.days_to_empty, capacity, drain, lost) == pytest.approx(0, abs=capacity * 1e-5)


def test_without_any_drain_it_never_reaches_nothing():
    stored = standby_drain(capacity_ah=12, drain_a=0, self_discharge_percent=3)
    assert stored.days_to_empty is None
    assert [finding.verdict for finding in stored.findings] == [FITS, UNKNOWN]
    nothing = standby_drain(capacity_ah=12, drain_a=0, self_discharge_percent=0)
    assert (nothing.days_to_half, nothing.findings[0].verdict) == (None, UNKNOWN)


def test_storage_too_short_is_a_check_and_an_unknown_drain_is_unknown():
    assert standby_drain(capacity_ah=12, drain_a=0.05, self_discharge_percent=3).findings[0].verdict == CHECK
    stored = standby_drain(capacity_ah=12, drain_a=None, self_discharge_percent=3)
    assert (stored.days_to_half, stored.days_to_empty, stored.findings[0].verdict) == (None, None, UNKNOWN)


@given(st.floats(1, 200), st.floats(0.001, 100), st.floats(1, 1.6), st.floats(0.01, 1))
def test_run_time_is_never_more_than_the_rated_charge_gives(capacity, load, exponent, usable):
    hours = runtime(capacity_ah=capacity, load_a=load, peukert=exponent, usable=usable, hours_rate=20).hours
    assert hours <= usable * capacity / load * (1 + 1e-9)


def test_unknown_usable_capacity_gives_no_run_time():
    result = runtime(capacity_ah=12, load_a=6, peukert=1.2, usable=None, hours_rate=20)
    assert (result.hours, result.findings[0].missing) == (None, "usable share")


@pytest.mark.parametrize(
    ("battery", "charger", "plan", "verdict"),
    [
        ("lead_acid", "lead_acid", "lead_acid", FITS),
        ("lead_acid", "li_ion", "lead_acid", STOP),
        ("lead_acid", "lead_acid", "lifepo4", STOP),
        ("lead_acid", "unknown", "lead_acid", UNKNOWN),
        (None, None, None, UNKNOWN),
        ("unknown", "li_ion", "lead_acid", STOP),
        ("primary", "primary", "primary", STOP),
        ("primary", "none", "primary", FITS),
        ("primary", "none", "unknown", UNKNOWN),
        ("primary", "lead_acid", None, STOP),
        ("primary", None, "primary", UNKNOWN),
    ],
)
def test_one_chemistry_throughout(battery, charger, plan, verdict):
    assert chemistry_agrees(battery, charger, plan).verdict == verdict


def test_the_plan_is_told_in_clock_times():
    plan = charge_plan(**CHARGE, **DAY)
    assert (plan.hours, plan.take_off, plan.latest_plug_in) == (6.0, time(21, 30), time(16, 0))
    assert plan.longest_hours == 12.0
    assert plan.findings[-1].verdict == FITS


@pytest.mark.parametrize(
    ("changed", "verdict"),
    [
        ({"plug_in": time(16, 0)}, FITS),
        ({"plug_in": time(16, 30)}, CHECK),
        ({"plug_in": time(6, 30)}, CHECK),
        ({"plug_in": time(23, 0)}, CHECK),
        ({"sleep": time(0, 30), "plug_in": time(18, 30)}, FITS),
        ({"sleep": time(0, 30), "plug_in": time(19, 0)}, CHECK),
        ({"wake": None}, UNKNOWN),
        ({"charger_a": None}, UNKNOWN),
    ],
)
def test_the_charge_ends_within_waking_hours(changed, verdict):
    assert charge_plan(**{**CHARGE, **DAY, **changed}).findings[-1].verdict == verdict


def test_a_clock_time_is_a_time():
    with pytest.raises(EngineeringError, match="Plug in at"):
        charge_plan(**{**CHARGE, **DAY, "plug_in": "15:30"})


# 12 Ah from empty x 1.2 / 1.5 A = 9.6 h, up to the half hour 10 h. Derived.
HOME = {"capacity_ah": 12, "charger_a": 1.5} | DAY


@pytest.mark.parametrize(
    ("changed", "plug_in", "in_the_morning", "verdict"),
    [
        ({"plug_in": time(12, 0)}, time(12, 0), False, FITS),
        ({"plug_in": time(12, 30)}, time(7, 0), True, FITS),
        ({"plug_in": time(12, 30), "sleep": time(17, 0)}, time(7, 0), True, FITS),
        ({"plug_in": time(12, 30), "sleep": time(16, 30)}, time(12, 30), False, CHECK),
        ({"charger_a": 0.5}, time(15, 30), False, CHECK),
        ({"plug_in": None}, None, False, UNKNOWN),
        ({"wake": None}, time(15, 30), False, UNKNOWN),
        ({"charger_a": None}, time(15, 30), False, UNKNOWN),
    ],
)
def test_a_charge_at_home_starts_as_usual_else_in_the_morning(changed, plug_in, in_the_morning, verdict):
    plan = home_charge(**{**HOME, **changed})
    assert (plan.plug_in, plan.in_the_morning, plan.findings[-1].verdict) == (plug_in, in_the_morning, verdict)
    assert ("morning" in plan.findings[-1].formula) == in_the_morning


def test_a_charge_at_home_is_the_longest_there_is():
    plan = home_charge(**HOME)
    assert plan.hours == plan.longest_hours == 10.0
