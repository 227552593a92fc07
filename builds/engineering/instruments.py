"""What an instrument at such a bench can show of each kind of reading, in one table. Beyond it a reading is a slip.

The limits of a step say what passes; these say what can be read at all, of a sound unit or of a faulty one. So they
are wide: a meter with its leads the wrong way round shows a minus, a shorted battery gives hundreds of amperes.
"""

from dataclasses import dataclass

from builds.engineering import units
from builds.engineering.finding import COMMON_PRACTICE, plain

# Unit as a step says it -> what it measures, and the name the units library knows.
KNOWN = {
    "V": ("voltage", "V"),
    "mV": ("voltage", "mV"),
    "A": ("current", "A"),
    "mA": ("current", "mA"),
    "\N{GREEK CAPITAL LETTER OMEGA}": ("resistance", "ohm"),
    "ohm": ("resistance", "ohm"),
    "\N{DEGREE SIGN}C": ("temperature", "degC"),
    "kg": ("mass", "kg"),
    "m": ("length", "m"),
    "cm": ("length", "cm"),
    "mm": ("length", "mm"),
    "s": ("time", "s"),
    "min": ("time", "min"),
    "m/s": ("speed", "m/s"),
    "km/h": ("speed", "km/h"),
    "N": ("force", "N"),
    "\N{DEGREE SIGN}": ("angle", "deg"),
    "N\N{MIDDLE DOT}m": ("moment", "N*m"),
    "Ah": ("capacity", "Ah"),
    "%": ("percent", "percent"),
}
FIGURES = 9  # kept of a bound in another unit, so that 18 km/h is 18 km/h
LONGEST_TOLD = 10_000  # a bound beyond this is told in the base unit
RANGE, NUMBER = "look at the meter's range", "look at the number and its unit"


@dataclass(frozen=True)
class Bound:
    """`least` and `most` in the base unit of the dimension; `why` they are there; `look`: what to look at."""

    least: float
    most: float
    why: str
    source: str = COMMON_PRACTICE
    look: str = NUMBER
    minus_is_reversed: bool = False  # a minus tells how the instrument was held, not how much there is
    words: str = ""  # where the bounds in the base unit are too long to read


BOUNDS = {
    "voltage": Bound(
        -60, 60, "Units run on 24 V or less; 60 V is where a direct voltage ends that may be touched.",
        "IEC 60335-1, 3.4.2, as the IEC glossary gives it; that the bench stays below: common practice, no source",
        look=RANGE, minus_is_reversed=True,
    ),
    "current": Bound(
        -1000, 1000, "A battery of this size gives hundreds of amperes into a short; clamps end at 1000 A.",
        look=RANGE, minus_is_reversed=True,
    ),
    "resistance": Bound(
        0, 1e9, "Meters end at 20 to 60 megohms, insulation testers near 1 gigohm; above that is over range.",
        look=RANGE, words="from 0 \N{GREEK CAPITAL LETTER OMEGA} to 1 G\N{GREEK CAPITAL LETTER OMEGA}",
    ),
    "temperature": Bound(
        -20, 400, "No bench is colder, and thermometers for surfaces end near 400 \N{DEGREE SIGN}C."
    ),
    "mass": Bound(0, 200, "Ballast stands in for a child and its seat; a floor scale ends near 200 kg."),
    "length": Bound(0, 100, "From a wire to the longest way a unit rolls: no lab or corridor is longer."),
    "time": Bound(
        0, 86_400, "Charging is the longest thing timed at the bench, and a day is longer.", words="from 0 s to 24 h"
    ),
    "speed": Bound(0, 5, "Twice what ride-ons drive as bought; no adult walks beside it at that pace."),
    "force": Bound(
        -1000, 1000, "A hand pushes some hundreds of newtons, and hanging scales end near 1000 N.",
        minus_is_reversed=True,
    ),
    "angle": Bound(-90, 90, "Beyond 90\N{DEGREE SIGN} a unit no longer stands on its wheels."),
    "moment": Bound(
        -200, 200, "Wrenches for the bolts of such units end near 200 N\N{MIDDLE DOT}m.", minus_is_reversed=True
    ),
    "capacity": Bound(0, 200, "Ten times the battery of a ride-on, and more than a person lifts."),
    "percent": Bound(-100, 100, "A share or a change of what was there."),
}  # fmt: skip
# A unit that the house does not know, or none: nothing is known of what can be, and only the slip of a key is caught.
UNKNOWN_UNIT = Bound(-100_000, 100_000, "Of a unit that is not known here, only a number that long is a slip.")


def bound_of(unit):
    """The row of the table for a unit as a step says it."""
    return BOUNDS[KNOWN[unit][0]] if unit in KNOWN else UNKNOWN_UNIT


def bounds_in(unit):
    """The least and the most that can be read, in that unit.

    >>> bounds_in("V"), bounds_in("mA"), bounds_in("km/h")
    ((-60.0, 60.0), (-1000000.0, 1000000.0), (0.0, 18.0))
    """
    bound = bound_of(unit)
    if unit not in KNOWN:
        return float(bound.least), float(bound.most)
    dimension, name = KNOWN[unit]
    ends = (units.from_base(float(end), name, units.DIMENSIONS[dimension]) for end in (bound.least, bound.most))
    return tuple(float(f"{end:.{FIGURES}g}") for end in ends)


def can_be_read(value, unit):
    """Whether an instrument at such a bench can show this; the bounds themselves can be.

    >>> can_be_read(60, "V"), can_be_read(-12.6, "V"), can_be_read(9999, "V")
    (True, True, False)
    """
    least, most = bounds_in(unit)
    return least <= value <= most


def bounds_in_words(unit):
    """The bounds as a person reads them: in that unit, or in the base unit where that is shorter.

    >>> bounds_in_words("V"), bounds_in_words("kg"), bounds_in_words("mA"), bounds_in_words("s")
    ('from -60 to 60 V', 'from 0 to 200 kg', 'from -1000 to 1000 A', 'from 0 s to 24 h')
    """
    bound, (least, most) = bound_of(unit), bounds_in(unit)
    if unit in KNOWN and most >= LONGEST_TOLD:
        if bound.words:
            return bound.words
        base = units.DIMENSIONS[KNOWN[unit][0]].base
        least, most, unit = bound.least, bound.most, units.WRITTEN.get(base, base)
    return f"from {plain(least, 6)} to {plain(most, 6)} {unit}".strip()


def is_reversed(value, unit):
    """Whether the minus in front tells how the instrument was held: it says nothing of how much there is.

    >>> is_reversed(-12, "A"), is_reversed(12, "A"), is_reversed(-5, "\\N{DEGREE SIGN}C")
    (True, False, False)
    """
    return value < 0 and bound_of(unit).minus_is_reversed
