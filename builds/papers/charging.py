"""The charge plan as a family reads it: clock times inside the hours in which an adult is up, or that it is unknown."""

import math
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from django.utils.translation import gettext as _

from builds.engineering.charging import home_charge
from builds.engineering.finding import FITS, EngineeringError
from builds.papers import words

MOST_STARTS = 4
SOME_DAY = datetime(2001, 1, 1)


@dataclass(frozen=True)
class ChargeWords:
    """Either clock times, or `problem`: what keeps the paper from giving them, for the coordinator, in English."""

    plug_in: str = ""
    take_off: str = ""
    longest: str = ""
    starts: list = field(default_factory=list)
    lines: list = field(default_factory=list)
    problem: str = ""
    findings: tuple = ()


def charge_words(facts):
    """The charge plan for this battery, this charger and this family's hours."""
    if not facts.is_charged:
        return ChargeWords()
    missing = what_is_unknown(facts)
    if missing:
        return ChargeWords(problem=f"Not known for charging: {words.listed(missing)}.")
    home = facts.build.client.household
    try:
        plan = home_charge(
            capacity_ah=facts.battery.capacity_ah,
            charger_a=facts.charger.current_a,
            plug_in=home.plug_in_time,
            wake=home.wake_time,
            sleep=home.sleep_time,
        )
    except EngineeringError as error:
        return ChargeWords(problem=str(error))
    if plan.findings[-1].verdict != FITS:
        return ChargeWords(
            problem=f"A charge takes {words.some_hours(plan.hours)} and does not fit between getting up and going to "
            "bed. Choose a stronger charger or agree other hours with the family.",
            findings=plan.findings,
        )
    return in_words(plan)


def what_is_unknown(facts):
    home = getattr(facts.build.client, "household", None)
    known = {
        "the battery": facts.battery,
        "the battery's capacity": facts.battery and facts.battery.capacity_ah,
        "the charger": facts.charger,
        "the charger's current": facts.charger and facts.charger.current_a,
        "when an adult is up": home and home.wake_time,
        "when the last adult goes to bed": home and home.sleep_time,
        "when they can plug in": home and home.plug_in_time,
    }
    return [name for name, value in known.items() if value is None]


def in_words(plan):
    lines = []
    if plan.in_the_morning:
        lines.append(_("Charge on a day when an adult is at home. Start in the morning."))
    latest = words.a_clock(plan.latest_plug_in)
    lines.append(_("Later than %(time)s? Then wait and charge the next day.") % {"time": latest})
    lines.append(_("Never charge at night, and never when everybody sleeps or is out."))
    return ChargeWords(
        plug_in=words.a_clock(plan.plug_in),
        take_off=words.a_clock(plan.take_off),
        longest=words.some_hours(plan.longest_hours),
        starts=[(words.a_clock(plug_in), words.a_clock(take_off)) for plug_in, take_off in starts(plan)],
        lines=lines,
        findings=plan.findings,
    )


def starts(plan):
    """(plug in, take off) pairs from the planned start to the latest, whole hours apart, so that nobody has to add.

    Between two starts the earlier pair is safe: it only ends the charge sooner.
    """
    first = datetime.combine(SOME_DAY, plan.plug_in)
    span = (datetime.combine(SOME_DAY, plan.latest_plug_in) - first) % timedelta(days=1)
    apart = timedelta(hours=max(1, math.ceil(span / timedelta(hours=MOST_STARTS - 1))))
    begun = [first + apart * number for number in range(int(span / apart) + 1)]
    return [(at.time(), (at + timedelta(hours=plan.hours)).time()) for at in begun]
