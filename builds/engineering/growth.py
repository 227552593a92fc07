"""Where a weight lies on the growth charts, and when the client outgrows a limit along the own centile."""

from dataclasses import dataclass
from datetime import date, timedelta
from math import floor
from statistics import NormalDist

from builds.engineering import guards
from builds.engineering.finding import CHECK, FITS, STOP, EngineeringError, Finding, shown_inputs, unknown
from builds.engineering.growth_table import OLDEST_MONTHS, SOURCE, YOUNGEST_MONTHS, lms_at

DAYS_A_MONTH = 30.4375
SEXES = ("male", "female")
HEAVIEST_KG = 500.0
OLDEST_DAYS = 130 * 366  # nobody is older
# Outermost printed centiles of the table; beyond them a client grows on a curve that nobody drew.
LOWEST_CENTILE, HIGHEST_CENTILE = 3.0, 97.0
# Common practice, no source: a unit outgrown within half a year needs its successor planned now.
SOON_DAYS = 183
# One centile line up: from the 50th to the 75th, in standard deviations.
ONE_LINE_UP_Z = NormalDist().inv_cdf(0.75)
NAME = "outgrown on"
CENTILE_NAME = "centile of the weight"
CENTILE_FORMULA = "share of the reference population of this age and sex that weighs less, by L, M and S"
FORMULA = (
    "the first day on which the weight along the client's own centile passes the limit; that the centile holds is an "
    "assumption, and some conditions grow on other curves"
)


@dataclass(frozen=True)
class Growth:
    """`outgrown_early_on` is the same date for a client who climbs one centile line."""

    age_months: float | None
    z: float | None
    centile: float | None
    outgrown_on: date | None
    outgrown_early_on: date | None
    findings: tuple


def growth(*, sex, birth_date, weight_kg, on, limit_kg, today=None):
    """The centile of a weight for age, and the day on which the client passes a limit along it.

    z = ((X / M)^L - 1) / (L x S) with L, M, S in straight lines between the half-month rows; age in months =
    days / 30.4375; then the weight along the same z, day by day, until it reaches the limit.
    Parameters: sex: male or female [-]; birth date and day of weighing [date]; weight, above 0 to 500 [kg]; limit,
    above 0 to 1000 [kg]; today, from which half a year is counted, None for the day of weighing [date]; each may be
    None. Returns age [months], z [-], centile [%], the day it is outgrown and the same one centile line up [date],
    findings: `check` where it is outgrown within half a year of today, one centile line up. Outside 24 to 240 months
    z, centile and days are None and `unknown`; the days are None, too, where the limit is not passed by the age of
    20. That the centile holds is assumed; children with some conditions grow on other curves. Not for judging health.
    Raises EngineeringError. Source: CDC 2000 growth charts; half a year ahead: common practice.

    >>> boy = growth(sex="male", birth_date=date(2020, 1, 1), weight_kg=18.5, on=date(2025, 1, 15), limit_kg=25)
    >>> round(boy.age_months, 2), round(boy.centile, 1), str(boy.outgrown_on), boy.findings[1].verdict
    (60.48, 50.3, '2027-10-03', 'fits')
    """
    if sex == "unknown":
        sex = None
    guards.choice("Sex", sex, SEXES)
    birth_date, on = guards.day("Birth date", birth_date), guards.day("Day of weighing", on)
    today = _day_of_asking(guards.day("Today", today), on)
    weight = guards.number("Weight", weight_kg, "kg", above=0, maximum=HEAVIEST_KG)
    limit = guards.number("Limit", limit_kg, "kg", above=0, maximum=1000)
    days = _days_of_life(birth_date, on)
    age = None if days is None else days / DAYS_A_MONTH
    facts = {"sex": sex, "birth date": birth_date, "weight": weight, "day of weighing": on}
    missing = [label for label, fact in facts.items() if fact is None] or _outside_table(age)
    inputs = _inputs(sex, age, weight, limit)
    if missing:
        outlook = _outlook_without_curve(weight, limit, missing, inputs)
        return Growth(age, None, None, None, None, (_centile_unknown(missing, inputs), outlook))
    z = lms_at(sex, age).z_of(weight)
    centile = NormalDist().cdf(z) * 100
    curve = (sex, birth_date, on, weight, limit)
    passes = (_passes(*curve, z), _passes(*curve, z + ONE_LINE_UP_Z))
    findings = (_centile_finding(centile, inputs), _outlook_finding(passes, today, weight, limit, inputs))
    return Growth(age, z, centile, *passes, findings)


def weight_along(sex, age_months, z):
    """Weight at this age on the curve of this z.

    Parameters: sex: male or female [-]; age, 24 to 240 [months]; z [-]. Returns [kg], or None outside the table.
    Source: CDC 2000 growth charts.

    >>> round(weight_along("female", 72.5, -2), 5)
    15.80704
    """
    found = lms_at(sex, age_months)
    return None if found is None else found.weight_at(z)


def _day_of_asking(today, on):
    if None not in (today, on) and today < on:
        raise EngineeringError(f"Today must be the day of weighing {on} or later, not {today}.")
    return on if today is None else today


def _days_of_life(birth_date, on):
    if None in (birth_date, on):
        return None
    days = (on - birth_date).days
    if days < 0:
        raise EngineeringError(f"Day of weighing must be the birth date {birth_date} or later, not {on}.")
    if days > OLDEST_DAYS:
        raise EngineeringError(f"Birth date must be 130 years or less before {on}, not {birth_date}.")
    return days


def _outside_table(age):
    if YOUNGEST_MONTHS <= age <= OLDEST_MONTHS:
        return []
    return [f"a growth table for this age: it covers {YOUNGEST_MONTHS:g} to {OLDEST_MONTHS:g} months"]


def _passes(sex, birth_date, on, weight, limit, z):
    """The first day on or after the weighing with a weight at or above the limit; None where the table ends first."""
    if limit is None or weight >= limit:
        return None if limit is None else on
    first, last = (on - birth_date).days, floor(OLDEST_MONTHS * DAYS_A_MONTH)
    days = (day for day in range(first, last + 1) if weight_along(sex, day / DAYS_A_MONTH, z) >= limit)
    day = next(days, None)
    return None if day is None else birth_date + timedelta(days=day)


def _inputs(sex, age, weight, limit):
    """The age in whole months, never the birth date: builders may read a finding."""
    months = None if age is None else floor(age)
    return shown_inputs(sex=(sex, ""), age=(months, "months"), weight=(weight, "kg"), limit=(limit, "kg"))


def _centile_unknown(missing, inputs):
    return unknown(CENTILE_NAME, missing, unit="%", formula=CENTILE_FORMULA, source=SOURCE, inputs=inputs)


def _centile_finding(centile, inputs):
    inside = LOWEST_CENTILE <= centile <= HIGHEST_CENTILE
    drawn = f"{LOWEST_CENTILE:g} to {HIGHEST_CENTILE:g}"
    verdict = FITS if inside else CHECK
    return Finding(CENTILE_NAME, centile, "%", drawn, verdict, CENTILE_FORMULA, SOURCE, inputs)


def _outlook_without_curve(weight, limit, missing, inputs):
    """Too heavy already is known without any curve."""
    if None not in (weight, limit) and weight > limit:
        return Finding(NAME, "already", "", None, STOP, FORMULA, SOURCE, inputs)
    missing = [*missing, *(["limit"] if limit is None else [])]
    return unknown(NAME, missing, formula=FORMULA, source=SOURCE, inputs=inputs)


def _outlook_finding(passes, today, weight, limit, inputs):
    if limit is None or weight > limit:
        return _outlook_without_curve(weight, limit, [], inputs)
    day, early = passes
    told = f"not by the age of {OLDEST_MONTHS / 12:g}" if day is None else day.isoformat()
    early_told = "not in the table" if early is None else early.isoformat()
    inputs += (("outgrown on when climbing one centile line", early_told),)
    soon = early is not None and (early - today).days <= SOON_DAYS
    limit_told = f"later than {(today + timedelta(days=SOON_DAYS)).isoformat()}"
    return Finding(NAME, told, "", limit_told, CHECK if soon else FITS, FORMULA, SOURCE, inputs)
