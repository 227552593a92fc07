"""Inputs of the calculators as people type them: each kind reads text and says what it read."""

import re
from dataclasses import dataclass
from datetime import date
from functools import partial

from builds.engineering.gauges import Gauge, parse_gauge
from builds.engineering.load import Mass
from builds.engineering.quantities import parse_quantity
from builds.engineering.typed import QuantityError, quoted, the
from builds.engineering.units import DIMENSIONS

LONGEST_LIST = 2000
LONGEST_NAME = 40
MOST_PARTS = 200
PROSE, FILE = "prose", "file"


@dataclass(frozen=True)
class Input:
    """`name` is the key in the shell, `argument` the keyword of the function, `read` makes its value of text.

    `default` is text, read like typed text; an input without one is required unless `optional`. `kind` says what a
    page must know of it: prose wants a large box, and a file of this machine is never read for a page.
    """

    name: str
    argument: str
    label: str
    read: callable
    unit: str = ""
    default: str | None = None
    optional: bool = False
    help: str = ""
    choices: tuple = ()
    kind: str = ""

    @property
    def required(self):
        return self.default is None and not self.optional

    def value(self, text):
        return self.read(text, name=self.label)


def quantity(name, argument, label, dimension, **options):
    """A quantity with a unit; a bare number is in the base unit of its dimension."""
    read = partial(_read_quantity, dimension=dimension)
    return Input(name, argument, label, read, unit=DIMENSIONS[dimension].base, **options)


def gauge(name, argument, label, **options):
    return Input(name, argument, label, parse_gauge, **options)


def choice(name, argument, label, choices, **options):
    return Input(name, argument, label, partial(_read_choice, choices=choices), choices=choices, **options)


def quantities(name, argument, label, dimension, **options):
    """Several quantities of one dimension, with commas or spaces between."""
    read = partial(_read_list, dimension=dimension)
    return Input(name, argument, label, read, unit=DIMENSIONS[dimension].base, **options)


def place(name, argument, label, **options):
    """Three lengths x,y,z."""
    return Input(name, argument, label, _read_place, unit="m", **options)


def masses(name, argument, label, with_places=False, **options):
    """Named masses, `rider=16 kg seat=2.1 kg`; with places, `rider=18 kg@0.35,0,0.55`."""
    return Input(name, argument, label, partial(_read_masses, with_places=with_places), unit="kg", **options)


def day(name, argument, label, **options):
    """A day as year-month-day."""
    return Input(name, argument, label, _read_day, **options)


def prose(name, argument, label, longest, **options):
    """Running text."""
    return Input(name, argument, label, partial(_read_prose, longest=longest), kind=PROSE, **options)


def file(name, argument, label, **options):
    """A file of this machine, by its path: for the shell only."""
    return Input(name, argument, label, _read_path, kind=FILE, **options)


def as_json(value):
    """A value that was read, for the JSON object."""
    if isinstance(value, Gauge):
        return value.label
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Mass):
        told = {"name": value.name, "mass_kg": value.mass_kg}
        return told if value.place_m is None else told | {"place_m": list(value.place_m)}
    return [as_json(part) for part in value] if isinstance(value, (list, tuple)) else value


def _read_quantity(text, *, name, dimension):
    return parse_quantity(text, dimension, name=name).value_si


def _read_choice(text, *, name, choices):
    if not text.strip():
        raise QuantityError(f"Choose {the(name)}: {', '.join(choices[:-1])} or {choices[-1]}.")
    if text.strip() not in choices:
        raise QuantityError(f"{name} must be one of {', '.join(choices)}, not {quoted(text)}.")
    return text.strip()


def _read_prose(text, *, name, longest):
    if not text.strip():
        raise QuantityError(f"Enter {the(name)}.")
    if len(text) > longest:
        raise QuantityError(f"{name} must be {longest} characters or fewer, not {len(text)}.")
    return text


def _read_path(text, *, name):
    if not text.strip() or "\0" in text:
        raise QuantityError(f"Enter {the(name)} as a path.")
    return text


def _read_day(text, *, name):
    """Only year-month-day: 3/4/2024 means two days in two countries."""
    if not text.strip():
        raise QuantityError(f"Enter {the(name)}.")
    try:
        if re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text.strip(), re.ASCII):
            return date.fromisoformat(text.strip())
    except ValueError:
        pass  # no such day, told below
    raise QuantityError(f"{name} must be a date like 2024-03-31, not {quoted(text)}.")


def _read_list(text, *, name, dimension):
    return [parse_quantity(part, dimension, name=name).value_si for part in _parts(text, name)]


def _read_place(text, *, name):
    parts = _read_list(text, name=name, dimension="length")
    if len(parts) != 3:
        raise QuantityError(f"{name} must be three lengths x,y,z, like 0.35,0,0.55, not {quoted(text)}.")
    return tuple(parts)


def _read_masses(text, *, name, with_places):
    _refuse_long(text, name)
    starts = list(re.finditer(r"(?:^|(?<=\s))([^\s=@]+)=", text.strip()))
    if not starts or starts[0].start() != 0:
        raise QuantityError(f"{name} must be name=mass, like {_example(with_places)}, not {quoted(text)}.")
    ends = [start.start() for start in starts[1:]] + [len(text.strip())]
    typed = [(start[1], text.strip()[start.end() : end].strip()) for start, end in zip(starts, ends, strict=True)]
    if len(typed) > MOST_PARTS:
        raise QuantityError(f"{name} must be {MOST_PARTS} masses or fewer, not {len(typed)}.")
    return [_read_mass(label, value, name, with_places) for label, value in typed]


def _read_mass(label, text, name, with_places):
    if len(label) > LONGEST_NAME or not label.isprintable():
        raise QuantityError(f"{name} must have names of {LONGEST_NAME} signs or fewer, not {quoted(label)}.")
    what = f"Mass of {label}"
    mass, at, spot = text.partition("@")
    if bool(at) != with_places:
        raise QuantityError(f"{what} must be like {_example(with_places)}, not {quoted(text)}.")
    kilograms = parse_quantity(mass, "mass", name=what, minimum=0).value_si
    return Mass(label, kilograms, _read_place(spot, name=f"Place of {label}") if with_places else None)


def _example(with_places):
    return "rider=18 kg@0.35,0,0.55" if with_places else "rider=16 kg"


def _parts(text, name):
    """The parts of a list: commas or spaces stand between, and only in front of a number."""
    _refuse_long(text, name)
    parts = re.split(r"\s*,\s*(?=[-+.0-9])|\s+(?=[-+.0-9])", text.strip())
    if len(parts) > MOST_PARTS:
        raise QuantityError(f"{name} must be {MOST_PARTS} numbers or fewer, not {len(parts)}.")
    return parts


def _refuse_long(text, name):
    if not text.strip():
        raise QuantityError(f"Enter {the(name)}.")
    if len(text) > LONGEST_LIST:
        raise QuantityError(f"{name} must be {LONGEST_LIST} characters or fewer, not {len(text)}.")
