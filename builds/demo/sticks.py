"""Logs of sticks that never were, made from what the fit has to find: for the demo lab and for the tests.

The same seed makes the same log. A stick whose base is turned anticlockwise by t carries its axes with it: x points to
(cos t, sin t), y to (-sin t, cos t), and a push reads as its share along each. Mirrored swaps left and right.
"""

from dataclasses import dataclass, replace
from math import cos, pi, radians, sin

import numpy

TOWARDS = {"forward": (0.0, 1.0), "back": (0.0, -1.0), "left": (-1.0, 0.0), "right": (1.0, 0.0)}
REACTION_S, MOVING_S = 0.3, 0.15


@dataclass(frozen=True)
class MadeStick:
    """Throws are shares of half range by push; noise, drift from first to last reading and tremor are in counts."""

    bits: int = 10
    centre: tuple = (508.0, 521.0)
    turn_deg: float = 0.0
    mirrored: bool = False
    throws: tuple = (0.8, 0.75, 0.7, 0.78)
    noise: float = 1.2
    drift: float = 0.0
    tremor_hz: float | None = None
    tremor: float = 20.0
    rate_hz: float = 200.0
    times: bool = True
    order: tuple = ("rest", "forward", "rest", "back", "rest", "left", "rest", "right", "rest")
    seconds: float = 2.0
    hold_s: float = 6.0
    seed: int = 1

    def but(self, **changes):
        return replace(self, **changes)

    @property
    def half_range(self):
        return (2**self.bits - 1) / 2

    def throw(self, mark):
        return self.throws[list(TOWARDS).index(mark)] * self.half_range


def readings_of(stick):
    """(mark, readings as an array of x, y) of each part, before rounding."""
    chance = numpy.random.default_rng(stick.seed)
    parts, place = [], numpy.zeros(2)
    for mark in stick.order:
        count = int(stick.rate_hz * (stick.hold_s if mark == "hold" else stick.seconds))
        times = numpy.arange(count) / stick.rate_hz
        goal = _place(stick, "forward" if mark == "hold" else mark)
        along = numpy.clip((times - REACTION_S * (place != goal).any()) / MOVING_S, 0, 1)[:, None]
        away = place + along * (goal - place)
        if mark == "hold" and stick.tremor_hz:
            away = away + stick.tremor * numpy.outer(numpy.sin(2 * pi * stick.tremor_hz * times), (0.8, 0.6))
        parts.append((mark, away + chance.normal(0, stick.noise, (count, 2)) + stick.centre))
        place = goal
    total = sum(len(readings) for _, readings in parts)
    drift = numpy.linspace(0, stick.drift, total)[:, None] * (0.6, 0.8)
    drifting, at = [], 0
    for mark, readings in parts:
        drifting.append((mark, readings + drift[at : at + len(readings)]))
        at += len(readings)
    return drifting


def log_of(stick, note=""):
    """The log as the serial monitor of a controller would show it."""
    lines, at = ([f"# {note}"] if note else []), 0
    for mark, readings in readings_of(stick):
        lines.append(f"# {mark}")
        for x, y in numpy.rint(readings).astype(int).clip(0, 2**stick.bits - 1).tolist():
            lines.append(f"{round(at * 1000 / stick.rate_hz)},{x},{y}" if stick.times else f"{x},{y}")
            at += 1
    return "\n".join(lines) + "\n"


def _place(stick, mark):
    if mark not in TOWARDS:
        return numpy.zeros(2)
    across, ahead = TOWARDS[mark]
    if stick.mirrored:
        across = -across
    turn = radians(stick.turn_deg)
    along_x = across * cos(turn) + ahead * sin(turn)
    along_y = ahead * cos(turn) - across * sin(turn)
    return numpy.array([along_x, along_y]) * stick.throw(mark)
