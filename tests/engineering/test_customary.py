"""A finding in US units: the same verdict, and never rounded onto or across its limit."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builds.engineering.customary import COUNTERPARTS, converted, in_us_units, us_unit
from builds.engineering.finding import Finding

# Exact by definition: 1 lb = 0.45359237 kg, 1 in = 25.4 mm, 1 mile = 1609.344 m; degrees Fahrenheit 9/5 C + 32.
EXACT = [
    (1, "kg", "lb", 1 / 0.45359237),
    (1, "m", "ft", 1 / 0.3048),
    (25.4, "mm", "in", 1),
    (1, "m/s", "mph", 3600 / 1609.344),
    (1.609344, "km/h", "mph", 1),
    (100, "\u00b0C", "degF", 212),
]


def finding(value, unit, limit, verdict="fits"):
    return Finding("load", value, unit, limit, verdict, "sum", "rating")


@pytest.mark.parametrize(("value", "unit", "us", "expected"), EXACT)
def test_units_as_defined(value, unit, us, expected):
    assert us_unit(value, unit) == us
    assert converted(value, unit, us) == pytest.approx(expected, rel=1e-12)


@given(st.floats(1, 60), st.floats(1, 60), st.sampled_from(["kg", "m", "m/s", "N\u00b7m"]))
def test_a_value_is_never_shown_onto_or_across_its_limit(value, limit, unit):
    shown = in_us_units(finding(value, unit, limit))
    rounded = float(shown.shown)
    assert (rounded > shown.limit) == (value > limit)
    assert (rounded < shown.limit) == (value < limit)
    assert shown.verdict == "fits"


def test_a_value_on_its_limit_stays_on_it():
    shown = in_us_units(finding(0.9, "m/s", 0.9))
    assert float(shown.shown) == shown.limit == 2.013


def test_value_and_limit_are_in_one_unit():
    shown = in_us_units(finding(0.5, "m", 2.0))
    assert (shown.unit, shown.limit) == ("in", 78.7)  # 2 m are 78.74 in


@pytest.mark.parametrize("unit", ["A", "%", "", "h", "\u00b0", "mm\u00b2"])
def test_a_unit_without_a_counterpart_stays_metric(unit):
    assert unit not in COUNTERPARTS
    assert in_us_units(finding(12.0, unit, 20.0)) is None


def test_words_and_unknown_values_stay_as_they_are():
    assert in_us_units(finding("lead acid", "kg", "one")) is None
    assert in_us_units(finding(12.0, "kg", "10 to 20")) is None
    assert in_us_units(Finding("load", None, "kg", 20.0, "unknown", "sum", "rating", (), "a mass")) is None
