"""From a capture of a stick to the numbers that make this stick, on this arm, for this hand, rest at neutral.

Readings are taken as they come from the converter, x to the right and y forward where the stick stands straight. How
far it is turned, whether it is mirrored, where it rests and how far this client pushes is fitted from marked pushes.
"""

from dataclasses import dataclass
from itertools import combinations
from math import dist, hypot

from builds.engineering.capture import HOLD, PUSHES, REST
from builds.engineering.finding import EngineeringError, Finding, plain
from builds.engineering.stick_findings import (
    LARGEST_GAP_S,
    gap_findings,
    push_findings,
    rest_findings,
    tremor_findings,
)
from builds.engineering.stick_maths import (
    AIMS,
    SIGMA_PER_MAD,
    angles_off,
    cutoff_for,
    evenly,
    lag_of,
    medians_of,
    sigma_of,
    tremor_peak,
    turn_and_mirror,
)
from builds.engineering.stick_refusals import (
    refuse_no_return,
    refuse_pushes,
    refuse_restless,
    refuse_useless,
    refuse_wrong_marks,
)

# Common practice, no source. Shares of half the converter's range:
LEAST_DEADBAND = 0.02
LEAST_TREMOR = 0.004
# Five sigma, so that not one of a hundred thousand readings at rest moves the cart.
SIGMAS_IN_DEADBAND = 5.0
HIDDEN_BY_ROUNDING = SIGMA_PER_MAD / 2  # a median of whole counts is off by half a count at the most
SETTLING = 0.5  # the first part of a rest after a push, in which the hand lets go and the stick comes back
FURTHEST, HELD = 0.9, 0.5  # held: further out than half of what nine in ten readings stay below
SHORTEST_HOLD_S = 2.0
SLOWEST_FOR_TREMOR_HZ = 30.0


@dataclass(frozen=True)
class StickFit:
    """Centres, noise, spread, deadband and throws in counts, turn in degrees, tremor in Hz, lag in ms.

    The deadband is a radius about the rest centre. At `rotation_deg` t, a push towards (x right, y forward) reads as
    (x cos t + y sin t, y cos t - x sin t) times the throw, with x negated first where `mirrored`. `return_spread` is
    None where the stick was never seen to come back; `tremor_hz`, `cutoff_hz` and `lag_ms` are None where no tremor
    is known.
    """

    centre_x: float
    centre_y: float
    noise: float
    return_spread: float | None
    rotation_deg: float
    mirrored: bool
    deadband: float
    throw_forward: float
    throw_back: float
    throw_left: float
    throw_right: float
    tremor_hz: float | None
    cutoff_hz: float | None
    lag_ms: float | None
    adc_bits: int
    findings: tuple = ()

    def as_dict(self):
        told = {name: getattr(self, name) for name in NAMES}
        return told | {"findings": [finding.as_dict() for finding in self.findings]}


NAMES = (
    "centre_x", "centre_y", "noise", "return_spread", "rotation_deg", "mirrored", "deadband", "throw_forward",
    "throw_back", "throw_left", "throw_right", "tremor_hz", "cutoff_hz", "lag_ms", "adc_bits",
)  # fmt: skip


@dataclass(frozen=True, eq=False)
class _Rest:
    """`readings` are those of all settled rests; `spread` is None where none was seen after a push."""

    centre: tuple
    noise: float
    spread: float | None
    readings: object

    def outside(self, deadband):
        """How many readings lie beyond the deadband."""
        return int((_squares_away(self.readings, self.centre) > deadband**2).sum())


def fit_of(told):
    """The fit that `as_dict` told [-]. Source: definition.

    >>> made = StickFit(512, 510, 1, 2, 0, False, 11, 300, 300, 300, 300, None, None, None, 10)
    >>> fit_of(made.as_dict()) == made
    True
    """
    findings = tuple(
        Finding(**{**finding, "inputs": tuple(tuple(pair) for pair in finding["inputs"])})
        for finding in told["findings"]
    )
    return StickFit(**{name: told[name] for name in NAMES}, findings=findings)


def fit_stick(capture):
    """Fits a stick to a capture with a rest and the four pushes.

    Rest centre: medians; noise: sigma from the MAD of the larger axis; return spread: the furthest two rests apart;
    turn and mirror: orthogonal Procrustes over the pushes as directions; throw: from the centre to the median of the
    held push; deadband: the larger of 2 % of half range, and 5 sigma (with 0.74 counts that rounding can hide) plus
    the return spread; tremor: peak of the spectrum of the hold from 2 to 12 Hz; cutoff: half the tremor.
    Parameters: capture: a Capture [counts]. Returns a StickFit [counts, deg, Hz, ms]. Refused, with how to take it
    again: no rest, too few readings, a reading at the rail, an axis that does not move, a throw below 12 % of half
    range, opposite pushes to one side, pushes that neither a turn nor a mirror explains, no return to rest, a
    deadband as large as a throw. Mirrored is `check`, never cured. Raises EngineeringError. Sources 1 to 4; limits:
    common practice.

    >>> from builds.engineering.capture import read_capture
    >>> held = {"rest": "512 500", "forward": "812 500", "back": "212 500", "left": "512 800", "right": "512 200"}
    >>> log = "".join(f"# {mark}\\n" + f"{reading}\\n" * 20 for mark, reading in held.items())
    >>> fit = fit_stick(read_capture(log + "# rest\\n" + "512 500\\n" * 20))
    >>> fit.rotation_deg, fit.mirrored, fit.throw_left, fit.return_spread, fit.tremor_hz
    (90.0, False, 300.0, 0.0, None)
    """
    if capture is None:
        raise EngineeringError("Enter the capture.")
    refuse_useless(capture)
    half, rest = capture.half_range, _rest(capture)
    held = {mark: _held(capture, mark, rest.centre) for mark in PUSHES}
    pushed = {mark: (median[0] - rest.centre[0], median[1] - rest.centre[1]) for mark, (median, _) in held.items()}
    refuse_pushes(pushed, {mark: count for mark, (_, count) in held.items()}, rest.noise, rest.spread or 0.0, half)
    rotation, mirrored = turn_and_mirror([pushed[mark] for mark in PUSHES], [AIMS[mark] for mark in PUSHES])
    off = angles_off(pushed, rotation, mirrored)
    refuse_wrong_marks(off)
    throws = {mark: hypot(*push) for mark, push in pushed.items()}
    restless = SIGMAS_IN_DEADBAND * (rest.noise + HIDDEN_BY_ROUNDING) + (rest.spread or 0.0)
    deadband = max(LEAST_DEADBAND * half, restless)
    refuse_restless(deadband, throws)
    tremor, lacking = _tremor(capture)
    cutoff = None if tremor is None else cutoff_for(tremor)
    lag = None if tremor is None else lag_of(cutoff)
    findings = (
        *rest_findings(rest, deadband, min(throws.values()), half),
        *push_findings(rotation, mirrored, off, throws, half),
        *tremor_findings(tremor, cutoff, lag, lacking),
        *gap_findings(_widest_gap_s(capture)),
    )
    return StickFit(
        *rest.centre, rest.noise, rest.spread, rotation, mirrored, deadband, *throws.values(), tremor, cutoff, lag,
        capture.adc_bits, findings,
    )  # fmt: skip


def settled_rests(capture):
    """The readings of each rest without its beginning, in which the stick still comes back from a push.

    Parameters: capture: a Capture [counts]. Returns a list of arrays [counts]: the whole of a rest that follows no
    push, and the second half of one that does. Source: definition.

    >>> from builds.engineering.capture import read_capture
    >>> log = "# rest\\n" + "5 5\\n" * 8 + "# left\\n1 5\\n# rest\\n" + "5 5\\n" * 8
    >>> [len(rest) for rest in settled_rests(read_capture(log))]
    [8, 4]
    """
    rests, moved = [], False
    for section in capture.sections:
        length = section.end - section.start
        if section.mark == REST and length:
            rests.append(capture.xy[section.start + (int(SETTLING * length) if moved else 0) : section.end])
        moved = section.mark != REST and (moved or length > 0)
    return rests


def pushes_of(capture):
    """Where each push was held, as it reads.

    Parameters: capture: a Capture with a rest and the four pushes [counts]. Returns {mark: (x, y)} [counts], the
    median of each held push. Source: definition.

    >>> from builds.engineering.capture import read_capture
    >>> log = "".join(f"# {mark}\\n" + f"{at},500\\n" * 20 for at, mark in enumerate(("rest", *PUSHES), 500))
    >>> pushes_of(read_capture(log))["left"]
    (503.0, 500.0)
    """
    centre = _rest(capture).centre
    return {mark: tuple(_held(capture, mark, centre)[0]) for mark in PUSHES}


def _rest(capture):
    import numpy

    rests = settled_rests(capture)
    medians = [medians_of(rest) for rest in rests]
    noise = sigma_of(numpy.concatenate([rest - median for rest, median in zip(rests, medians, strict=True)]))
    spread = _furthest_apart(medians) if _came_back(capture) else None
    refuse_no_return(_furthest_apart(medians), capture.half_range)
    readings = rests[0] if len(rests) == 1 else numpy.concatenate(rests)
    centre = medians[0] if len(rests) == 1 else medians_of(readings)
    return _Rest((float(centre[0]), float(centre[1])), noise, spread, readings)


def _came_back(capture):
    """Whether a rest was seen before a push and one after it."""
    marks = [section.mark for section in capture.sections if section.end > section.start]
    first = marks.index(REST)
    pushed = [at for at, mark in enumerate(marks) if at > first and mark != REST]
    return bool(pushed) and REST in marks[pushed[0] :]


def _furthest_apart(points):
    return max((dist(*pair) for pair in combinations([point.tolist() for point in points], 2)), default=0.0)


def _held(capture, mark, centre):
    """The median of the held push, and of how many readings."""
    import numpy

    parts = [capture.xy[section.start : section.end] for section in capture.of(mark)]
    readings = parts[0] if len(parts) == 1 else numpy.concatenate(parts)
    out = _squares_away(readings, centre)
    far = int(FURTHEST * (len(out) - 1))
    held = readings[out >= HELD**2 * numpy.partition(out, far)[far]]
    return medians_of(held).tolist(), len(held)


def _squares_away(readings, centre):
    x, y = readings[:, 0] - centre[0], readings[:, 1] - centre[1]
    return x * x + y * y


def _tremor(capture):
    """The frequency of the tremor in the hold or None, and what is missing where it cannot be known."""
    holds = capture.of(HOLD)
    if not holds:
        return None, "a part of the capture after # hold"
    if capture.times_ms is None:
        return None, "times in the capture (ms,x,y)"
    longest = max(holds, key=lambda section: section.end - section.start)
    times = capture.times_ms[longest.start : longest.end] / 1000
    steps = times[1:] - times[:-1]
    lasted = float(times[-1] - times[0])
    if lasted < SHORTEST_HOLD_S * 0.98:
        return None, f"a hold of {plain(SHORTEST_HOLD_S)} s or more"
    rate = len(steps) / lasted
    if rate < SLOWEST_FOR_TREMOR_HZ:
        return None, f"{plain(SLOWEST_FOR_TREMOR_HZ)} readings a second or more in the hold"
    if steps.max() > LARGEST_GAP_S:
        return None, f"a hold without gaps of more than {plain(LARGEST_GAP_S)} s"
    readings = evenly(times, capture.xy[longest.start : longest.end])
    return tremor_peak(readings, rate, LEAST_TREMOR * capture.half_range), ""


def _widest_gap_s(capture):
    if capture.times_ms is None:
        return None
    steps = capture.times_ms[1:] - capture.times_ms[:-1]
    within = [steps[section.start : max(section.start, section.end - 1)] for section in capture.sections]
    return max(float(part.max()) / 1000 for part in within if len(part))


