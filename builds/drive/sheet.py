"""Calibrations as a person reads them: as found beside as left, what was computed, and a picture of each axis."""

from builds.drive.captures import fit_in_use
from builds.drive.rules import AXES, axis_fit, neutral_at_rest, why_not_accepted
from builds.engineering.finding import plain
from builds.engineering.quantities import format_quantity
from builds.engineering.speed import timed_runs
from labsite.units import lab_units

READINGS = (("rest", "Rest"), ("low", "Lowest"), ("high", "Highest"), ("spread", "Spread at rest"))
PICTURE_WIDTH, MARGIN = 640, 20


def calibration_rows(build):
    """The newest first; each as-left beside the last as-found of its side before it."""
    rows, found = [], {}
    now = build.configuration()
    by_fit = now is not None and fit_in_use(build, now) is not None
    for one in sorted(build.calibrations.all(), key=lambda row: row.pk):
        before = None
        if not one.is_struck:
            before = found.pop(one.side, None) if one.when == one.When.AS_LEFT else None
            if one.when == one.When.AS_FOUND:
                found[one.side] = one
        rows.append(calibration_row(one, before, now, by_fit))
    return list(reversed(rows))


def calibration_row(one, before, now, by_fit):
    in_use = now is not None and now.calibration_id == one.pk and not by_fit
    return {
        "calibration": one,
        "axes": [axis_row(one, axis, name, before) for axis, name in AXES.items()],
        "before": before,
        "is_neutral": neutral_at_rest(one),
        "is_in_use": in_use and now.side == one.side,
        "may_be_accepted": not in_use and not why_not_accepted(one),
        "why_not": why_not_accepted(one),
        "moves_side": now is not None and now.side != one.side,
    }


def axis_row(one, axis, name, before):
    fit = axis_fit(one, axis)
    kept = one.fit.get(axis, {})
    return {
        "name": name,
        "readings": [reading_row(one, before, f"{axis}_{ending}", label) for ending, label in READINGS],
        "fit": fit,
        "computed": computed(fit),
        "working": kept.get("findings", []),
        "picture": picture(one, axis, fit) if fit else None,
        "in_words": in_words(one, axis, fit) if fit else "",
    }


def reading_row(one, before, name, label):
    left = getattr(one, name)
    found = getattr(before, name) if before else None
    change = f"{left - found:+.4g}" if None not in (left, found) else ""
    return {"label": label, "now": said(left), "found": said(found), "change": change}


def said(value):
    return "unknown" if value is None else plain(value, 6)


def computed(fit):
    """(what, value, working) of one axis."""
    if fit is None:
        return []
    return [
        ("Centre", plain(fit.centre, 6), "the reading at rest"),
        ("Gain below the centre", plain(fit.gain_low, 5), f"1 / (throw {plain(fit.span_low, 6)} - deadband)"),
        ("Gain above the centre", plain(fit.gain_high, 5), f"1 / (throw {plain(fit.span_high, 6)} - deadband)"),
        ("Deadband", f"{plain(fit.deadband, 5)} counts each way", "the larger of 2 % of half range and 3 spreads"),
        ("Pushed right or forward, the reading", "falls" if fit.reversed else "rises", "as recorded"),
    ]


def picture(one, axis, fit):
    """Places along a line as wide as the converter's range, in whole picture units."""

    def at(reading):
        return round(MARGIN + reading / fit.full_scale * (PICTURE_WIDTH - 2 * MARGIN))

    low, high = at(getattr(one, f"{axis}_low")), at(getattr(one, f"{axis}_high"))
    dead_low, dead_high = at(fit.centre - fit.deadband), at(fit.centre + fit.deadband)
    return {
        "low": low,
        "throw": high - low,
        "high": high,
        "dead_low": dead_low,
        "dead": max(dead_high - dead_low, 2),
        "rest": at(fit.centre),
    }


def in_words(one, axis, fit):
    low, high = getattr(one, f"{axis}_low"), getattr(one, f"{axis}_high")
    return (
        f"{AXES[axis]}: rests at {plain(fit.centre, 6)}; neutral from {plain(fit.centre - fit.deadband, 6)} to "
        f"{plain(fit.centre + fit.deadband, 6)}; the client reaches {plain(low, 6)} to {plain(high, 6)} of 0 to "
        f"{fit.full_scale}."
    )


def timed_rows(build, counting):
    counts = {one.pk for one in counting}
    return [timed_row(one, one.pk in counts) for one in sorted(build.timed_runs.all(), key=lambda row: -row.pk)]


def timed_row(one, counts):
    measured = timed_runs(distance_m=one.distance_m, times_s=one.times_s)
    speed = lambda value: format_quantity(value, "speed", system=lab_units())  # noqa: E731
    return {
        "runs": one,
        "times": ", ".join(plain(time) for time in one.times_s),
        "fastest": speed(measured.fastest_m_s),
        "mean": speed(measured.speed_m_s),
        "spread": speed(measured.spread_m_s),
        "counts": counts,
    }
