"""Readings as typed at the bench, and the limits they are held against.

A reading is kept in the unit of its step, so that it stands beside the step's limits. A unit that was typed
is converted where it measures the same thing; where a unit is unknown to the house it must be the step's own.
"""

import re

from builds.engineering import units
from builds.engineering.finding import plain
from builds.engineering.instruments import (
    KNOWN,
    bound_of,
    bounds_in_words,
    can_be_read,
    is_reversed,
)
from builds.engineering.quantities import QuantityError, parse_quantity

LONGEST = 40
FIGURES = 9  # kept of a converted reading, so that 12.4 V stays 12.4 V on its limit
# What a meter shows where there is more than its range holds.
OVER_RANGE = {"ol", "o.l", "o.l.", ".ol", "0l", "0.l", "over", "over range", "overrange", "overload", "inf", "infinite"}
END_OF_RANGE = "type the end of the meter's widest range, like 20 Mohm, and say so in the note"


class ReadingError(ValueError):
    """A reading that cannot be read or cannot be; one line in the label's words."""


def read(typed, *, label, unit):
    """The typed reading as a number in `unit`. Raises ReadingError."""
    text = str(typed).strip()
    if len(text) > LONGEST:
        raise ReadingError(f"{label} must be {LONGEST} characters or fewer")
    if text.casefold() in OVER_RANGE:
        raise ReadingError(f"{label} is over the meter's range: {_wider(unit)}")
    try:
        value = _in_known_unit(text, label, unit) if unit in KNOWN else _in_own_unit(text, label, unit)
    except QuantityError as error:
        raise ReadingError(str(error)) from error
    if not can_be_read(value, unit):
        raise ReadingError(f"{label} must be {bounds_in_words(unit)}: {bound_of(unit).look}")
    return value


def is_resistance(unit):
    return unit in KNOWN and KNOWN[unit][0] == "resistance"


def _wider(unit):
    if is_resistance(unit):
        return f"choose a wider one. Where none is wider, {END_OF_RANGE}"
    return (
        "choose a wider one. Where none is wider, record the step as failed, without a reading, and say so in the note"
    )


def _in_known_unit(text, label, unit):
    dimension, name = KNOWN[unit]
    reading = parse_quantity(text, dimension, name=label, default_unit=name)
    converted = units.from_base(reading.value_si, name, units.DIMENSIONS[dimension])
    return float(f"{converted:.{FIGURES}g}")


def _in_own_unit(text, label, unit):
    number = re.sub(rf"\s*{re.escape(unit)}$", "", text, flags=re.IGNORECASE) if unit else text
    try:
        return parse_quantity(number, "number", name=label).value_si
    except QuantityError as error:
        said = f"a number of {unit}, without another unit" if unit else "a number without a unit"
        raise ReadingError(f"{label} must be {said}") from error


def within(value, low, high):
    """Whether a reading passes; the limits themselves do."""
    return (low is None or value >= low) and (high is None or value <= high)


def passes(value, low, high, unit):
    """Whether a reading of that unit passes: it lies within the limits, it can be, and its minus is no slip."""
    return within(value, low, high) and can_be_read(value, unit) and not minus_too_many(value, low, high, unit)


def minus_too_many(value, low, high, unit):
    """A minus that says how the leads were held would pass any upper limit; only limits below zero ask for one."""
    asked = any(limit is not None and limit < 0 for limit in (low, high))
    return is_reversed(value, unit) and not asked


def limits_in_words(low, high, unit):
    """The limits as a person reads them; empty where there is none."""
    if low is not None and high is not None:
        return f"from {plain(low, 6)} to {with_unit(high, unit)}"
    if low is not None:
        return f"{with_unit(low, unit)} or more"
    return f"{with_unit(high, unit)} or less" if high is not None else ""


def with_unit(value, unit):
    """A reading with its unit, or None for unknown."""
    return None if value is None else f"{plain(value, 6)} {unit}".strip()
