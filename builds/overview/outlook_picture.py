"""The picture of a growth outlook: measured masses, the way they go on, and the limit for the rider."""

from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil, floor

from builds.engineering import units
from builds.engineering.growth import DAYS_A_MONTH, HEAVIEST_KG, ONE_LINE_UP_Z, weight_along
from builds.engineering.growth_table import OLDEST_MONTHS
from labsite.chart import Chart
from labsite.units import lab_units

YEARS_AHEAD = 5  # as far as the picture looks where nothing is passed sooner
LONGEST_DAYS = 10 * 366
EDGE_DAYS = 120
ABOVE_LIMIT = 1.2  # no curve is drawn further above the limit
MIDDLE_OF_A_MONTH = 15


@dataclass(frozen=True)
class Picture:
    """Points and lines as an SVG takes them; `own` and `up` are curves, or straight lines for some readers."""

    chart: Chart
    unit: str
    dots: list
    own: str
    up: str
    straight: bool
    limit: float | None
    today: float | None


def picture(facts, found, limit, identified, today):
    """Nothing without a mass: there is nothing to draw from."""
    if not facts.masses:
        return None
    newest = facts.newest
    own, up = ways_on(facts, found, limit, identified, today)
    unit, scale = unit_of_mass()
    days = [newest.taken_on, today, *(day for day, _ in (*own, *up))]
    first, last = first_day(facts), max(days) + timedelta(days=EDGE_DAYS)
    dots = [(row.taken_on, row.value_si) for row in facts.masses if row.taken_on >= first]
    values = [value for _, value in (*dots, *own, *up)] + ([limit] if limit else [])
    chart = Chart(first, last, floor(min(values) * scale * 0.9), ceil(max(values) * scale * 1.08))
    dots, own, up = ([(day, value * scale) for day, value in pairs] for pairs in (dots, own, up))
    return Picture(
        chart=chart,
        unit=unit,
        dots=[chart.point(*dot) for dot in dots],
        own=chart.line(own),
        up=chart.line(up),
        straight=not identified,
        limit=chart.y(limit * scale) if limit else None,
        today=chart.x(today),
    )


def unit_of_mass():
    """The lab's unit of a mass, and how many of it make a kilogram."""
    unit = "lb" if lab_units() == "us" else "kg"
    return unit, units.from_base(1.0, unit, units.DIMENSIONS["mass"])


def first_day(facts):
    """The first weighing, at most ten years before the newest."""
    earliest = facts.newest.taken_on - timedelta(days=LONGEST_DAYS)
    return max(facts.masses[0].taken_on, earliest) - timedelta(days=EDGE_DAYS)


def ways_on(facts, found, limit, identified, today):
    """(day, mass) pairs along the own centile and one line up."""
    if found is None or found.z is None:
        return [], []
    newest = facts.newest
    if not identified:
        start = (newest.taken_on, newest.value_si)
        return tuple(
            [start, (middle(day), limit)] if day and day > newest.taken_on else []
            for day in (found.outgrown_on, found.outgrown_early_on)
        )
    ahead = newest.taken_on + timedelta(days=round(YEARS_AHEAD * 365.25))
    last = min(found.outgrown_on or ahead, newest.taken_on + timedelta(days=LONGEST_DAYS))
    last = max(last + timedelta(days=EDGE_DAYS), today)
    heaviest = HEAVIEST_KG if limit is None else max(limit, newest.value_si) * ABOVE_LIMIT
    curve = (facts.sex, facts.birth_date, first_day(facts), last, heaviest)
    return along(*curve, found.z), along(*curve, found.z + ONE_LINE_UP_Z)


def along(sex, birth_date, first, last, heaviest, z):
    """The curve of this z, month by month, where the table has it."""
    days = [first + timedelta(days=round(step * DAYS_A_MONTH)) for step in range(ceil((last - first).days / 30) + 1)]
    pairs = [(day, months(day, birth_date)) for day in days if first <= day <= last]
    found = [(day, weight_along(sex, age, z)) for day, age in pairs if 0 <= age <= OLDEST_MONTHS]
    return [(day, weight) for day, weight in found if weight is not None and weight <= heaviest]


def months(day, birth_date):
    return (day - birth_date).days / DAYS_A_MONTH


def middle(day):
    return date(day.year, day.month, MIDDLE_OF_A_MONTH)
