"""Refuses what cannot be. None passes everywhere: unknown is a value, and the caller says what it makes of it."""

from datetime import date, datetime
from math import isfinite

from builds.engineering.finding import EngineeringError, plain

LONGEST_QUOTED = 40
SMALLEST_PLAIN, LARGEST_PLAIN = 1e-6, 1e15  # beyond these a number is written with an exponent
EARLIEST_DAY, LATEST_DAY = date(1900, 1, 1), date(2199, 12, 31)


def number(name, value, unit, *, minimum=None, maximum=None, above=None):
    """The number itself, or None for unknown.

    Parameters: name of the quantity; value [unit]; minimum, maximum: the least and largest allowed [unit];
    above: the value must be larger than this [unit]. Raises EngineeringError naming all of them.

    >>> number("Length", 3, "m", maximum=1000)
    3.0
    """
    if value is None:
        return None
    value = _finite(name, value)
    for limit, breaks, words in (
        (above, lambda one: one <= above, "more than {}"),
        (minimum, lambda one: one < minimum, "{} or more"),
        (maximum, lambda one: one > maximum, "{} or less"),
    ):
        if limit is not None and breaks(value):
            raise EngineeringError(f"{name} must be {words.format(_limit(limit, unit))}, {_not(value, unit, breaks)}.")
    return value


def whole(name, value, unit, *, minimum, maximum):
    """A whole number between two limits, or None for unknown."""
    value = number(name, value, unit, minimum=minimum, maximum=maximum)
    if value is not None and value != int(value):
        said = _not(value, "", lambda one: one != int(one))
        raise EngineeringError(f"{name} must be a whole number from {minimum} to {maximum}, {said}.")
    return None if value is None else int(value)


def choice(name, value, allowed):
    """One word of a list, or None for unknown."""
    if value is not None and value not in allowed:
        raise EngineeringError(f"{name} must be one of {', '.join(allowed)}, not {_quoted(value)}.")
    return value


def answer(name, value):
    """True, False, or None for unknown, from those or from the words yes, no and unknown.

    A word is never taken for true because it is not empty.
    """
    words = {"yes": True, "no": False, "unknown": None, "": None, True: True, False: False, None: None}
    try:
        return words[str(value) if isinstance(value, str) else value]
    except (KeyError, TypeError):
        raise EngineeringError(f"{name} must be yes, no or unknown, not {_quoted(value)}.") from None


def point(name, value):
    """Three finite numbers in metres as a tuple, or None for unknown."""
    if value is None:
        return None
    try:
        numbers = tuple(value)
    except TypeError:
        numbers = ()
    if len(numbers) != 3:
        raise EngineeringError(f"{name} must be three numbers x, y, z in metres, not {_quoted(value)}.")
    limit = 5.0
    return tuple(
        number(f"{name} {axis}", part, "m", minimum=-limit, maximum=limit) if part is not None else _missing(name, axis)
        for axis, part in zip("xyz", numbers, strict=True)
    )


def day(name, value):
    """A day of the calendar, or None for unknown; a moment is refused, since its day depends on the clock."""
    if value is not None and (not isinstance(value, date) or isinstance(value, datetime)):
        raise EngineeringError(f"{name} must be a date like 2024-03-31, not {_quoted(value)}.")
    if value is not None and not EARLIEST_DAY <= value <= LATEST_DAY:
        raise EngineeringError(f"{name} must be from {EARLIEST_DAY} to {LATEST_DAY}, not {value}.")
    return value


def _missing(name, axis):
    raise EngineeringError(f"{name} {axis} must be a number of metres from -5 to 5, not nothing.")


def _finite(name, value):
    if isinstance(value, (bool, str)):
        raise EngineeringError(f"{name} must be a number, not {_quoted(value)}.")
    try:
        value = float(value)
    except (TypeError, ValueError, OverflowError):
        raise EngineeringError(f"{name} must be a number, not {_quoted(value)}.") from None
    if not isfinite(value):
        raise EngineeringError(f"{name} must be a finite number, not {value}.")
    return value


def _not(value, unit, breaks):
    """The value in the fewest figures that still break the limit: never 1000 m, where 1000 m is allowed."""
    readable = value == 0 or SMALLEST_PLAIN <= abs(value) < LARGEST_PLAIN
    written = (plain(value, figures) if readable else f"{value:.{figures}g}" for figures in (6, 9, 12, 15))
    text = next((text for text in written if breaks(float(text))), repr(value))
    return f"not {text} {unit}".rstrip()


def _limit(value, unit):
    return f"{plain(value)} {unit}".strip()


def _quoted(value):
    text = "".join(c if c.isprintable() else " " for c in str(value))
    shortened = text[:LONGEST_QUOTED] + "\N{HORIZONTAL ELLIPSIS}" if len(text) > LONGEST_QUOTED else text
    return f"\N{LEFT DOUBLE QUOTATION MARK}{shortened}\N{RIGHT DOUBLE QUOTATION MARK}"
