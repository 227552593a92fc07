"""A finding or a result as a lab with US units reads it. The metric figure stays beside it and is what was judged."""

from dataclasses import replace

from builds.engineering import units
from builds.engineering.finding import plain, rounded_beside

# Unit of a finding or a result -> the dimension, and how many of its base unit one of them is.
COUNTERPARTS = {
    "kg": ("mass", 1.0),
    "m": ("length", 1.0),
    "mm": ("length", 0.001),
    "m/s": ("speed", 1.0),
    "km/h": ("speed", 1 / 3.6),
    "\u00b0C": ("temperature", 1.0),
    "N": ("force", 1.0),
    "N\u00b7m": ("moment", 1.0),
}


def us_unit(value, unit):
    """The US unit in which a person would say this value, as the units library names it; None where there is none.

    Parameters: value [unit]; unit: one of `COUNTERPARTS`, or any other [-]. Returns a name [-]. Source: definition.

    >>> us_unit(16, "kg"), us_unit(1.2, "m"), us_unit(178, "mm"), us_unit(12, "A")
    ('lb', 'ft', 'in', None)
    """
    if unit not in COUNTERPARTS:
        return None
    name, factor = COUNTERPARTS[unit]
    steps = units.DIMENSIONS[name].us
    return next((us for least, us in steps if abs(value * factor) >= least or value * factor >= least), steps[-1][1])


def converted(value, unit, to):
    """A value [unit] in the US unit named by `us_unit`. Returns a number [to]. Source: definition of the units.

    >>> round(converted(25, "kg", "lb"), 3), round(converted(3.6, "km/h", "mph"), 4)
    (55.116, 2.2369)
    """
    name, factor = COUNTERPARTS[unit]
    return units.from_base(value * factor, to, units.DIMENSIONS[name])


def in_us_units(finding):
    """The same finding with value and limit in one US unit; None where the unit has no US counterpart.

    Parameters: finding: a Finding [-]. Returns a Finding, judged as before, or None [-]. The limit is rounded for
    reading and stays on its side of the value. A limit in words is left to the metric finding. Source: the finding's
    own.

    >>> from builds.engineering.finding import Finding
    >>> load = Finding("load", 18.1, "kg", 25.0, "fits", "sum", "rating")
    >>> in_us_units(load).shown, in_us_units(load).unit, in_us_units(load).limit
    ('39.9', 'lb', 55.1)
    """
    is_number = isinstance(finding.value, (int, float)) and not isinstance(finding.value, bool)
    to = us_unit(finding.value, finding.unit) if is_number else None
    if to is None or isinstance(finding.limit, str):
        return None
    value, unit = converted(finding.value, finding.unit, to), units.WRITTEN.get(to, to)
    if finding.limit is None:
        return replace(finding, value=value, unit=unit)
    if finding.limit == finding.value:
        both = float(plain(value))
        return replace(finding, value=both, limit=both, unit=unit)
    limit = converted(finding.limit, finding.unit, to)
    return replace(finding, value=value, limit=float(rounded_beside(limit, value)), unit=unit)
