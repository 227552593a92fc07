"""Wire gauges as people type them. A bare number is refused: 14 could be a gauge or square millimetres."""

import re
from dataclasses import dataclass

from builds.engineering import copper
from builds.engineering.typed import QuantityError, clean, quoted, read_number, the

AWG = "awg"
MM2 = "mm2"
_EXAMPLE = "14 AWG or 2.5 mm^2"
_AWG = re.compile(r"(?:AWG\s*(?P<after>\S+)|(?P<before>\S+?)\s*AWG)", re.IGNORECASE)
_MM2 = re.compile(r"(?P<section>[0-9.,]+)\s*(?:mm\s*\^?\s*2|sq\.?\s*mm|sqmm)", re.IGNORECASE)


@dataclass(frozen=True)
class Gauge:
    """A wire size: `kind` awg or mm2; `number` the gauge (-3 for 4/0) or the section [mm²]; `area_mm2` nominal."""

    kind: str
    number: float
    area_mm2: float
    label: str

    def __str__(self):
        return self.label


def parse_gauge(text, *, name="Gauge"):
    """The wire size that was typed.

    Parameters: text as typed; name: the label, for the error. Returns a Gauge: AWG from 4/0 to 30, or a
    nominal section of IEC 60228. Raises QuantityError. Not for wire sold by a gauge of another kind.

    >>> parse_gauge("4/0 AWG").label, parse_gauge("2,5 mm²").area_mm2
    ('4/0 AWG', 2.5)
    """
    cleaned = clean(text, name)
    if match := _AWG.fullmatch(cleaned):
        return _awg(match["after"] or match["before"], text, name)
    if match := _MM2.fullmatch(cleaned):
        return _section(match["section"], text, name)
    raise QuantityError(f"{name} must say AWG or mm^2. Enter {the(name)} like {_EXAMPLE}, not {quoted(text)}.")


def _awg(typed, text, name):
    number = None
    if match := re.fullmatch(r"([1-4])/0", typed):
        number = 1 - int(match[1])
    elif re.fullmatch(r"0{1,4}", typed):
        number = 1 - len(typed)
    elif re.fullmatch(r"[1-9][0-9]?", typed):
        number = int(typed)
    if number is None or not copper.THICKEST_AWG <= number <= copper.THINNEST_AWG:
        raise QuantityError(f"{name} must be from 4/0 AWG to {copper.THINNEST_AWG} AWG, not {quoted(text)}.")
    return Gauge(AWG, number, copper.awg_area_mm2(number), copper.awg_label(number))


def _section(typed, text, name):
    try:
        section = read_number(typed, name)
    except QuantityError:
        raise
    except ValueError:
        raise QuantityError(f"{name} must be a number of mm^2. Enter it like 2.5 mm^2, not {quoted(text)}.") from None
    if section not in copper.CLASS_5_PLAIN_OHM_PER_KM:
        known = ", ".join(f"{s:g}" for s in copper.CLASS_5_PLAIN_OHM_PER_KM)
        raise QuantityError(f"{name} must be a nominal section ({known} mm^2), not {quoted(text)}.")
    return Gauge(MM2, section, section, f"{section:g} mm\u00b2")
