"""The fit of a stick, 60 s at 200 Hz on both axes: our time beside the bare calls it cannot do without.

Those calls: the median of each rest and of all rests, the median deviation, the median of each held push, the singular
values, and the spectrum of the hold.

Run: .venv/bin/python tests/bench/bench_stick_fit.py
"""

import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
LIMIT = 2.0
ROUNDS, LOOPS = 7, 20
PUSHES = ("forward", "back", "left", "right")


def made_capture():
    from builds.demo.sticks import MadeStick, log_of
    from builds.engineering.capture import read_capture

    order = ("rest", "forward", "rest", "back", "rest", "left", "rest", "right", "rest", "hold", "rest")
    log = log_of(MadeStick(order=order, seconds=4.0, hold_s=20.0, tremor_hz=5.0, turn_deg=30, noise=1.5))
    started = time.perf_counter()
    capture = read_capture(log)
    return capture, time.perf_counter() - started


def bare(capture):
    """The same work without a question asked: no refusal, no finding, no word."""
    import numpy

    parts = {}
    for section in capture.sections:
        parts.setdefault(section.mark, []).append(capture.xy[section.start : section.end])
    rests = [parts["rest"][0], *(rest[len(rest) // 2 :] for rest in parts["rest"][1:])]
    medians = [numpy.median(rest, axis=0) for rest in rests]
    numpy.median(abs(numpy.concatenate([r - m for r, m in zip(rests, medians, strict=True)])), axis=0)
    centre = numpy.median(numpy.concatenate(rests), axis=0)
    pushes = numpy.array([numpy.median(parts[mark][0], axis=0) - centre for mark in PUSHES])
    numpy.linalg.svd(pushes.T @ numpy.array([(0, 1), (0, -1), (-1, 0), (1, 0)], dtype=float))
    hold, window = parts["hold"][0], numpy.hanning(800)
    pieces = numpy.stack([hold[at : at + 800].T for at in range(0, len(hold) - 799, 400)])
    power = abs(numpy.fft.rfft(pieces * window, axis=2)) ** 2
    numpy.median(power.sum(axis=1).mean(axis=0)[6:50])


def best_of(*works):
    """The best time of each, taken in turns, so that a busy machine slows all alike."""
    times = [[] for _ in works]
    for _ in range(ROUNDS):
        for work, taken in zip(works, times, strict=True):
            started = time.perf_counter()
            for _ in range(LOOPS):
                work()
            taken.append((time.perf_counter() - started) / LOOPS)
    return [min(taken) for taken in times]


def compare():
    from builds.engineering.stick_fit import fit_stick

    capture, reading_s = made_capture()
    fit_stick(capture), bare(capture)
    ours, alone = best_of(lambda: fit_stick(capture), lambda: bare(capture))
    words = f"fit of a stick, {len(capture.xy)} readings"
    print(f"{words:<34}{'ours':>8}{'bare calls':>12}{'ratio':>8}{'limit':>8}")
    words = f"ms, best of {ROUNDS}"
    print(f"{words:<34}{ours * 1e3:>8.2f}{alone * 1e3:>12.2f}{ours / alone:>8.2f}{LIMIT:>8.2f}")
    print(f"{'reading the log, once':<34}{reading_s * 1e3:>8.1f}")
    return 0 if ours / alone <= LIMIT else 1


if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))
    sys.exit(compare())
