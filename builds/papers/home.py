"""What the smaller papers for the family add to the facts: dates in words, lines to write on, who was taught."""

import datetime
import math

from django.utils import dateformat
from django.utils.translation import gettext as _
from django.utils.translation import pgettext

from builds.papers import keeping, teaching, words
from builds.papers.models import PaperKind
from builds.parts.carrying import added_parts, removed_parts

# A charge on the first Saturday of each month leaves 35 days between two at most. Common practice asks for one in
# 90 days (engineering.battery.RECHARGE_DAYS); the guides ask for one each month, which a family can remember.
MONTHS = 12
SATURDAY = 5
# What is known well enough to give dates: a full, unplugged lead-acid battery. Others are kept as their maker says.
STORED_FULL = ("lead_acid",)
DIARY_LINES = 16
# Twice the load constant of the revised NIOSH lifting equation, 23 kg for one adult in the best posture (NIOSH 94-110).
# What a family lifts is seldom in that posture, so two adults lift whatever rides, however light.
MOST_FOR_TWO_KG = 46.0
ROUNDING = 1e-9
TRIES = 3


def page(kind, facts):
    """What the template of this paper shows beside the facts; nothing where the facts are enough."""
    return PAGES[kind](facts) if kind in PAGES else {}


def storage_page(facts):
    return {"dates": recharge_dates(facts), "why_no_dates": why_no_dates(facts)}


def recharge_dates(facts):
    """The days on which a stored battery is charged, in words; none where the battery or its charge is not known."""
    return [] if why_no_dates(facts) or not facts.is_charged else [a_date(one) for one in first_saturdays(facts.today)]


def why_no_dates(facts):
    """What keeps the card from giving dates, as a family reads it."""
    if not facts.is_charged:
        return ""
    if facts.battery is None or facts.battery.chemistry == "unknown":
        return _("We do not know this battery well enough. Ask the lab before you store it.")
    if facts.battery.chemistry not in STORED_FULL:
        return _("This kind of battery is stored in its own way. Ask the lab before you store it.")
    if facts.charge.problem:
        return _("The charging times are not known yet. Ask the lab before you store it.")
    return ""


def first_saturdays(today):
    """The first Saturday of each of the coming months, the first one a week away or more."""
    year, month, found = today.year, today.month, []
    while len(found) < MONTHS:
        first = datetime.date(year, month, 1)
        saturday = first + datetime.timedelta(days=(SATURDAY - first.weekday()) % 7)
        if saturday >= today + datetime.timedelta(days=7):
            found.append(saturday)
        year, month = (year + 1, 1) if month == 12 else (year, month + 1)
    return found


def a_date(date):
    """A date with its day of the week: Saturday 5 December 2026."""
    return dateformat.format(date, pgettext("a date with its weekday, in Django's date letters", "l j F Y"))


def diary_page(facts):
    return {"lines": range(1, DIARY_LINES + 1)}


def teach_page(facts):
    return {"adults": [(adult, rows_of(facts, adult)) for adult in teaching.supervising_adults(facts.build)]}


def rows_of(facts, adult):
    return [taught(facts, cell) for cell in teaching.cells_of(facts.build, adult)]


def taught(facts, cell):
    """One item for one adult: the tries that still count, boxes for more, and who taught them."""
    tries = [one for one in cell.tries if one.stale_at is None][-TRIES:]
    how = tries[-1].how if tries else cell.item["proof"]
    return {
        "text": said(facts, cell.item["text"]),
        "how": {"shown": _("Show"), "said": _("Say")}[how],
        "tries": [*(_("right") if one.right else _("not yet") for one in tries), *[""] * (TRIES - len(tries))],
        "by": ", ".join(dict.fromkeys(one.teacher for one in tries)),
    }


def carry_page(facts):
    return {"weight": weight_sentence(facts), "is_too_heavy": is_too_heavy(facts)}


def unit_kg(facts):
    """The mass of the unit as it stands, without the child; None while any part of it is not known."""
    build = facts.build
    added, removed = added_parts(build), removed_parts(build)
    masses = [build.unit.type.own_mass_kg, *(part.mass_kg for part in [*added, *removed])]
    if None in masses:
        return None
    return masses[0] + sum(one.mass_kg * one.count for one in added) - sum(one.mass_kg * one.count for one in removed)


def weight_sentence(facts):
    """What has to be lifted, rounded up in both units."""
    mass = unit_kg(facts)
    if mass is None:
        return _("We do not know its weight yet.")
    whole = {"metric": math.ceil(mass - ROUNDING), "us": math.ceil(mass * words.LB_PER_KG - ROUNDING)}
    return _("It weighs about %(metric)s kg (%(us)s lb) without the child.") % whole


def is_too_heavy(facts):
    mass = unit_kg(facts)
    return mass is not None and mass > MOST_FOR_TWO_KG


def said(facts, text):
    """A sentence of the plan in the paper's language."""
    sentences = getattr(facts, "sentences", None)
    return sentences.said(text) if sentences else text


PAGES = {
    PaperKind.USE_GUIDE: carry_page,
    PaperKind.STORAGE_CARD: storage_page,
    PaperKind.USE_DIARY: diary_page,
    PaperKind.TEACH_BACK_SHEET: teach_page,
    PaperKind.WHAT_WE_KEEP: keeping.page,
}
