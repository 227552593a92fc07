"""Readings as typed at the bench, and the limits they are held against.

A reading is kept in the unit of its step, so that it stands beside the step's limits. A unit that was typed
is converted where it measures the same thing; where a unit is unknown to the house it must be the step's own.
"""

import re

from builds.engineering import units
from builds.engineering.finding import plain
from builds.engineering.quantities import QuantityError, parse_quantity

LONGEST = 40
LARGEST = 100_000
FIGURES = 9  # kept of a converted reading, so that 12.4 V stays 12.4 V on its limit

# Unit as the step says it -> what it measures, and the name the parser knows.
KNOWN = {
    "V": ("voltage", "V"),
    "mV": ("voltage", "mV"),
    "A": ("current", "A"),
    "mA": ("current", "mA"),
    "Ω": ("resistance", "ohm"),
    "ohm": ("resistance", "ohm"),
    "°C": ("temperature", "degC"),
    "kg": ("mass", "kg"),
    "m": ("length", "m"),
    "cm": ("length", "cm"),
    "mm": ("length", "mm"),
    "s": ("time", "s"),
    "min": ("time", "min"),
    "m/s": ("speed", "m/s"),
    "km/h": ("speed", "km/h"),
    "N": ("force", "N"),
    "°": ("angle", "deg"),
    "N·m": ("moment", "N*m"),
    "Ah": ("capacity", "Ah"),
    "%": ("percent", "percent"),
}
NEVER_NEGATIVE = {"resistance", "mass", "length", "time", "speed", "capacity"}


class ReadingError(ValueError):
    """A reading that cannot be read or cannot be; one line in the label's words."""


def read(typed, *, label, unit):
    """The typed reading as a number in `unit`. Raises ReadingError."""
    text = str(typed).strip()
    if len(text) > LONGEST:
        raise ReadingError(f"{label} must be {LONGEST} characters or fewer")
    try:
        value = _in_known_unit(text, label, unit) if unit in KNOWN else _in_own_unit(text, label, unit)
    except QuantityError as error:
        raise ReadingError(str(error)) from error
    least = 0 if unit in KNOWN and KNOWN[unit][0] in NEVER_NEGATIVE else -LARGEST
    if value > LARGEST:
        raise ReadingError(f"{label} must be {with_unit(LARGEST, unit)} or less")
    if value < least:
        raise ReadingError(f"{label} must be {with_unit(least, unit)} or more")
    return value


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
