"""What each setting of the drive does to the way it takes to stop and to the time to full speed."""

from dataclasses import dataclass

from builds.engineering import guards
from builds.engineering.finding import (
    CHECK,
    COMMON_PRACTICE,
    FITS,
    STOP,
    UNKNOWN,
    Finding,
    plain,
    shown_inputs,
    unknown,
)
from builds.engineering.speed import braking_distance

DEFINITION = "definition"
# 1. Common practice, no source: families name the lurch at the start and quick acceleration as barriers of ride-ons.
LEAST_RISE_S = 0.5
# 2. Common practice, no source: the adult beside it reaches as far without a step.
ARMS_LENGTH_M = 0.5
HALF_PUSH = 0.5
COAST, BRAKE = "coast", "brake"


@dataclass(frozen=True)
class DriveEffects:
    """Ways in metres, times in seconds, shares of full command; None where something is unknown."""

    full_after_s: float | None
    release_m: float | None
    with_reaction_m: float | None
    late_m: float | None
    easing_m: float | None
    reverse_m_s: float | None
    reverse_m: float | None
    spin_share: float | None
    half_push_m_s: float | None
    half_push_m: float | None
    findings: tuple


@dataclass(frozen=True)
class MeasuredStop:
    deceleration_m_s2: float | None
    findings: tuple


def drive_effects(
    *, ceiling_m_s, slew_up_per_s, slew_down_per_s, reverse_gain, turn_gain, expo, at_signal_end, deceleration_m_s2,
    reaction_s=None, late_ms=None,
):  # fmt: skip
    """What each setting does to the way it takes to stop and to the time until full speed.

    Full command comes 1 / rise after the push; letting go never waits for the fall, easing the stick may: while the
    command falls evenly the cart goes on for half of full speed times 1 / fall. Ways to stop are v^2 / 2a from the
    speed in question, with a the measured deceleration, plus speed times reaction. A push of half the throw commands
    (1 - expo) / 2 + expo / 8.
    Parameters: ceiling of the position, above 0 to 20 [m/s]; slew up, 0.1 to 50, and slew down, 1 to 50 [per s] of
    full command; reverse gain, 0 to 1 [-]; turn gain, 0 to 2 [-]; expo, 0 to 1 [-]; at signal end: coast or brake;
    deceleration as measured, 0.01 to 20 [m/s^2]; reaction of the person who stops it, 0 to 10 [s]; late: the longest
    time until a late reading gives neutral, 0 to 1000 [ms]; each may be None. Returns times [s], ways [m], speeds
    [m/s], shares [-] and findings. Level ground; the motors may take longer than the command. Raises
    EngineeringError. Limits 1 and 2: common practice.

    >>> found = drive_effects(ceiling_m_s=1.0, slew_up_per_s=1, slew_down_per_s=4, reverse_gain=0.5, turn_gain=0.7,
    ...                       expo=0.5, at_signal_end="brake", deceleration_m_s2=2.0, reaction_s=1)
    >>> found.full_after_s, found.release_m, found.with_reaction_m, found.easing_m, found.half_push_m_s
    (1.0, 0.25, 1.25, 0.125, 0.3125)
    """
    ceiling = guards.number("Ceiling", ceiling_m_s, "m/s", above=0, maximum=20)
    up = guards.number("Rise of the command", slew_up_per_s, "per second", minimum=0.1, maximum=50)
    down = guards.number("Fall of the command", slew_down_per_s, "per second", minimum=1, maximum=50)
    reverse = guards.number("Reverse gain", reverse_gain, "", minimum=0, maximum=1)
    turn = guards.number("Turn gain", turn_gain, "", minimum=0, maximum=2)
    expo = guards.number("Expo shape", expo, "", minimum=0, maximum=1)
    guards.choice("At the end of the signal", at_signal_end, (COAST, BRAKE))
    braking = guards.number("Deceleration", deceleration_m_s2, "m/s\u00b2", minimum=0.01, maximum=20)
    reaction = guards.number("Reaction", reaction_s, "s", minimum=0, maximum=10)
    late = guards.number("Time until neutral", late_ms, "ms", minimum=0, maximum=1000)
    full_after = None if up is None else 1 / up
    release = _way(ceiling, braking)
    with_reaction = None if None in (release, reaction) else release + ceiling * reaction
    late_m = None if None in (release, late) else release + ceiling * late / 1000
    easing = None if None in (ceiling, down) else ceiling / (2 * down)
    back = None if None in (ceiling, reverse) else ceiling * reverse
    spin = None if turn is None else min(turn, 1.0)
    half = None if None in (ceiling, expo) else ceiling * _shaped(HALF_PUSH, expo)
    reverse_m, half_m = _way(back, braking), _way(half, braking)
    findings = (
        _rise_finding(full_after, up),
        _release_finding(release, ceiling, braking, at_signal_end),
        _told("way to stop with reaction", with_reaction, "m", "way to stop plus speed times reaction",
              ceiling=(ceiling, "m/s"), deceleration=(braking, "m/s\u00b2"), reaction=(reaction, "s")),
        _told("way to stop when readings stop coming", late_m, "m", "way to stop plus speed times the time until "
              "neutral", ceiling=(ceiling, "m/s"), deceleration=(braking, "m/s\u00b2"),
              neutral_within=(late, "ms")),
        _told("way while the stick is eased off", easing, "m", "half of full speed times 1 over the fall; letting go "
              "never waits for it", ceiling=(ceiling, "m/s"), fall_of_the_command=(down, "per second")),
        _told("full speed backward", back, "m/s", "ceiling times reverse gain", ceiling=(ceiling, "m/s"),
              reverse_gain=(reverse, "")),
        _told("way to stop from full reverse", reverse_m, "m", "speed squared over twice the deceleration",
              full_speed_backward=(back, "m/s"), deceleration=(braking, "m/s\u00b2")),
        _told("wheel speed when spinning on the spot, of full", spin, "", "turn gain, at most 1", turn_gain=(turn, "")),
        _told("speed at half the throw", half, "m/s", "ceiling times (1 - expo) / 2 + expo / 8",
              ceiling=(ceiling, "m/s"), expo=(expo, "")),
        _told("way to stop from half the throw", half_m, "m", "speed squared over twice the deceleration",
              speed_at_half_the_throw=(half, "m/s"), deceleration=(braking, "m/s\u00b2")),
    )  # fmt: skip
    return DriveEffects(
        full_after, release, with_reaction, late_m, easing, back, reverse_m, spin, half, half_m, findings
    )


def measured_stop(*, speed_m_s, distance_m, stopped, slope_deg=0.0, most_m=ARMS_LENGTH_M):
    """The deceleration of one measured stop, and whether it stops within reach.

    a = v^2 / 2d, over the whole way from letting go; on a slope it holds for that slope only.
    Parameters: speed at letting go, above 0 to 20 [m/s]; distance to standing still, above 0 to 100 [m]; stopped:
    whether it came to stand and stayed [-]; slope it went down, 0 to 30 [deg]; the most it may take, above 0 to
    100 [m]; each may be None. Returns the deceleration [m/s^2] and findings: one that rolls on is a `stop`, one that
    takes longer than the limit a `check`. Raises EngineeringError. Source: definition; limit 2: common practice.

    >>> found = measured_stop(speed_m_s=1.0, distance_m=0.25, stopped=True)
    >>> found.deceleration_m_s2, [one.verdict for one in found.findings]
    (2.0, ['fits', 'fits'])
    """
    speed = guards.number("Speed at letting go", speed_m_s, "m/s", above=0, maximum=20)
    way = guards.number("Distance to standing still", distance_m, "m", above=0, maximum=100)
    slope = guards.number("Slope", slope_deg, "\u00b0", minimum=0, maximum=30)
    most = guards.number("Longest way", most_m, "m", above=0, maximum=100)
    stopped = guards.answer("Came to stand and stayed", stopped)
    where = "slope unknown" if slope is None else f"on a slope of {plain(slope)}\u00b0" if slope else "on the level"
    found = None if None in (speed, way) or not stopped else speed**2 / (2 * way)
    stands = Finding(
        f"stands after letting go, {where}", {True: "yes", False: "no", None: None}[stopped], "", "yes",
        {True: FITS, False: STOP, None: UNKNOWN}[stopped], "comes to stand and does not roll on", COMMON_PRACTICE,
        missing="" if stopped is not None else "whether it came to stand and stayed",
    )  # fmt: skip
    return MeasuredStop(found, (stands, _way_finding(where, way, most, stopped)))


def signal_end(*, recorded, seen):
    """Whether the motor controllers do at the end of the signal what the configuration says of them.

    Parameters: recorded, seen: coast or brake, or None [-]. Returns one finding, its value what was seen: another than
    recorded is a `stop`. Raises EngineeringError. Source: the measurement itself; common practice.

    >>> signal_end(recorded="brake", seen="coast").verdict
    'stop'
    """
    guards.choice("Recorded", recorded, (COAST, BRAKE))
    guards.choice("Seen", seen, (COAST, BRAKE))
    name, formula = "at the end of the signal", "as the configuration says"
    missing = ["what was seen"] if seen is None else []
    missing += ["what the configuration says"] if recorded is None else []
    if missing:
        return Finding(name, seen, "", recorded, UNKNOWN, formula, COMMON_PRACTICE, missing=", ".join(missing))
    return Finding(name, seen, "", recorded, FITS if seen == recorded else STOP, formula, COMMON_PRACTICE)


def _shaped(push, expo):
    return (1 - expo) * push + expo * push**3


def _way(speed, braking):
    return None if None in (speed, braking) else braking_distance(speed, braking)


def _told(name, value, unit, formula, **inputs):
    """A way is held against the arm of the adult beside it; nothing limits a speed or a share here."""
    pairs = shown_inputs(**inputs)
    limit, source = (ARMS_LENGTH_M, COMMON_PRACTICE) if unit == "m" else (None, DEFINITION)
    if value is None:
        missing = [label for label, text in pairs if text == "unknown"]
        return unknown(name, missing, unit=unit, limit=limit, formula=formula, source=source, inputs=pairs)
    verdict = FITS if limit is None or value <= limit else CHECK
    return Finding(name, value, unit, limit, verdict, formula, source, pairs)


def _rise_finding(seconds, up):
    formula, inputs = "1 over the rise of the command, at least", shown_inputs(rise_of_the_command=(up, "per second"))
    name = "time to full command"
    if seconds is None:
        return unknown(name, "rise of the command", unit="s", limit=LEAST_RISE_S, formula=formula,
                       source=COMMON_PRACTICE, inputs=inputs)  # fmt: skip
    return Finding(name, seconds, "s", LEAST_RISE_S, FITS if seconds >= LEAST_RISE_S else CHECK, formula,
                   COMMON_PRACTICE, inputs)  # fmt: skip


def _release_finding(way, ceiling, braking, at_signal_end):
    formula = "speed squared over twice the measured deceleration, from letting go"
    if at_signal_end:
        formula += f"; the controllers {at_signal_end} when the signal ends"
    inputs = shown_inputs(ceiling=(ceiling, "m/s"), deceleration=(braking, "m/s\u00b2"))
    name = "way to stop at this ceiling"
    if way is None:
        missing = [label for label, text in inputs if text == "unknown"]
        return unknown(name, missing, unit="m", limit=ARMS_LENGTH_M, formula=formula, source=COMMON_PRACTICE,
                       inputs=inputs)  # fmt: skip
    verdict = FITS if way <= ARMS_LENGTH_M else CHECK
    return Finding(name, way, "m", ARMS_LENGTH_M, verdict, formula, COMMON_PRACTICE, inputs)


def _way_finding(where, way, most, stopped):
    name, formula = f"way from letting go to standing still, {where}", "no longer than the arm of the adult beside it"
    if stopped is False:
        return Finding(name, None, "m", most, STOP, formula, COMMON_PRACTICE)
    if None in (way, most):
        missing = "the distance" if way is None else "the longest way"
        return unknown(name, missing, unit="m", limit=most, formula=formula, source=COMMON_PRACTICE)
    return Finding(name, way, "m", most, FITS if way <= most else CHECK, formula, COMMON_PRACTICE)
