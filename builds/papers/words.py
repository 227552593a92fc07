"""Plain words for families: short, everyday, the same on every paper, in the language that the paper is printed in."""

import math

from django.utils import dateformat
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as noop
from django.utils.translation import pgettext

MPH_PER_M_S = 2.236936
KM_H_PER_M_S = 3.6
LB_PER_KG = 1 / 0.45359237  # the pound is exact: NIST SP 811

SUPPORTS = {
    "head": noop("head rest"),
    "trunk": noop("side supports and chest harness"),
    "pelvis": noop("hip support"),
    "belt": noop("lap belt"),
    "thigh": noop("leg spacer"),
    "foot": noop("foot support"),
}

SUPPORT_CHECKS = {
    "head": noop("Check the head rest. Nothing may be loose."),
    "trunk": noop("Check the side supports and chest harness. Nothing may be loose."),
    "pelvis": noop("Check the hip support. Nothing may be loose."),
    "belt": noop("Check the lap belt. Nothing may be loose."),
    "thigh": noop("Check the leg spacer. Nothing may be loose."),
    "foot": noop("Check the foot support. Nothing may be loose."),
}

BATTERIES = {
    "lead_acid": noop("sealed lead-acid"),
    "li_ion": noop("lithium-ion"),
    "lifepo4": noop("lithium iron phosphate"),
    "nimh": noop("nickel metal hydride"),
    "primary": noop("single-use cells"),
}

# Shorter and safer than the form's words: "pavement" is the road itself to many families.
PLACES = {
    "indoors": noop("indoors"),
    "yard": noop("yard or garden"),
    "pavement": noop("path away from cars"),
    "school": noop("school"),
    "clinic": noop("clinic or lab"),
    "other": noop("places we agreed"),
}

# What people often write into short fields of the record, so that it needs no translation of its own.
OFTEN_WRITTEN = (
    *(noop("red"), noop("green"), noop("orange"), noop("yellow"), noop("blue"), noop("off")),
    *(noop("blinking red"), noop("blinking green"), noop("slow"), noop("medium"), noop("fast")),
    noop("no selector fitted"),
)

# What the record says where there is no selector; a family is then told of none.
NO_SELECTOR = ("no selector fitted", "no selector", "none")
NONE = ("none", "none fitted", "no stop switch", "no power switch", "no switch", "no on/off switch", "no straps")


def says_none(recorded, none=NONE):
    """Whether the record says that there is none; empty is not known, which is something else."""
    return recorded.strip().rstrip(".").lower() in none


def listed(items):
    """a, b and c"""
    items = [str(item) for item in items]
    if len(items) < 2:
        return "".join(items)
    return _("%(first)s and %(last)s") % {"first": ", ".join(items[:-1]), "last": items[-1]}


def a_day(date):
    """A date as the family writes it: 5 Mar 2026."""
    return dateformat.format(date, pgettext("a date, in the letters of Django's date filter", "j M Y"))


def a_clock(time):
    """A clock time that nobody has to convert: 6:30 pm (18:30)."""
    hour = f"{time.hour % 12 or 12}:{time:%M}"
    whole = f"{time:%H:%M}"
    if time.hour < 12:
        return _("%(hour)s am (%(whole)s)") % {"hour": hour, "whole": whole}
    return _("%(hour)s pm (%(whole)s)") % {"hour": hour, "whole": whole}


def some_hours(hours):
    """8 and a half hours"""
    whole, half = divmod(round(hours * 2), 2)
    if not whole:
        return _("half an hour")
    if whole == 1:
        return _("1 and a half hours") if half else _("1 hour")
    return (_("%(number)s and a half hours") if half else _("%(number)s hours")) % {"number": whole}


def a_number(value, places):
    """A number with the decimal sign of the language."""
    return f"{value:.{places}f}".replace(".", pgettext("the sign before tenths, as in 2.9", "."))


def a_speed(speed_m_s):
    """A speed in the units people know: 2.9 km/h (1.8 mph)."""
    return _("%(metric)s km/h (%(us)s mph)") % {
        "metric": a_number(speed_m_s * KM_H_PER_M_S, 1),
        "us": a_number(speed_m_s * MPH_PER_M_S, 1),
    }


def a_load(mass_kg):
    """A load limit in both units, rounded down so that neither says more than the limit."""
    tenths = math.floor(mass_kg * 10 + 1e-9) / 10
    kilograms = a_number(tenths, 0 if tenths == int(tenths) else 1)
    return _("%(metric)s kg (%(us)s lb)") % {"metric": kilograms, "us": math.floor(mass_kg * LB_PER_KG + 1e-9)}


def sentence(text):
    """The text with its full stop."""
    text = str(text).strip()
    return text if not text or text[-1] in ".!?:" else f"{text}."
