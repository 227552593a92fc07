"""Pictures of a capture in whole picture units: both axes over time, and the plane of the stick.

Long logs are drawn honestly: each column of the picture spans the least and the largest reading that fall into it, and
in the plane each small square is drawn into which a reading fell.
"""

import numpy

from builds.engineering.capture import PUSHES
from builds.engineering.stick_findings import LARGEST_GAP_S
from builds.engineering.stick_fit import pushes_of
from builds.engineering.stick_maths import AIMS, reading_of

LEFT, RIGHT, STRIP, BETWEEN, TOP = 44, 716, 150, 26, 34
COLUMNS = RIGHT - LEFT
SIDE, MARGIN, CELL = 480, 30, 2
HEIGHT = TOP + 2 * STRIP + BETWEEN + 30


def over_time(capture, fit):
    """Two strips, x above y, with the marks behind them."""
    at = _columns(capture)
    return {
        "height": HEIGHT, "marks_y": TOP - 12, "marks_top": TOP, "marks_height": 2 * STRIP + BETWEEN,
        "marks": [_mark(section, at, number) for number, section in enumerate(capture.sections)],
        "strips": [_strip(capture, fit, axis, at) for axis in (0, 1)],
        "is_envelope": len(at) > 2 * COLUMNS, "trace": "trace" if len(at) > 2 * COLUMNS else "trace-line",
        "ends": _ends(capture), "ends_y": HEIGHT - 8, "left": LEFT, "right": RIGHT, "width": COLUMNS,
    }  # fmt: skip


def _columns(capture):
    """The place of each reading across the picture; by its number where the log has no times."""
    along = numpy.arange(len(capture.xy), dtype=float) if capture.times_ms is None else capture.times_ms
    span = float(along[-1] - along[0]) or 1.0
    return LEFT + (along - along[0]) / span * COLUMNS


def _ends(capture):
    if capture.times_ms is None:
        return "reading 1", f"reading {len(capture.xy)}"
    return "0 s", f"{(capture.times_ms[-1] - capture.times_ms[0]) / 1000:.1f} s"


def _mark(section, at, number):
    end = at[section.end] if section.end < len(at) else RIGHT
    left = float(at[section.start]) if section.start < len(at) else RIGHT
    return {"mark": section.mark, "left": round(left, 1), "width": round(float(end) - left, 1),
            "middle": round((left + float(end)) / 2, 1), "shaded": section.mark != "rest"}  # fmt: skip


def _strip(capture, fit, axis, at):
    top = TOP + axis * (STRIP + BETWEEN)
    scale = STRIP / capture.full_scale
    centre = (fit.centre_x, fit.centre_y)[axis]
    high = lambda reading: top + STRIP - reading * scale  # noqa: E731
    return {
        "name": "xy"[axis], "top": top, "height": STRIP, "middle": top + STRIP // 2, "bottom": top + STRIP,
        "full_scale": capture.full_scale, "band_top": round(high(centre + fit.deadband), 1),
        "band_height": round(max(2 * fit.deadband * scale, 1.5), 1), "centre": round(high(centre), 1),
        "path": _trace(at, high(capture.xy[:, axis]), _breaks(capture)),
    }  # fmt: skip


def _breaks(capture):
    """Where the log has a hole: the reading after it."""
    if capture.times_ms is None:
        return []
    return (numpy.flatnonzero(numpy.diff(capture.times_ms) > LARGEST_GAP_S * 1000) + 1).tolist()


def _trace(at, high, breaks):
    """A path through every reading, or, where there are more readings than columns, from least to largest in each."""
    parts = zip(numpy.split(at, breaks), numpy.split(high, breaks), strict=True)
    return "".join(_line(*part) if len(at) <= 2 * COLUMNS else _envelope(*part) for part in parts)


def _line(at, high):
    return "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in zip(at, high, strict=True))


def _envelope(at, high):
    columns = at.astype(int)
    starts = numpy.flatnonzero(numpy.diff(columns, prepend=columns[0] - 1))
    places, upper = columns[starts], numpy.minimum.reduceat(high, starts)
    lower = numpy.maximum.reduceat(high, starts)
    there = [f"{x} {y:.1f}" for x, y in zip(places, upper, strict=True)]
    back = [f"{x} {y:.1f}" for x, y in zip(places[::-1], lower[::-1], strict=True)]
    return "M" + "L".join(there + back) + "Z"


def plane(capture, fit):
    """Seen from above as the stick reads: x to the right, y up the page."""
    scale = (SIDE - 2 * MARGIN) / capture.full_scale
    spot = lambda x, y: (round(MARGIN + x * scale, 1), round(SIDE - MARGIN - y * scale, 1))  # noqa: E731
    pushed = pushes_of(capture)
    return {
        "side": SIDE, "frame": MARGIN, "frame_side": SIDE - 2 * MARGIN,
        "cells": _cells(capture, spot), "centre": dict(zip("xy", spot(fit.centre_x, fit.centre_y), strict=True)),
        "deadband": round(max(fit.deadband * scale, 2), 1),
        "throws": [_throw(mark, fit, spot, pushed[mark]) for mark in PUSHES],
        "outline": " ".join("{},{}".format(*_end(mark, fit, spot)) for mark in ("forward", "right", "back", "left")),
    }  # fmt: skip


def _cells(capture, spot):
    x, y = spot_arrays(capture.xy, spot)
    seen = numpy.unique(numpy.stack([x // CELL, y // CELL]).astype(int), axis=1)
    return "".join(f"M{x * CELL} {y * CELL}h{CELL}v{CELL}h-{CELL}z" for x, y in seen.T.tolist())


def spot_arrays(xy, spot):
    origin, one = spot(0, 0), spot(1000, 1000)
    across, up = (one[0] - origin[0]) / 1000, (one[1] - origin[1]) / 1000
    return origin[0] + xy[:, 0] * across, origin[1] + xy[:, 1] * up


def _end(mark, fit, spot):
    x, y = reading_of(*AIMS[mark], fit.rotation_deg, fit.mirrored)
    throw = getattr(fit, f"throw_{mark}")
    return spot(fit.centre_x + throw * x, fit.centre_y + throw * y)


def _throw(mark, fit, spot, pushed):
    x, y = _end(mark, fit, spot)
    seen_x, seen_y = spot(*pushed)
    middle_x, middle_y = spot(fit.centre_x, fit.centre_y)
    far = ((x - middle_x) ** 2 + (y - middle_y) ** 2) ** 0.5 or 1.0
    beyond, across = (far + 20) / far, (x - middle_x) / far
    return {
        "mark": mark, "x": x, "y": y, "seen_x": seen_x, "seen_y": seen_y,
        "anchor": "end" if across < -0.5 else "start" if across > 0.5 else "middle",
        "label_x": _inside(middle_x + (x - middle_x) * beyond, MARGIN),
        "label_y": _inside(middle_y + (y - middle_y) * beyond + 6, MARGIN),
    }  # fmt: skip


def _inside(place, room):
    return round(min(max(place, room), SIDE - room), 1)
