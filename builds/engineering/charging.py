"""The family's charge plan in clock times: when to plug in, when to take it off, and whether that is a waking hour."""

from dataclasses import dataclass, replace
from datetime import datetime, time, timedelta

from builds.engineering.battery import charge_time
from builds.engineering.finding import CHECK, COMMON_PRACTICE, FITS, EngineeringError, Finding, shown_inputs, unknown

FORMULA = "the charge, rounded up to the half hour, starts and ends while somebody is awake"
FROM_THE_MORNING = f"{FORMULA}; too long from the usual time, so it starts in the morning of a day at home"
NAME = "charge within waking hours"
# A family's charge is planned for an empty battery, the longest there is; 1.2 of what was taken goes back in, as a
# lead-acid battery needs and more than any other chemistry does. Common practice.
EMPTY = 1.0
CHARGE_FACTOR = 1.2
SOME_DAY = datetime(2001, 1, 1)


@dataclass(frozen=True)
class ChargePlan:
    """`longest_hours` is the charge of an empty battery: nobody leaves it on longer than that."""

    plug_in: time | None
    take_off: time | None
    hours: float | None
    longest_hours: float | None
    latest_plug_in: time | None
    findings: tuple
    in_the_morning: bool = False  # begun on getting up, since it would not end in time from the usual hour


def charge_plan(*, capacity_ah, discharged, charger_a, factor, plug_in, wake, sleep):
    """When to plug in and when to take the battery off.

    Parameters: capacity [Ah], discharged share [-], charger current [A] and factor [-] as `battery.charge_time`;
    plug_in, wake, sleep: clock times, 00:00 to 23:59 [hh:mm]; each may be None.
    Returns times of day, hours [h], findings: `check` where the charge cannot start and end in waking hours.
    Going to bed after midnight is understood. Raises EngineeringError. Common practice: never unattended.

    >>> plan = charge_plan(capacity_ah=12, discharged=0.5, charger_a=1.2, factor=1.2, plug_in=time(15, 30),
    ...                    wake=time(7), sleep=time(22))
    >>> str(plan.take_off), plan.longest_hours, plan.findings[-1].verdict
    ('21:30:00', 12.0, 'fits')
    """
    charge = charge_time(capacity_ah=capacity_ah, discharged=discharged, charger_a=charger_a, factor=factor)
    full = charge_time(capacity_ah=capacity_ah, discharged=1, charger_a=charger_a, factor=factor)
    clock = {"plug in at": plug_in, "awake from": wake, "awake until": sleep}
    for label, value in clock.items():
        if value is not None and not isinstance(value, time):
            raise EngineeringError(f"{label.capitalize()} must be a time of day from 00:00 to 23:59, not {value!r}.")
    hours = charge.hours_rounded
    take_off = None if None in (plug_in, hours) else _moved(plug_in, hours)
    latest = None if None in (sleep, hours) else _moved(sleep, -hours)
    awake = _waking_finding(hours, clock)
    return ChargePlan(plug_in, take_off, hours, full.hours_rounded, latest, (*charge.findings, awake))


def home_charge(*, capacity_ah, charger_a, plug_in, wake, sleep):
    """A family's charge from empty: from the usual hour, or in the morning where it ends in time only so.

    Parameters: capacity [Ah], charger current [A] as `battery.charge_time`; plug_in, wake, sleep: clock times, 00:00 to
    23:59 [hh:mm], as `charge_plan`; each may be None. Returns times of day, hours [h], findings; `in_the_morning` is
    True where it starts on getting up. Where it fits from neither, the plan from the usual hour with its `check`.
    The battery is taken as empty and 1.2 [-] of what was taken goes back in. Raises EngineeringError. Common practice.

    >>> plan = home_charge(capacity_ah=12, charger_a=1.5, plug_in=time(16), wake=time(7), sleep=time(22))
    >>> str(plan.plug_in), str(plan.take_off), plan.in_the_morning, plan.findings[-1].verdict
    ('07:00:00', '17:00:00', True, 'fits')
    """
    battery = {"capacity_ah": capacity_ah, "discharged": EMPTY, "charger_a": charger_a, "factor": CHARGE_FACTOR}
    usual = charge_plan(**battery, plug_in=plug_in, wake=wake, sleep=sleep)
    if usual.findings[-1].verdict != CHECK:
        return usual
    early = charge_plan(**battery, plug_in=wake, wake=wake, sleep=sleep)
    if early.findings[-1].verdict != FITS:
        return usual
    awake = replace(early.findings[-1], formula=FROM_THE_MORNING)
    return replace(early, findings=(*early.findings[:-1], awake), in_the_morning=True)


def _waking_finding(hours, clock):
    plug_in, wake, sleep = clock.values()
    inputs = shown_inputs(**{label: (value and f"{value:%H:%M}", "") for label, value in clock.items()})
    missing = [label for label, value in clock.items() if value is None]
    missing += ["hours of charging"] if hours is None else []
    if missing:
        return unknown(NAME, missing, unit="h", formula=FORMULA, source=COMMON_PRACTICE, inputs=inputs)
    available = _hours_awake_from(plug_in, wake, sleep)
    verdict = FITS if hours <= available else CHECK
    return Finding(NAME, hours, "h", available, verdict, FORMULA, COMMON_PRACTICE, inputs)


def _hours_awake_from(plug_in, wake, sleep):
    """Hours from plugging in until bed; none where that is in the night."""
    since_wake = _hours_between(wake, plug_in)
    day = _hours_between(wake, sleep) or 24.0
    return max(day - since_wake, 0.0)


def _hours_between(start, end):
    return ((end.hour * 60 + end.minute) - (start.hour * 60 + start.minute)) % (24 * 60) / 60


def _moved(at, hours):
    return (datetime.combine(SOME_DAY, at) + timedelta(hours=hours)).time()
