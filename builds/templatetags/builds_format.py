"""Filters for figures, quantities and times; each only calls the function that is tested elsewhere."""

from django import template

from builds.engineering.customary import in_us_units
from builds.engineering.finding import Finding, plain
from builds.engineering.quantities import format_quantity
from labsite import figures as reading
from labsite.models import Lab
from labsite.units import lab_units

register = template.Library()


@register.filter
def quantity(value_si, dimension):
    """`{{ mass_kg|quantity:"mass" }}` in the lab's units; None is unknown."""
    return reading.UNKNOWN if value_si is None else format_quantity(value_si, dimension, system=lab_units())


@register.filter
def figures(value, digits=3):
    return reading.significant(value, digits)


@register.filter
def plain_figure(value):
    """A limit as it is, without the rounding that could move it; words stay as they are."""
    return plain(value, 6) if isinstance(value, (int, float)) else value


@register.filter
def in_lab_units(finding):
    """The finding in US units where the lab reads those and there are some; None where the metric one says it all."""
    return in_us_units(finding) if isinstance(finding, Finding) and lab_units() == Lab.Units.US else None


@register.filter
def day(value):
    return reading.day(value)


@register.filter
def moment(value):
    return reading.moment(value)
