"""The dimensions a quantity may have, the units it may be typed in, and how it is shown.

`base` is the unit of every `value_si`: SI, or what the trade counts in where SI would be read by nobody
(degrees, °C, Ah, %, rpm, mm² of copper).
"""

from dataclasses import dataclass
from functools import cache, lru_cache


@dataclass(frozen=True)
class Dimension:
    """`names` maps what people type to the units library's name; `pairs` may be written like 4 ft 2 in.

    `metric` and `us` are (from this value in base on, show in this unit), largest first.
    """

    word: str
    base: str
    names: dict
    example: str
    pairs: tuple = ()
    metric: tuple = ()
    us: tuple = ()


def _same(words):
    return {word: word for word in words.split()}


LENGTH = Dimension(
    "a length",
    "m",
    _same("m mm cm km in ft yd")
    | dict.fromkeys(("metre", "metres", "meter", "meters"), "m")
    | dict.fromkeys(("'", "foot", "feet"), "ft")
    | dict.fromkeys(('"', "inch", "inches"), "in")
    | dict.fromkeys(("yard", "yards"), "yd")
    | {"mile": "mile", "miles": "mile"},
    "1.2 m or 4 ft 2 in",
    pairs=(("ft", "in"), ("yd", "ft"), ("m", "cm")),
    metric=((2.0, "m"), (0.1, "cm"), (0.0, "mm")),
    us=((0.9144, "ft"), (0.0, "in")),
)
MASS = Dimension(
    "a mass",
    "kg",
    _same("kg g lb oz")
    | dict.fromkeys(("lbs", "pound", "pounds"), "lb")
    | dict.fromkeys(("ounce", "ounces"), "oz")
    | {"st": "stone", "stone": "stone", "gram": "g", "grams": "g"},
    "16 kg or 35 lb",
    pairs=(("lb", "oz"), ("stone", "lb"), ("kg", "g")),
    metric=((1.0, "kg"), (0.0, "g")),
    us=((0.45359237, "lb"), (0.0, "oz")),
)
FORCE = Dimension("a force", "N", _same("N kN mN lbf kgf ozf"), "12 N or 2.7 lbf", us=((0.0, "lbf"),))
CURRENT = Dimension(
    "a current", "A", _same("A mA kA uA") | dict.fromkeys(("amp", "amps", "ampere", "amperes"), "A"), "18 A or 250 mA",
    metric=((1.0, "A"), (0.0, "mA")),
)
VOLTAGE = Dimension(
    "a voltage", "V", _same("V mV kV") | dict.fromkeys(("volt", "volts", "VDC", "Vdc"), "V"), "12 V or 200 mV"
)
RESISTANCE = Dimension(
    "a resistance", "ohm", _same("ohm kohm mohm") | {"ohms": "ohm", "Mohm": "megaohm"}, "0.05 ohm or 50 mohm"
)
POWER = Dimension("a power", "W", _same("W mW kW"), "90 W")
TIME = Dimension(
    "a time",
    "s",
    _same("s ms min h")
    | dict.fromkeys(("sec", "secs", "second", "seconds"), "s")
    | dict.fromkeys(("minute", "minutes", "mins"), "min")
    | dict.fromkeys(("hr", "hrs", "hour", "hours"), "h")
    | dict.fromkeys(("d", "day", "days"), "day"),
    "3.1 s or 2 h 30 min",
    pairs=(("h", "min"), ("min", "s"), ("day", "h")),
    metric=((3600.0, "h"), (60.0, "min"), (0.0, "s")),
)
HOURS = Dimension(
    "a number of hours", "h", TIME.names, "20 h", pairs=TIME.pairs
)
SPEED = Dimension(
    "a speed",
    "m/s",
    _same("m/s cm/s mm/s km/h mph ft/s") | {"kph": "km/h", "kmh": "km/h", "mi/h": "mph", "fps": "ft/s"},
    "1.2 m/s or 4.3 km/h",
    us=((0.0, "mph"),),
)
ACCELERATION = Dimension(
    "a deceleration", "m/s^2", {"m/s^2": "m/s^2", "m/s2": "m/s^2", "ft/s^2": "ft/s^2", "ft/s2": "ft/s^2"}, "1.5 m/s^2"
)
ANGLE = Dimension(
    "an angle",
    "deg",
    _same("deg rad") | dict.fromkeys(("\N{DEGREE SIGN}", "degree", "degrees"), "deg"),
    "12 deg",
)
TEMPERATURE = Dimension(
    "a temperature",
    "degC",
    dict.fromkeys(("degC", "\N{DEGREE SIGN}C", "C", "celsius", "Celsius"), "degC")
    | dict.fromkeys(("degF", "\N{DEGREE SIGN}F", "F", "fahrenheit", "Fahrenheit"), "degF")
    | {"K": "kelvin"},
    "75 degC or 167 degF",
    us=((float("-inf"), "degF"),),
)
CAPACITY = Dimension(
    "a battery capacity", "Ah", _same("Ah mAh") | dict.fromkeys(("A*h", "A h", "AH", "ah"), "Ah"), "12 Ah or 7000 mAh"
)
MOMENT = Dimension(
    "a moment",
    "N*m",
    {"N*m": "N*m", "Nm": "N*m", "N m": "N*m", "Ncm": "N*cm", "N*cm": "N*cm"}
    | {"lbf*in": "lbf*in", "lbf*ft": "lbf*ft", "in*lbf": "lbf*in", "ft*lbf": "lbf*ft"},
    "4 N*m or 35 lbf*in",
    us=((0.0, "lbf*in"),),
)
ROTATION = Dimension(
    "a speed of rotation", "rpm", {"rpm": "rpm", "RPM": "rpm", "1/min": "rpm", "Hz": "rps", "rps": "rps"}, "120 rpm"
)
PERCENT = Dimension(
    "a percentage", "percent", dict.fromkeys(("%", "percent", "% a month", "%/month"), "percent"), "3 %"
)
FRACTION = Dimension("a share from 0 to 1", "", {"%": "percent", "percent": "percent"}, "0.5 or 50 %")
PULSE = Dimension(
    "a pulse", "us", _same("us ms") | dict.fromkeys(("microsecond", "microseconds"), "us"), "1500 us or 1.5 ms"
)
NUMBER = Dimension("a number without a unit", "", {}, "1.2")

DIMENSIONS = {
    "length": LENGTH,
    "mass": MASS,
    "force": FORCE,
    "current": CURRENT,
    "voltage": VOLTAGE,
    "resistance": RESISTANCE,
    "power": POWER,
    "time": TIME,
    "hours": HOURS,
    "speed": SPEED,
    "acceleration": ACCELERATION,
    "angle": ANGLE,
    "temperature": TEMPERATURE,
    "capacity": CAPACITY,
    "moment": MOMENT,
    "rotation": ROTATION,
    "percent": PERCENT,
    "fraction": FRACTION,
    "number": NUMBER,
    "pulse": PULSE,
}

# How a unit is written for people, where that differs from the units library's name.
WRITTEN = {
    "degC": "\N{DEGREE SIGN}C", "degF": "\N{DEGREE SIGN}F", "deg": "\N{DEGREE SIGN}", "percent": "%",
    "ohm": "\N{GREEK CAPITAL LETTER OMEGA}", "N*m": "N\N{MIDDLE DOT}m", "lbf*in": "lbf\N{MIDDLE DOT}in",
    "m/s^2": "m/s\N{SUPERSCRIPT TWO}", "us": "\N{MICRO SIGN}s",
}


@cache
def registry():
    """The units library, loaded at the first conversion."""
    import pint

    return pint.UnitRegistry(cache_folder=None)


def to_base(number, unit, dimension):
    """A number in a unit of the dimension, in the dimension's base unit."""
    return _convert(number, unit or "dimensionless", dimension.base or "dimensionless")


def from_base(value, unit, dimension):
    """A value in the dimension's base unit, in another of its units."""
    return _convert(value, dimension.base or "dimensionless", unit or "dimensionless")


@lru_cache(maxsize=4096, typed=True)
def _convert(number, old, new):
    """The same few values are said again and again; the units library takes a tenth of a millisecond for each."""
    return number if old == new else registry().Quantity(number, old).to(new).magnitude


def unit_of(typed, dimension):
    """The units library's name of a typed unit, or None where the dimension does not know it."""
    return dimension.names.get(typed) or dimension.names.get(_small(typed))


def measured_by(typed):
    """What a unit measures, in words, or None where nobody knows it."""
    return next((dimension.word for dimension in DIMENSIONS.values() if unit_of(typed, dimension)), None)


def _small(typed):
    """Upper case is forgiven where it cannot change the unit: words and imperial names, never mA and MA."""
    lowered = typed.lower()
    return lowered if len(lowered) > 2 or lowered in ("ft", "in", "lb", "oz", "kg", "cm", "yd") else typed
