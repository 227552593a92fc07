"""Reads quantities as people type them, in front of the units library, which would misread some of them.

`parse_quantity("4 ft 2 in", "length", name="Length").value_si` is 1.27. What could be read in two ways is refused.
"""

import re
from dataclasses import dataclass
from math import isfinite

from builds.engineering import units
from builds.engineering.finding import plain
from builds.engineering.gauges import Gauge, parse_gauge
from builds.engineering.typed import LARGEST_NUMBER, QuantityError, clean, quoted, read_number

__all__ = ["Gauge", "QuantityError", "Reading", "format_quantity", "parse_gauge", "parse_number", "parse_quantity"]

_NUMBER = r"(?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)(?:[eE][+-]?[0-9]{1,3})?"
_FRACTION = r"(?:(?P<whole>[0-9]+)(?:\s+|-))?(?P<over>[0-9]+)/(?P<under>[0-9]+)"
_UNIT = r"(?P<unit>[A-Za-z%\u00b0'\"][A-Za-z%\u00b0'\"*/ ]*?(?:\^2|(?<=s)2)?|1/min)?"
_PART = re.compile(rf"\s*(?:{_FRACTION}|(?P<number>{_NUMBER}))\s*{_UNIT}\s*(?=[0-9.,]|$)")
@dataclass(frozen=True)
class Reading:
    """A quantity as read: `value_si` in the dimension's base unit, `unit` as typed or assumed, `text` as typed."""

    value_si: float
    unit: str
    assumed: bool
    text: str


def parse_quantity(text, dimension, *, name, default_unit=None, minimum=None, maximum=None):
    """The quantity that was typed, in the base unit of its dimension.

    Parameters: text as typed; dimension: a key of `units.DIMENSIONS`; name: the label, for the error;
    default_unit: what a bare number is in (the base unit by default); minimum, maximum in the base unit.
    Returns a Reading. Raises QuantityError for anything that is not a finite quantity of that kind within
    the limits. Not for gauges: use `parse_gauge`.

    >>> round(parse_quantity("35 lb 4 oz", "mass", name="Weight").value_si, 6)
    15.989131
    >>> parse_quantity("75", "temperature", name="Insulation rating")
    Reading(value_si=75.0, unit='degC', assumed=True, text='75')
    """
    kind = units.DIMENSIONS[dimension]
    cleaned = clean(text, name)
    sign, parts = _split(cleaned, kind, name)
    assumed = parts[-1][1] is None
    default = units.unit_of(default_unit, kind) or default_unit if default_unit else kind.base
    parts = [(number, kind_unit or default) for number, kind_unit in parts]
    value = float(sign * _total(parts, kind, name, text))
    _refuse_beyond(value, kind, name, text, parts[-1][1], minimum, maximum)
    return Reading(value, default_unit or kind.base if assumed else parts[0][1], assumed, str(text))


def parse_number(text, *, name, minimum=None, maximum=None):
    """A bare number with a decimal point or comma."""
    return parse_quantity(text, "number", name=name, minimum=minimum, maximum=maximum).value_si


def format_quantity(value_si, dimension, system="metric", figures=3):
    """A value as a person of that system would write it; None is the word unknown.

    >>> format_quantity(1.27, "length"), format_quantity(1.27, "length", "us"), format_quantity(None, "mass")
    ('127 cm', '4.17 ft', 'unknown')
    """
    if value_si is None:
        return "unknown"
    kind = units.DIMENSIONS[dimension]
    steps = (kind.us if system == "us" else kind.metric) or kind.metric or ((float("-inf"), kind.base),)
    unit = next((unit for least, unit in steps if abs(value_si) >= least or value_si >= least), steps[-1][1])
    number = plain(units.from_base(value_si, unit, kind), figures)
    written = units.WRITTEN.get(unit, unit)
    return f"{number}{'' if written == units.WRITTEN['deg'] else ' '}{written}".strip()


def _split(text, kind, name):
    sign, rest = (-1, text[1:]) if text[0] == "-" else (1, text.removeprefix("+"))
    parts, at = [], 0
    while at < len(rest):
        match = _PART.match(rest, at)
        if match is None:
            raise _unreadable(text, kind, name)
        parts.append((_amount(match, name, minus=sign < 0 and at == 0), _typed_unit(match["unit"], text, kind, name)))
        at = match.end()
    if not parts:
        raise _unreadable(text, kind, name)
    return sign, parts


def _amount(match, name, minus):
    if match["over"] is None:
        return read_number(match["number"], name, minus)
    over, under, whole = (float(match[key] or 0) for key in ("over", "under", "whole"))
    if under == 0 or (match["whole"] and over >= under) or max(over, under, whole) > LARGEST_NUMBER:
        raise QuantityError(f"{name} {quoted(match[0].strip())} is not a fraction. Enter it as a decimal number.")
    return whole + over / under


def _typed_unit(typed, text, kind, name):
    if typed is None:
        return None
    typed = " ".join(typed.split())
    known = units.unit_of(typed, kind)
    if known is None:
        measured = units.measured_by(typed)
        why = f"{typed} is the unit of {measured}" if measured else f"the unit {quoted(typed)} is not known here"
        raise QuantityError(f"{name} must be {kind.word}, and {why}. Enter it like {kind.example}, not {quoted(text)}.")
    return known


def _total(parts, kind, name, text):
    if len(parts) > 1:
        _refuse_odd_pair(parts, kind, name, text)
    try:
        return sum(units.to_base(number, unit, kind) for number, unit in parts)
    except (ArithmeticError, ValueError) as error:
        raise QuantityError(f"{name} {quoted(text)} cannot be computed. Enter it like {kind.example}.") from error


def _refuse_odd_pair(parts, kind, name, text):
    """4 ft 2 in is one length; 4 ft 14 in, 4.5 ft 2 in and 4 ft 2 are slips."""
    (large, large_unit), (small, small_unit) = parts[0], parts[1]
    whole = large == int(large)
    if len(parts) == 2 and whole and (large_unit, small_unit) in kind.pairs:
        if units.to_base(small, small_unit, kind) < units.to_base(1, large_unit, kind):
            return
    raise QuantityError(f"{name} must be one number with its unit, like {kind.example}, not {quoted(text)}.")


def _refuse_beyond(value, kind, name, text, unit, minimum, maximum):
    if not isfinite(value):
        raise QuantityError(f"{name} must be a finite number, not {quoted(text)}.")
    for limit, beyond, words in (
        (minimum, minimum is not None and value < minimum, "or more"),
        (maximum, maximum is not None and value > maximum, "or less"),
    ):
        if beyond:
            told = f"{plain(units.from_base(limit, unit, kind))} {units.WRITTEN.get(unit, unit)}".strip()
            raise QuantityError(f"{name} must be {told} {words}, not {quoted(text)}.")


def _unreadable(text, kind, name):
    return QuantityError(f"{name} must be {kind.word}. Enter it like {kind.example}, not {quoted(text)}.")
