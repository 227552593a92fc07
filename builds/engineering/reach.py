"""Whether the client's arm comfortably reaches the control."""

from dataclasses import dataclass
from math import dist

from builds.engineering import guards
from builds.engineering.finding import CHECK, COMMON_PRACTICE, FITS, STOP, Finding, shown_inputs, unknown

SIDES = ("left", "right")


@dataclass(frozen=True)
class Reach:
    distance_mm: float | None
    fraction: float | None
    findings: tuple


def reach(*, side, shoulder_m, control_m, reach_m, comfortable):
    """How far the control lies from the shoulder, as a share of the client's reach.

    Parameters: side: the occupant's left or right [-]; shoulder and control places, x forward, y to the occupant's
    left, z up [m]; reach from the shoulder, measured on this client in this seat, 0.01 to 1.5 [m]; comfortable: share
    of it that can be held without strain, above 0 to 1 [-]; each may be None. Returns distance [mm], share [-],
    findings: `check` beyond the comfortable share, `stop` beyond the reach. A straight line: a body or tray in the
    way is not in it. Raises EngineeringError. Comfortable share of 0.7: common practice.

    >>> arm = reach(side="left", shoulder_m=(0, 0.15, 0.6), control_m=(0.2, 0.15, 0.45), reach_m=0.4, comfortable=0.7)
    >>> round(arm.distance_mm), round(arm.fraction, 3), arm.findings[0].verdict
    (250, 0.625, 'fits')
    """
    guards.choice("Side", side, SIDES)
    shoulder = guards.point("Shoulder", shoulder_m)
    control = guards.point("Control", control_m)
    reach_m = guards.number("Reach", reach_m, "m", minimum=0.01, maximum=1.5)
    comfortable = guards.number("Comfortable share", comfortable, "", above=0, maximum=1)
    distance = None if None in (shoulder, control) else dist(shoulder, control)
    fraction = None if None in (distance, reach_m) else distance / reach_m
    facts = {"side": side, "place of the shoulder": shoulder, "place of the control": control, "reach": reach_m}
    facts["comfortable share"] = comfortable
    missing = [label for label, fact in facts.items() if fact is None]
    found = _finding(fraction, comfortable, missing, _inputs(side, distance, reach_m, comfortable))
    millimetres = None if distance is None else distance * 1000
    return Reach(millimetres, fraction, (found, *_side_finding(side, shoulder)))


def _inputs(side, distance, reach_m, comfortable):
    return shown_inputs(
        side=(side and f"occupant's {side}", ""),
        distance=(distance, "m"),
        reach=(reach_m, "m"),
        comfortable_share=(comfortable, ""),
    )


def _finding(fraction, comfortable, missing, inputs):
    name = "reach to the control"
    formula = "straight distance from shoulder to control over the measured reach, no more than the comfortable share"
    if fraction is not None and fraction > 1:
        return Finding(name, fraction, "", 1.0, STOP, formula, COMMON_PRACTICE, inputs)
    if missing:
        return unknown(name, missing, limit=comfortable, formula=formula, source=COMMON_PRACTICE, inputs=inputs)
    verdict = FITS if fraction <= comfortable else CHECK
    return Finding(name, fraction, "", comfortable, verdict, formula, COMMON_PRACTICE, inputs)


def _side_finding(side, shoulder):
    """Only said when shoulder and side disagree, since left and right are mixed up so easily."""
    if None in (side, shoulder) or shoulder[1] == 0 or (shoulder[1] > 0) == (side == "left"):
        return ()
    other = "left" if shoulder[1] > 0 else "right"
    formula = f"y counts to the occupant's left, so this shoulder is the {other} one"
    return (Finding("side of the shoulder", other, "", side, CHECK, formula, COMMON_PRACTICE),)
