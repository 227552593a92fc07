"""What makes a capture useless for a fit: each refusal says what is wrong and how to take the capture again."""

from math import hypot, sqrt

from builds.engineering.capture import AGAIN, PUSHES, REST
from builds.engineering.finding import EngineeringError, plain

# Common practice, no source. Shares of half the converter's range:
LEAST_THROW = 0.12
NO_RETURN = 0.10  # a stick whose rests lie so far apart did not come back
DEAD_AXIS = 0.04
FEWEST_REST, FEWEST_PUSH = 20, 10  # readings
SHORTEST_REST_S, SHORTEST_PUSH_S = 0.5, 0.2
WRONG_DEG = 35.0
_AGAIN = AGAIN[:1].lower() + AGAIN[1:]


def refuse_useless(capture):
    """A capture that lacks a place, is too short in one, or reads at the rail."""
    _refuse_missing(capture)
    for mark in (REST, *PUSHES):
        _refuse_few(capture, mark)
    _refuse_rail(capture)


def refuse_no_return(spread, half):
    if spread > NO_RETURN * half:
        raise EngineeringError(
            f"The stick did not come back: its rests lie {plain(spread)} counts apart, and {plain(NO_RETURN * half)} "
            f"or less is needed. {AGAIN} with the hand off after each # rest; if it stays, the stick is worn or "
            "something rubs."
        )


def refuse_pushes(pushed, counts, noise, spread, half):
    """Pushes of an axis that does not move, too short, or to one side; by mark, with how many readings each has."""
    _refuse_dead_axis(pushed, half)
    for mark, push in pushed.items():
        # What medians of whole counts and of noise can miss, and a rest that drifts: the least throw itself is fitted.
        _refuse_short(mark, hypot(*push), sqrt(2) + spread / 2 + 3 * 1.2533 * noise / sqrt(counts[mark]), half)
    _refuse_one_side(pushed)


def _refuse_missing(capture):
    lacking = [mark for mark in (REST, *PUSHES) if not capture.of(mark)]
    if lacking:
        told = ", ".join(f"# {mark}" for mark in lacking)
        raise EngineeringError(
            f"The capture has nothing after {told}. {AGAIN}: hands off after # rest, and push and hold after each of "
            "# forward, # back, # left and # right."
        )

def _refuse_few(capture, mark):
    sections = capture.of(mark)
    count = sum(section.end - section.start for section in sections)
    fewest, shortest = (FEWEST_REST, SHORTEST_REST_S) if mark == REST else (FEWEST_PUSH, SHORTEST_PUSH_S)
    if count < fewest:
        readings = "1 reading" if count == 1 else f"{count} readings"
        raise EngineeringError(
            f"The capture is too short: {readings} after # {mark}, and {fewest} or more are needed. {AGAIN} and stay "
            "two seconds in each place."
        )
    if capture.times_ms is None:
        return
    lasted = sum(capture.times_ms[section.end - 1] - capture.times_ms[section.start] for section in sections) / 1000
    if lasted < shortest * (1 - 1 / fewest):  # the last reading ends before the section does
        raise EngineeringError(
            f"The capture is too short: {plain(lasted, 2)} s after # {mark}, and {plain(shortest)} s or more are "
            f"needed. {AGAIN} and stay two seconds in each place."
        )


def _refuse_rail(capture):
    if capture.xy.min() > 0 and capture.xy.max() < capture.full_scale:
        return
    for section in capture.sections:
        readings = capture.xy[section.start : section.end]
        if not len(readings):
            continue
        for value, found in ((0, readings.min()), (capture.full_scale, readings.max())):
            if found == value:
                axis = "x" if value in readings[:, 0] else "y"
                raise EngineeringError(
                    f"{axis} reads {value} after # {section.mark}, the rail of the converter. A wire or the supply of "
                    "the stick is off, or the stick gives more than the converter takes: mend that, then "
                    f"{_AGAIN}."
                )


def _refuse_dead_axis(pushed, half):
    for at, axis in enumerate("xy"):
        moved = max(abs(push[at]) for push in pushed.values())
        if moved < DEAD_AXIS * half:
            raise EngineeringError(
                f"{axis} does not move: {plain(moved)} counts at the most in all four pushes. Check the wire and the "
                f"supply of that axis, then {_AGAIN}."
            )


def _refuse_short(mark, throw, missed, half):
    if throw + missed < LEAST_THROW * half:
        raise EngineeringError(
            f"The push after # {mark} goes {plain(throw)} counts and must go {plain(LEAST_THROW * half)} or more. "
            f"{AGAIN} with a push held that way; if the client reaches no further, move or change the stick."
        )


def _refuse_one_side(pushed):
    for one, other in (("forward", "back"), ("left", "right")):
        first, second = pushed[one], pushed[other]
        if first[0] * second[0] + first[1] * second[1] > 0:
            raise EngineeringError(
                f"The pushes after # {one} and # {other} go to one side. One of the marks is wrong or the stick was "
                f"pushed the same way twice: {_AGAIN}, one push after each mark."
            )


def refuse_wrong_marks(off):
    mark = max(off, key=off.get)
    if off[mark] > WRONG_DEG:
        raise EngineeringError(
            f"No turn and no mirror of the stick explains the four pushes: # {mark} points {plain(off[mark], 2)}\u00b0 "
            f"away from where it should. Two marks are swapped or a push went askew: {_AGAIN}, "
            "each mark before its own push."
        )


def refuse_restless(deadband, throws):
    mark = min(throws, key=throws.get)
    if deadband >= throws[mark]:
        raise EngineeringError(
            f"The rest is too restless: the deadband would be {plain(deadband)} counts, and the push after # {mark} "
            f"goes only {plain(throws[mark])}. Hands off the stick after # rest, check its wires for a loose contact, "
            f"then {_AGAIN}."
        )
