"""Batteries (B) against published formulae, worked examples and common practice."""

import pytest

from builds.engineering.battery import (
    RECHARGE_DAYS,
    charge_time,
    charger_window,
    peukert_exponent,
    peukert_hours,
    runtime,
    stored_share,
)
from builds.engineering.calculators import CALCULATORS
from tests.published.rows import DERIVED, PRACTICE, SEEN, Row, checked

HOUR_RATE = "Peukert in the hour-rate form, symbols on a battery page"
TUTORIAL = "Peukert tutorial with a worked example"


def hours(capacity, discharged, charger, factor):
    return charge_time(capacity_ah=capacity, discharged=discharged, charger_a=charger, factor=factor).hours


ROWS = [
    *(Row(f"B-01 {capacity} Ah", "definition", DERIVED, peukert_hours(capacity, amperes, 1.3, 20), 20, 1e-9)
      for capacity, amperes in ((12, 0.6), (7, 0.35), (100, 5))),
    *(Row(f"B-02 k {k}", HOUR_RATE, DERIVED, peukert_hours(12, 0.6, k, 20), 20, 1e-9) for k in (1.0, 1.15, 1.4)),
    Row("B-03", HOUR_RATE, DERIVED, peukert_hours(12, 6, 1.15, 20), 1.4159, 0.001),
    Row("B-03 Ah", HOUR_RATE, DERIVED, peukert_hours(12, 6, 1.15, 20) * 6, 8.495, 0.006),
    Row("B-04", HOUR_RATE, DERIVED, peukert_hours(100, 10, 1.2, 20), 8.7055, 0.001),
    # The one-ampere form is the hour-rate form with the capacity at 1 A: 250 Ah over 250 h.
    Row("B-05", TUTORIAL, SEEN, peukert_hours(250, 20, 1.3, 250), 5.0886, 0.001),
    Row("B-06", "Peukert note whose own sum, 14.5 h, mixes the forms", SEEN, peukert_hours(100, 5, 1.2, 20), 20, 0.05),
    Row("B-07", "ratings in a boating article", DERIVED, peukert_exponent(5, 20, 20, 4), 1.1610, 0.001),
    Row("B-18", "ampere-hours over efficiency and current", DERIVED, hours(12, 0.5, 1.2, 1 / 0.85), 5.882, 0.01),
    Row("B-19", "replace 120 % of what was taken", PRACTICE, hours(12, 0.5, 1, 1.2), 7.2, 0.01),
    Row("B-20 low", "charge window C/10 to C/4", PRACTICE, charger_window(12, 1.2).verdict, "fits"),
    Row("B-20 high", "charge window C/10 to C/4", PRACTICE, charger_window(12, 3.0).verdict, "fits"),
    Row("B-20 below", "charge window C/10 to C/4", PRACTICE, charger_window(12, 1.1).verdict, "check"),
    Row("B-20 above", "charge window C/10 to C/4", PRACTICE, charger_window(12, 3.1).verdict, "check"),
    Row("B-23", "compound self-discharge", DERIVED, stored_share(6, 3) * 100, 83.30, 0.01),
]  # fmt: skip


@checked(ROWS)
def test_published_value(row):
    row.check()


def test_run_time_is_the_published_form_times_the_usable_share():
    """B-03 through the calculator."""
    found = runtime(capacity_ah=12, load_a=6, peukert=1.15, usable=0.5, hours_rate=20)
    assert found.hours == pytest.approx(1.4159 / 2, abs=0.001)


def test_below_the_rated_current_the_formula_would_promise_more_than_the_battery_holds():
    """The hour-rate form grows without end at small loads; the house never promises more than the rated charge."""
    assert peukert_hours(12, 0.1, 1.2, 20) > 120
    assert runtime(capacity_ah=12, load_a=0.1, peukert=1.2, usable=1, hours_rate=20).hours == 120


def default(calculator, name):
    entry = next(entry for entry in CALCULATORS[calculator].inputs if entry.name == name)
    return float(entry.default.removesuffix("%"))


def test_the_defaults_for_trying_numbers_lie_in_the_published_ranges():
    """B-08: exponent of flooded lead-acid 1.2 to 1.3. B-21: self-discharge 1 to 3 % a month, common practice."""
    assert 1.2 <= default("runtime", "peukert") <= 1.3
    assert 1 <= default("standby-drain", "self_discharge") <= 3


def test_the_charge_factor_is_the_published_efficiency_within_its_margin():
    """B-17, quotation of an educational site: about 85 % of the ampere-hours, 5 % more or less."""
    assert 1 / default("charge-time", "factor") == pytest.approx(0.85, abs=0.05)


def test_a_stored_battery_is_recharged_at_the_near_end_of_the_range():
    """B-22, common practice: every 3 to 6 months."""
    assert RECHARGE_DAYS == 90
