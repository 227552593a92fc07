"""From the readings of one stick axis to a command, so that rest means stop.

No two sticks rest at the same reading, and a client may reach only part of the throw; each axis is fitted by
its own rest, lowest and highest reading.
"""

from dataclasses import dataclass

from builds.engineering import guards
from builds.engineering.finding import CHECK, COMMON_PRACTICE, FITS, EngineeringError, Finding, plain, shown_inputs

# Common practice, no source: shares of half the converter's range.
LEAST_THROW = 0.12
LEAST_DEADBAND = 0.02
SPREADS_IN_DEADBAND = 3.0
LARGEST_DEADBAND_OF_THROW = 0.5
LEAST_FULL_SCALE = 15
LARGEST_FULL_SCALE = 2**24 - 1


@dataclass(frozen=True)
class AxisFit:
    """How one axis turns a reading into a command; spans and deadband in counts from the centre."""

    centre: float
    span_low: float
    span_high: float
    gain_low: float
    gain_high: float
    deadband: float
    reversed: bool
    full_scale: int
    findings: tuple = ()

    def as_dict(self):
        names = ("centre", "span_low", "span_high", "gain_low", "gain_high", "deadband", "reversed", "full_scale")
        return {name: getattr(self, name) for name in names}


def fit_axis(*, name, rest, lowest, highest, full_scale, spread=None, reversed=False):
    """Fits one axis of a stick from three readings.

    gain = 1 / (throw - deadband) on each side; deadband = the larger of 2 % of half range and 3 spreads.
    Parameters: name of the axis, for the errors [-]; rest, lowest, highest reading, 0 to full scale [counts]; full
    scale of the converter, 15 to 16,777,215 [counts]; spread at rest, 0 or more [counts], or None where it was not
    measured; reversed: whether the highest reading is a push back or left [-]. Returns an AxisFit. Refused, with how
    to take it again: a reading outside the converter's range or at its rail, a rest outside lowest to highest, a
    throw below 12 % of half range, a rest too noisy for the throw. Not for a stick that is turned or mirrored. Raises
    EngineeringError. Limits: common practice.

    >>> fit = fit_axis(name="Sideways", rest=512, lowest=100, highest=900, full_scale=1023, spread=2)
    >>> fit.centre, fit.deadband, command(fit, 512), command(fit, 900), command(fit, 100)
    (512.0, 10.23, 0.0, 1.0, -1.0)
    """
    full_scale = guards.whole("Full scale of the converter", full_scale, "counts",
                              minimum=LEAST_FULL_SCALE, maximum=LARGEST_FULL_SCALE)
    if None in (rest, lowest, highest, full_scale):
        raise EngineeringError(f"{name}: enter the rest, the lowest and the highest reading, and the full scale.")
    rest, lowest, highest = _in_range(name, rest, lowest, highest, full_scale)
    spread = guards.number(f"{name}: spread at rest", spread, "counts", minimum=0, maximum=full_scale)
    half_range = full_scale / 2
    span_low, span_high = rest - lowest, highest - rest
    _refuse_short(name, span_low, span_high, half_range)
    deadband = max(LEAST_DEADBAND * half_range, SPREADS_IN_DEADBAND * (spread or 0))
    _refuse_noisy(name, deadband, min(span_low, span_high), spread)
    reversed = bool(guards.answer(f"{name}: reversed", reversed))
    gain_low, gain_high = 1 / (span_low - deadband), 1 / (span_high - deadband)
    found = (_noise_finding(name, spread, deadband),)
    return AxisFit(rest, span_low, span_high, gain_low, gain_high, deadband, reversed, full_scale, found)


def command(fit, reading):
    """The command of an axis, -1 to 1, for a reading.

    Parameters: fit: an AxisFit; reading [counts]. Returns exactly 0 at rest and within the deadband, and
    1 or -1 from the ends of the throw on. A reading that no converter gives, below 0 or above full scale, is refused;
    what the reading of a broken wire means is not decided here. Raises EngineeringError. Source: definition.

    >>> fit = fit_axis(name="Forward", rest=500, lowest=100, highest=900, full_scale=1000, reversed=True)
    >>> command(fit, 505), command(fit, 900)
    (0.0, -1.0)
    """
    reading = guards.number("Reading", reading, "counts", minimum=0, maximum=fit.full_scale)
    if reading is None:
        raise EngineeringError(f"Reading must be from 0 to {fit.full_scale} counts, not unknown.")
    pushed = reading - fit.centre
    beyond = abs(pushed) - fit.deadband
    if beyond <= 0:
        return 0.0
    high = pushed > 0
    if abs(pushed) >= (fit.span_high if high else fit.span_low):
        size = 1.0
    else:
        size = min(beyond * (fit.gain_high if high else fit.gain_low), 1.0)
    return size if high != fit.reversed else -size


def _in_range(name, rest, lowest, highest, full_scale):
    told = (("rest", rest), ("lowest reading", lowest), ("highest reading", highest))
    rest, lowest, highest = (
        guards.number(f"{name}: {label}", value, "counts", minimum=0, maximum=full_scale) for label, value in told
    )
    if lowest <= 0 or highest >= full_scale:
        end, value = ("lowest", lowest) if lowest <= 0 else ("highest", highest)
        raise EngineeringError(
            f"{name}: the {end} reading of {plain(value)} is at the rail of the converter (0 or {full_scale}). "
            "Check the wire and the supply of the stick, then push to the end and read again."
        )
    if not lowest <= rest <= highest:
        raise EngineeringError(
            f"{name}: the rest of {plain(rest)} is outside {plain(lowest)} to {plain(highest)}. "
            "Let go of the stick, wait, and read the rest again; then push to both ends."
        )
    return rest, lowest, highest


def _refuse_short(name, span_low, span_high, half_range):
    least = LEAST_THROW * half_range
    for side, span in (("lower", span_low), ("upper", span_high)):
        if span < least:
            raise EngineeringError(
                f"{name}: the throw to the {side} side is {plain(span)} counts and must be {plain(least)} or more. "
                "Push all the way to that side, hold, and read again; if it stays, the axis does not move."
            )


def _refuse_noisy(name, deadband, throw, spread):
    if deadband > LARGEST_DEADBAND_OF_THROW * throw:
        largest = LARGEST_DEADBAND_OF_THROW * throw / SPREADS_IN_DEADBAND
        raise EngineeringError(
            f"{name}: the spread at rest is {plain(spread or 0)} counts and must be {plain(largest)} or less. "
            "Let go of the stick, check its wires for a loose contact, and read the rest again."
        )


def _noise_finding(name, spread, deadband):
    title, formula = f"{name}: deadband", "the larger of 2 % of half range and three times the spread at rest"
    inputs = shown_inputs(spread_at_rest=(spread, "counts"))
    if spread is None:
        formula += "; the spread was not measured, so the rest may creep"
        return Finding(title, deadband, "counts", None, CHECK, formula, COMMON_PRACTICE, inputs)
    return Finding(title, deadband, "counts", None, FITS, formula, COMMON_PRACTICE, inputs)
