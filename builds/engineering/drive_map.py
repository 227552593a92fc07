"""From a push of the stick to the commands and pulses of two motor controllers."""

from dataclasses import dataclass

from builds.engineering import guards
from builds.engineering.drive_settings import PULSE_LEAST_US, PULSE_MOST_US
from builds.engineering.finding import CHECK, FITS, EngineeringError, Finding, plain, shown_inputs, unknown
from builds.engineering.stick_maths import push_of

DEFINITION = "definition"
# 1. Pulse convention of radio-control servos: 1000 one way, 1500 neutral, 2000 the other way, in microseconds;
#    glossary of an open-source radio firmware community. Motor controllers follow it.
USUAL_LEAST_US, USUAL_MOST_US = 1000, 2000
PULSE_SOURCE = "pulse convention of radio-control servos, 1000 to 2000 \u00b5s"
MIX = "left = forward + right, right = forward \u2212 right, brought down together to 1, times the ceiling"


@dataclass(frozen=True)
class DriveOutput:
    left: float | None
    right: float | None
    left_us: float | None
    right_us: float | None
    findings: tuple


def drive_output(*, x, y, ceiling=1.0, turn_gain=1.0, reverse_gain=1.0, neutral_us=1500.0, span_us=500.0):
    """Commands and pulses of both wheels for a push of the stick.

    left = y + x and right = y - x, with x times the turn gain and y times the reverse gain when it points back; both
    brought down together when either passes 1; times the ceiling; pulse = neutral + span times command.
    Parameters: x: push to the right, y: push forward, each -1 to 1 [-]; ceiling: share of the full command, 0 to 1
    [-]; turn gain, 0 to 2 [-]; reverse gain, 0 to 1 [-]; neutral_us: pulse at rest, 500 to 2500 [µs]; span_us: from
    there to a full command, above 0 to 1000 [µs]; neutral less and plus span within 500 to 2500 [µs]. Any may be None.
    Returns left, right [-], left_us, right_us [µs], findings; a longer pulse is forward. Left and right are the
    occupant's. Not for what a wheel then does: that is seen wheels-up. Raises EngineeringError. Source 1; mix:
    definition.

    >>> output = drive_output(x=0.5, y=1, ceiling=0.6)
    >>> output.left, round(output.right, 6), output.left_us, round(output.right_us, 6)
    (0.6, 0.2, 1800.0, 1600.0)
    """
    x = guards.number("Push to the right", x, "", minimum=-1, maximum=1)
    y = guards.number("Push forward", y, "", minimum=-1, maximum=1)
    ceiling = guards.number("Ceiling", ceiling, "", minimum=0, maximum=1)
    turn_gain = guards.number("Turn gain", turn_gain, "", minimum=0, maximum=2)
    reverse_gain = guards.number("Reverse gain", reverse_gain, "", minimum=0, maximum=1)
    neutral_us = guards.number("Neutral pulse", neutral_us, "\u00b5s", minimum=PULSE_LEAST_US, maximum=PULSE_MOST_US)
    span_us = guards.number("Span of the pulse", span_us, "\u00b5s", above=0, maximum=1000)
    _refuse_beyond(neutral_us, span_us)
    facts = {"push to the right": x, "push forward": y, "ceiling": ceiling, "turn gain": turn_gain,
             "reverse gain": reverse_gain}  # fmt: skip
    missing = [label for label, fact in facts.items() if fact is None]
    left, right = (None, None) if missing else _mixed(x * turn_gain, y * (reverse_gain if y < 0 else 1), ceiling)
    inputs = shown_inputs(**{label: (fact, "") for label, fact in facts.items()})
    told = [_motion_finding(left, right, missing)]
    told += [_command_finding(side, command, ceiling, missing, inputs)
             for side, command in (("left", left), ("right", right))]  # fmt: skip
    pulses = [None if None in (command, neutral_us, span_us) else neutral_us + span_us * command
              for command in (left, right)]  # fmt: skip
    missing += [label for label, fact in (("neutral pulse", neutral_us), ("span", span_us)) if fact is None]
    told += [_pulse_finding(side, pulse, neutral_us, span_us, missing)
             for side, pulse in zip(("left", "right"), pulses, strict=True)]  # fmt: skip
    return DriveOutput(left, right, *pulses, tuple(told))


def stick_push(settings, *, x_counts, y_counts):
    """The push that a reading of the stick means, before the gains.

    The reading less the rest, turned back (and mirrored); each axis nothing within the deadband, 1 from its throw on,
    straight between; then shaped: (1 - expo) times it plus expo times its cube.
    Parameters: settings: a DriveSettings [-]; x_counts, y_counts: reading, 0 to the full scale [counts]. Returns push
    to the right and forward, each -1 to 1 [-], for `drive_output`. What a reading beyond the possible band means is
    not decided here. Raises EngineeringError. Source: definition.

    >>> from builds.engineering.drive_settings import EXAMPLE
    >>> stick_push(EXAMPLE, x_counts=912, y_counts=520)
    (1.0, 0.0)
    """
    x = guards.number("Reading of the sideways axis", x_counts, "counts", minimum=0, maximum=settings.full_scale)
    y = guards.number("Reading of the forward axis", y_counts, "counts", minimum=0, maximum=settings.full_scale)
    if None in (x, y):
        raise EngineeringError("Readings of both axes must be known.")
    from_rest = x - settings.centre_x, y - settings.centre_y
    right, forward = push_of(*from_rest, settings.rotation_deg, settings.mirrored)
    return (
        _axis(right, settings.throw_right if right > 0 else settings.throw_left, settings),
        _axis(forward, settings.throw_forward if forward > 0 else settings.throw_back, settings),
    )


def _axis(way, throw, settings):
    share = min(max((abs(way) - settings.deadband) / (throw - settings.deadband), 0.0), 1.0)
    size = (1 - settings.expo) * share + settings.expo * share**3
    return -size if way < 0 and size else size


def _mixed(x, y, ceiling):
    """Adding zero takes the sign off a negative zero."""
    left, right = y + x, y - x
    larger = max(abs(left), abs(right), 1.0)
    return left / larger * ceiling + 0.0, right / larger * ceiling + 0.0


def _refuse_beyond(neutral_us, span_us):
    if None in (neutral_us, span_us):
        return
    if neutral_us - span_us < PULSE_LEAST_US or neutral_us + span_us > PULSE_MOST_US:
        raise EngineeringError(
            f"Neutral pulse less and plus the span must be within {PULSE_LEAST_US} to {PULSE_MOST_US} \u00b5s, "
            f"not {plain(neutral_us, 6)} \u00b5s with a span of {plain(span_us, 6)} \u00b5s."
        )


def _motion_finding(left, right, missing):
    name, formula = "what the unit does", "both wheels alike: straight; opposite: it spins; else its nose turns"
    if left is None:
        return unknown(name, missing, formula=formula, source=DEFINITION)
    return Finding(name, motion(left, right), "", None, FITS, formula, DEFINITION)


def motion(left, right):
    """What two wheel commands make the unit do, in words.

    Parameters: left, right: commands, -1 to 1, positive is forward [-]. Returns words; the nose is that of the occupant
    [-]. Holds for wheels of one size with one load. Source: definition.

    >>> motion(0, 0), motion(0.5, 0.5), motion(1, -1), motion(1, 0.3)
    ('stands', 'forward', 'spins right', 'forward, nose to the right')
    """
    along, aside = left + right, left - right
    side = "right" if aside > 0 else "left"
    if along == 0:
        return f"spins {side}" if aside else "stands"
    way = "forward" if along > 0 else "backward"
    return f"{way}, nose to the {side}" if aside else way


def _command_finding(side, command, ceiling, missing, inputs):
    name = f"command of the {side} wheel"
    if command is None:
        return unknown(name, missing, limit=ceiling, formula=MIX, source=DEFINITION, inputs=inputs)
    return Finding(name, command, "", ceiling, FITS, MIX, DEFINITION, inputs)


def _pulse_finding(side, pulse, neutral_us, span_us, missing):
    name, formula = f"pulse of the {side} motor controller", "neutral pulse plus span times the command"
    limit = f"{USUAL_LEAST_US} to {USUAL_MOST_US}"
    inputs = shown_inputs(neutral_pulse=(neutral_us, "\u00b5s"), span=(span_us, "\u00b5s"))
    if pulse is None:
        return unknown(name, missing, unit="\u00b5s", limit=limit, formula=formula, source=PULSE_SOURCE, inputs=inputs)
    verdict = FITS if USUAL_LEAST_US <= pulse <= USUAL_MOST_US else CHECK
    return Finding(name, pulse, "\u00b5s", limit, verdict, formula, PULSE_SOURCE, inputs)
