"""A small reader for plan documents: every value is named, typed and bounded, and what is wrong says where.

A missing optional value becomes None: not known to the plan, which is different from no and from zero.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any


class PlanError(ValueError):
    """One line: file, place in the file, what is wrong and what to write instead."""


@dataclass(frozen=True)
class Field:
    read: Callable  # (value, place) -> value
    required: bool = False
    default: Any = None


def refuse(place, what):
    raise PlanError(f"{place}: {what}")


def text(most=300):
    def read(value, place):
        if not isinstance(value, str):
            refuse(place, "must be text in quotes")
        value = value.strip()
        if not value:
            refuse(place, "is empty; write it or leave the line out")
        if len(value) > most:
            refuse(place, f"has {len(value)} characters; at most {most} fit")
        return value

    return read


def number(least=0.0, most=math.inf):
    def read(value, place):
        if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
            refuse(place, "must be a number")
        if not least <= value <= most:
            refuse(place, f"is {value:g}; it must lie from {least:g} to {most:g}")
        return value

    return read


def whole(least=1, most=999):
    inner = number(least, most)

    def read(value, place):
        if isinstance(value, float):
            refuse(place, "must be a whole number")
        return inner(value, place)

    return read


def yes_or_no(value, place):
    if not isinstance(value, bool):
        refuse(place, "must be true or false")
    return value


def one_of(allowed):
    allowed = tuple(allowed)

    def read(value, place):
        if value not in allowed:
            refuse(place, f"is {value!r}; it must be one of {', '.join(allowed)}")
        return value

    return read


def list_of(item, *, least=0, most=200, differ=True):
    def read(value, place):
        if not isinstance(value, list):
            refuse(place, "must be a list in square brackets")
        if not least <= len(value) <= most:
            refuse(place, f"has {len(value)} entries; it must have from {least} to {most}")
        read_items = [item(one, f"{place}[{position}]") for position, one in enumerate(value, 1)]
        if differ and len({repr(one) for one in read_items}) < len(read_items):
            refuse(place, "names the same entry twice")
        return read_items

    return read


def table(fields):
    """A table with exactly these fields; unknown names are refused, so that a typing slip is never silent."""

    def read(value, place):
        if not isinstance(value, dict):
            refuse(place, "must be a table")
        unknown = sorted(set(value) - set(fields))
        if unknown:
            refuse(place, f"has no field {', '.join(unknown)}; known fields are {', '.join(fields)}")
        found = {}
        for name, field in fields.items():
            if name not in value:
                if field.required:
                    refuse(place, f"lacks {name}")
                found[name] = field.default
            else:
                found[name] = field.read(value[name], f"{place}.{name}" if place else name)
        return found

    return read


def rows(fields, *, least=0, key="code"):
    """A list of tables, each with a key of its own; a row is named by its key in messages."""
    read_row = table(fields)

    def read(value, place):
        if not isinstance(value, list):
            refuse(place, f"must be written as [[{place}]] tables")
        if len(value) < least:
            refuse(place, f"has {len(value)} rows; it must have at least {least}")
        found, seen = [], set()
        for position, row in enumerate(value, 1):
            named = row.get(key) if isinstance(row, dict) else None
            found.append(read_row(row, f"{place}[{named or position}]"))
            if found[-1][key] in seen:
                refuse(f"{place}[{named}]", f"{key} is used twice")
            seen.add(found[-1][key])
        return found

    return read
