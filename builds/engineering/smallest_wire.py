"""The thinnest wire that lasts: thinner ones break where they are handled, whatever current they carry."""

from builds.engineering import copper
from builds.engineering.finding import CHECK, FITS, Finding, shown_inputs, unknown

# 33 CFR 183.425 (d), (e): 16 AWG for a wire alone, 18 AWG inside a sheath with other conductors.
ALONE_AWG = 16
IN_SHEATH_AWG = 18
SOURCE = "33 CFR 183.425 (d) and (e)"


def smallest_wire(gauge):
    """Whether a wire is thick enough to be handled.

    Parameters: gauge: a Gauge, or None for unknown [-]. Returns a Finding with the section [mm²]. A wire between
    the two limits, and any thinner one, is to be looked at; nothing here is about current. Source: 33 CFR 183.425.

    >>> from builds.engineering.gauges import parse_gauge
    >>> [smallest_wire(parse_gauge(size)).verdict for size in ("16 AWG", "18 AWG", "22 AWG")]
    ['fits', 'check', 'check']
    """
    name, formula = "thickness of the wire", "16 AWG or thicker alone, 18 AWG or thicker only in a sheath with others"
    alone, sheathed = copper.awg_area_mm2(ALONE_AWG), copper.awg_area_mm2(IN_SHEATH_AWG)
    if gauge is None:
        return unknown(name, "gauge", unit="mm\u00b2", limit=round(alone, 2), formula=formula, source=SOURCE)
    limit = round(alone if gauge.area_mm2 >= sheathed else sheathed, 2)
    verdict = FITS if gauge.area_mm2 >= alone else CHECK
    inputs = shown_inputs(gauge=(gauge.label, ""))
    return Finding(name, round(gauge.area_mm2, 3), "mm\u00b2", limit, verdict, formula, SOURCE, inputs)
