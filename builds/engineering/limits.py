"""Limits that a lab may tighten and never loosen, each beside its source.

A function that judges takes the lab's own value, or None for the limit of the house, and passes both through
`tightened`: whatever the lab's settings say, nothing here ever becomes more lenient.
"""

from dataclasses import dataclass

from builds.engineering import guards
from builds.engineering.finding import COMMON_PRACTICE, plain


@dataclass(frozen=True)
class Limit:
    """`value` in `unit`; where `at_least` holds, more is stricter and `strictest` is the most a lab may ask for."""

    label: str
    value: float
    unit: str
    source: str
    strictest: float
    at_least: bool = False


ABYC = "ABYC E-11 limits of 10 % and 3 % (reprint)"
DROP_POWER = Limit("Voltage drop of a power run", 10.0, "%", ABYC, 0.1)
DROP_CONTROL = Limit("Voltage drop of a control run", 3.0, "%", ABYC, 0.1)
# As printed in fuse sizing notes; the same as the 125 % rule.
FUSE_SHARE = Limit("Continuous load of a fuse, as a share of its rating", 0.80, "", "80 % continuous load", 0.1)
TIP_ANGLE = Limit("Smallest tip angle", 15.0, "\u00b0", COMMON_PRACTICE, 45.0, at_least=True)
TIP_OVER_SLOPE = Limit("Tip angle over the steepest slope", 10.0, "\u00b0", COMMON_PRACTICE, 45.0, at_least=True)
ARM_MARGIN = Limit("Margin of the arm's foot", 2.0, "", COMMON_PRACTICE, 20.0, at_least=True)
LIMITS = (DROP_POWER, DROP_CONTROL, FUSE_SHARE, TIP_ANGLE, TIP_OVER_SLOPE, ARM_MARGIN)


def tightened(limit, lab_value):
    """The limit that holds in a lab: its own where it is stricter, else that of the house.

    Parameters: limit: one of `LIMITS` [-]; lab_value: what the lab asks for, in the unit of the limit [-],
    or None. Returns the limit in that unit [-]. A looser value is refused, never quietly replaced. Raises
    EngineeringError. Source: the limit's own.

    >>> tightened(TIP_ANGLE, None), tightened(TIP_ANGLE, 20), tightened(DROP_POWER, 5)
    (15.0, 20.0, 5.0)
    """
    least, most = sorted((limit.value, limit.strictest))
    own = guards.number(limit.label, lab_value, limit.unit, minimum=least, maximum=most)
    return limit.value if own is None else own


def source_of(limit, lab_value):
    """The source of the limit that holds, saying so where the lab tightened it.

    >>> source_of(TIP_ANGLE, 20)
    'common practice, no source; tightened from 15 ° by the lab'
    """
    if lab_value is None or lab_value == limit.value:
        return limit.source
    return f"{limit.source}; tightened from {plain(limit.value)} {limit.unit}".rstrip() + " by the lab"
