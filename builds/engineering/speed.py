"""How fast the unit goes, how far it takes to stop, and whether that is within the clearance."""

from dataclasses import dataclass
from math import pi

from builds.engineering import guards, margins
from builds.engineering.finding import (
    CHECK,
    COMMON_PRACTICE,
    FITS,
    STOP,
    UNKNOWN,
    EngineeringError,
    Finding,
    shown_inputs,
    unknown,
)

# 1. Comfortable walking speed of adults, the slowest group mean: women in their 70s, Bohannon 1997, Age and
#    Ageing 26:15-19, abstract. No published speed limit of ride-ons was found, so the supervisor's pace is the measure.
SLOWEST_ADULT_WALK_M_S = 1.272
WALK_SOURCE = "Bohannon 1997, slowest group mean of comfortable adult walking"
DEFINITION = "definition"
KM_H_PER_M_S = 3.6
FASTEST_M_S = 20.0  # measured or set; a number beyond it is a slip
FASTEST_WHEEL_M_S = 100.0
MOST_RUNS = 100
FEWEST_RUNS = 3  # common practice
LARGEST_SPREAD = 0.10  # of the mean; common practice


@dataclass(frozen=True)
class TimedRuns:
    speed_m_s: float | None
    speed_km_h: float | None
    spread_m_s: float | None
    fastest_m_s: float | None
    findings: tuple


@dataclass(frozen=True)
class DriveSpeed:
    speed_m_s: float | None
    speed_km_h: float | None
    stopping_m: float | None
    braking_m: float | None
    energy_j: float | None
    findings: tuple


def timed_runs(*, distance_m, times_s, walking_pace_m_s=None):
    """Speed from runs over a marked distance.

    Mean of distance over time; spread = largest less smallest. The verdict uses the fastest run.
    Parameters: distance between the marks, 0.1 to 1000 [m]; times, up to 100 of 0.05 to 3600 [s], giving speeds up to
    20 m/s; the supervisor's walking pace to compare with, above 0 to 5 [m/s];
    distance and pace may be None. Returns mean [m/s] and [km/h], spread [m/s], fastest [m/s], findings. Only
    for a flying start over the marks, with the ballast of the client. Raises EngineeringError. Source:
    definition of speed; number of runs and spread: common practice.

    >>> runs = timed_runs(distance_m=3, times_s=[3.1, 3.0, 3.2])
    >>> round(runs.speed_m_s, 4), round(runs.fastest_m_s, 2), round(runs.spread_m_s, 4)
    (0.9684, 1.0, 0.0625)
    """
    distance = guards.number("Distance", distance_m, "m", minimum=0.1, maximum=1000)
    pace = guards.number("Walking pace", walking_pace_m_s, "m/s", above=0, maximum=5)
    times = [guards.number("Time of a run", time, "s", minimum=0.05, maximum=3600) for time in times_s]
    if len(times) > MOST_RUNS or None in times:
        told = "one that is unknown" if None in times else len(times)
        raise EngineeringError(f"Times must be up to {MOST_RUNS} numbers of seconds, not {told}.")
    if distance is None or not times:
        missing = ["distance"] if distance is None else []
        missing += [] if times else ["times of the runs"]
        found = unknown("fastest run", missing, unit="m/s", formula="distance over time", source=DEFINITION)
        return TimedRuns(None, None, None, None, (found,))
    speeds = [distance / time for time in times]
    for speed in speeds:
        guards.number("Speed of a run", speed, "m/s", maximum=FASTEST_M_S)
    mean, fastest, spread = sum(speeds) / len(speeds), max(speeds), max(speeds) - min(speeds)
    findings = (_pace_finding("fastest run", fastest, pace), _runs_finding(len(speeds)), _spread_finding(spread, mean))
    return TimedRuns(mean, mean * KM_H_PER_M_S, spread, fastest, findings)


def ceiling_against_clearance(*, fastest_m_s, ceiling_m_s, clearance_m_s, walking_pace_m_s):
    """The fastest measured run and the ceiling that is set, against the clearance and the supervisor's pace.

    Parameters: fastest run, ceiling of the configuration, ceiling of the clearance, walking pace of the
    supervisor, each above 0 to 20 [m/s] or None. Returns findings: above the clearance `stop`, a measured run within
    5 % of it `check`; measured above what is recorded as set, or above walking pace, `check`. Raises
    EngineeringError. Pace: common practice.

    >>> [f.verdict for f in ceiling_against_clearance(fastest_m_s=1.0, ceiling_m_s=1.0, clearance_m_s=0.9,
    ...                                               walking_pace_m_s=None)]
    ['stop', 'stop', 'fits', 'unknown']
    """
    names = ("Fastest run", "Ceiling", "Ceiling of the clearance", "Walking pace")
    values = (fastest_m_s, ceiling_m_s, clearance_m_s, walking_pace_m_s)
    fastest, ceiling, clearance, pace = (
        guards.number(name, value, "m/s", above=0, maximum=FASTEST_M_S)
        for name, value in zip(names, values, strict=True)
    )
    run, set_to = ("fastest run", fastest), ("ceiling in use", ceiling)
    cleared = ("ceiling of the clearance", clearance)
    walk = ("the supervisor's walking pace", pace)
    return (
        _no_faster(run, cleared, STOP, "clearance", margins.CLEARED_SPEED),
        _no_faster(set_to, cleared, STOP, "clearance"),
        _no_faster(run, set_to, CHECK, "record of the configuration"),
        _no_faster(run, walk, CHECK, COMMON_PRACTICE),
    )


def drive_speed(
    *, wheel_diameter_m, wheel_rpm, command, deceleration_m_s2, reaction_s, mass_kg=None, walking_pace_m_s=None
):
    """Speed from the wheel, and the way it takes to stop.

    v = pi x diameter x rpm / 60 x command; braking = v^2 / (2 x deceleration); stopping adds v x reaction.
    Parameters: wheel diameter, 0.01 to 10 [m]; wheel speed, 0 to 10,000 [rpm]; command, 0 to 1 [-]; deceleration,
    0.01 to 20 [m/s^2]; reaction of the person who stops it, 0 to 10 [s]; mass in motion, above 0 to 2000 [kg];
    walking pace, above 0 to 5 [m/s]; each may be None. Returns speed, up to 100 [m/s]
    and [km/h], stopping way with reaction [m], braking way [m], energy [J], findings. Level ground without
    slip; a loaded motor turns slower than its label. Raises EngineeringError. Source: definitions.

    >>> drive = drive_speed(wheel_diameter_m=0.25, wheel_rpm=120, command=1, deceleration_m_s2=1.5, reaction_s=1)
    >>> round(drive.speed_m_s, 4), round(drive.braking_m, 3), round(drive.stopping_m, 3)
    (1.5708, 0.822, 2.393)
    """
    diameter = guards.number("Wheel diameter", wheel_diameter_m, "m", minimum=0.01, maximum=10)
    rpm = guards.number("Wheel speed", wheel_rpm, "rpm", minimum=0, maximum=10_000)
    command = guards.number("Command", command, "", minimum=0, maximum=1)
    braking = guards.number("Deceleration", deceleration_m_s2, "m/s\u00b2", minimum=0.01, maximum=20)
    reaction = guards.number("Reaction", reaction_s, "s", minimum=0, maximum=10)
    mass = guards.number("Mass", mass_kg, "kg", above=0, maximum=2000)
    pace = guards.number("Walking pace", walking_pace_m_s, "m/s", above=0, maximum=5)
    speed = None if None in (diameter, rpm, command) else wheel_speed(diameter, rpm) * command
    guards.number("Speed", speed, "m/s", maximum=FASTEST_WHEEL_M_S)
    braking_m = None if None in (speed, braking) else braking_distance(speed, braking)
    stopping_m = None if None in (braking_m, reaction) else braking_m + speed * reaction
    energy = None if None in (speed, mass) else kinetic_energy(mass, speed)
    facts = {"wheel diameter": diameter, "wheel speed": rpm, "command": command}
    findings = (_wheel_finding(speed, pace, facts), _stopping_finding(stopping_m, speed, braking, reaction))
    km_h = None if speed is None else speed * KM_H_PER_M_S
    return DriveSpeed(speed, km_h, stopping_m, braking_m, energy, findings)


def wheel_speed(diameter_m, rpm):
    """Speed [m/s] of a wheel of this diameter [m] at this many turns a minute [rpm]: pi x d x n / 60.

    Without slip. Source: definition.

    >>> round(wheel_speed(0.2, 100), 4)
    1.0472
    """
    return pi * diameter_m * rpm / 60


def braking_distance(speed_m_s, deceleration_m_s2):
    """Way [m] to stop from this speed [m/s] at this deceleration [m/s^2]: v^2 / 2a.

    From the moment of braking, on the flat. Source: definition.

    >>> round(braking_distance(30.0, 7.0), 2)
    64.29
    """
    return speed_m_s**2 / (2 * deceleration_m_s2)


def kinetic_energy(mass_kg, speed_m_s):
    """Energy of motion [J]: half the mass [kg] times the speed [m/s] squared. Source: definition.

    >>> round(kinetic_energy(55, 5 / 3.6), 2)
    53.05
    """
    return 0.5 * mass_kg * speed_m_s**2


def _no_faster(fast, limit, verdict_above, source, margin=None):
    (name, value), (limit_name, most) = fast, limit
    title, formula = f"{name} against {limit_name}", f"{name} no more than {limit_name}"
    formula = margin.beside(formula) if margin else formula
    inputs = shown_inputs(**{name: (value, "m/s"), limit_name: (most, "m/s")})
    missing = [label for label, fact in (fast, limit) if fact is None]
    if missing:
        return unknown(title, missing, unit="m/s", limit=most, formula=formula, source=source, inputs=inputs)
    verdict = verdict_above if value > most else margins.judged(value, most, margin)
    return Finding(title, value, "m/s", most, verdict, formula, source, inputs)


def _pace_finding(name, speed, pace):
    """A speed beside a walking pace; without one, known but unjudged."""
    formula = "no faster than the supervisor walks; the clearance may ask for less"
    if pace is None:
        missing = "the speed limit of the clearance, and the supervisor's walking pace"
        return Finding(name, speed, "m/s", None, UNKNOWN, formula, DEFINITION, missing=missing)
    source = WALK_SOURCE if pace == SLOWEST_ADULT_WALK_M_S else COMMON_PRACTICE
    inputs = shown_inputs(walking_pace=(pace, "m/s"))
    return Finding(name, speed, "m/s", pace, FITS if speed <= pace else CHECK, formula, source, inputs)


def _runs_finding(count):
    verdict = FITS if count >= FEWEST_RUNS else CHECK
    return Finding("number of runs", count, "", FEWEST_RUNS, verdict, "at least 3 runs", COMMON_PRACTICE)


def _spread_finding(spread, mean):
    limit = LARGEST_SPREAD * mean
    formula = "fastest less slowest, at most a tenth of the mean"
    verdict = FITS if spread <= limit else CHECK
    return Finding("spread of the runs", spread, "m/s", limit, verdict, formula, COMMON_PRACTICE)


def _wheel_finding(speed, pace, facts):
    missing = [label for label, fact in facts.items() if fact is None]
    if missing:
        formula = "pi times wheel diameter times turns a minute over 60, times the command"
        return unknown("speed", missing, unit="m/s", formula=formula, source=DEFINITION)
    return _pace_finding("speed", speed, pace)


def _stopping_finding(stopping, speed, braking, reaction):
    formula = "speed times reaction, plus speed squared over twice the deceleration"
    facts = {"speed": speed, "deceleration": braking, "reaction": reaction}
    missing = [label for label, fact in facts.items() if fact is None]
    if missing:
        return unknown("way to stop", missing, unit="m", formula=formula, source=DEFINITION)
    return Finding("way to stop", stopping, "m", None, UNKNOWN, formula, DEFINITION, missing="the free way ahead")
