"""What can be read at a bench: both sides of each bound, and a reason for each."""

from math import inf, nextafter

import pytest

from builds.engineering import units
from builds.engineering.instruments import (
    BOUNDS,
    KNOWN,
    UNKNOWN_UNIT,
    bounds_in,
    bounds_in_words,
    can_be_read,
    is_reversed,
)
from builds.plans.words import READING_UNITS


def step_beyond(value, toward):
    """The next number at which nine figures differ: a bound in another unit is kept to so many."""
    return value + (1e-6 * max(abs(value), 1.0)) * (1 if toward > 0 else -1)


@pytest.mark.parametrize("unit", [*KNOWN, "dB", ""])
def test_the_bounds_themselves_can_be_read_and_nothing_beyond_them(unit):
    least, most = bounds_in(unit)
    assert least < most
    assert can_be_read(least, unit)
    assert can_be_read(most, unit)
    assert not can_be_read(step_beyond(least, -1), unit)
    assert not can_be_read(step_beyond(most, +1), unit)
    assert not can_be_read(inf, unit)
    assert not can_be_read(float("nan"), unit)


@pytest.mark.parametrize("dimension", BOUNDS)
def test_each_bound_has_a_sentence_of_reason_and_says_whose_word_it_is(dimension):
    bound = BOUNDS[dimension]
    assert len(bound.why.split()) > 5
    assert bound.why.endswith(".")
    assert bound.source
    assert bound.look


def test_every_unit_that_a_plan_may_read_in_has_a_bound_of_its_own():
    assert [unit for unit in READING_UNITS if unit not in KNOWN] == []
    assert {dimension for dimension, _ in KNOWN.values()} == set(BOUNDS)


def test_a_bound_in_another_unit_is_the_same_bound():
    # Definition of the units: 1 V is 1000 mV, 1 m/s is 3.6 km/h, 1 min is 60 s, 1 m is 1000 mm.
    assert bounds_in("mV") == (1000 * bounds_in("V")[0], 1000 * bounds_in("V")[1])
    assert bounds_in("km/h") == (3.6 * bounds_in("m/s")[0], 3.6 * bounds_in("m/s")[1])
    assert bounds_in("s") == (60 * bounds_in("min")[0], 60 * bounds_in("min")[1])
    assert bounds_in("mm") == (1000 * bounds_in("m")[0], 1000 * bounds_in("m")[1])
    assert bounds_in("Ω") == bounds_in("ohm")


@pytest.mark.parametrize("unit", KNOWN)
def test_the_words_say_the_bound_itself(unit):
    """Told in the unit, in the base unit or by a prefix, the words name the two numbers that are compared."""
    words = bounds_in_words(unit)
    assert words.startswith("from ")
    low, high = words.removeprefix("from ").split(" to ")
    told_unit = high.split()[1] if " " in high else ""
    scale = {"GΩ": 1e9, "h": 3600.0}.get(told_unit)
    dimension, name = KNOWN[unit]
    kind = units.DIMENSIONS[dimension]
    told = float(high.split()[0])
    in_base = told * scale if scale else units.to_base(told, units.unit_of(told_unit, kind) or kind.base, kind)
    assert in_base == pytest.approx(BOUNDS[dimension].most)
    lowest = float(low.split()[0])
    assert lowest == 0 or lowest == pytest.approx(-told) or dimension == "temperature"


def test_what_an_instrument_shows_of_a_fault_can_be_read():
    """Leads the wrong way round, a short of the battery, an open circuit on the widest range, a burning motor."""
    for value, unit in ((-12.6, "V"), (400, "A"), (-25, "A"), (60e6, "Ω"), (180, "°C"), (-5, "°C"), (0, "V"), (0, "Ω")):
        assert can_be_read(value, unit)


def test_a_minus_tells_how_the_leads_were_held_where_it_can():
    assert all(is_reversed(-1, unit) for unit in ("V", "mV", "A", "mA", "N", "N·m"))
    assert not any(is_reversed(-1, unit) for unit in ("°C", "°", "%", "dB", ""))
    assert not is_reversed(nextafter(0, 1), "V")
    assert not is_reversed(0, "V")


def test_of_an_unknown_unit_only_a_number_that_long_is_refused():
    assert bounds_in("dB") == (UNKNOWN_UNIT.least, UNKNOWN_UNIT.most)
    assert bounds_in_words("dB") == "from -100000 to 100000 dB"
