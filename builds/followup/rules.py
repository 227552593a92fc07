"""When the lab speaks with the family after the hand-off. The intervals are common practice: use falls early."""

import calendar
from datetime import date, timedelta

from django.db import transaction
from django.utils import timezone

from builds.followup.models import PlannedContact
from builds.record.rules import Refused
from builds.record.voiding import at_the_end

FIRST_CONTACTS = 2
FIRST_WITHIN_DAYS = 14  # common practice: a call at 3 days and one at 2 weeks
CALL, VISIT = PlannedContact.Kind.CALL, PlannedContact.Kind.VISIT


def suggested(handed_on):
    """(kind, date) pairs: 3 days, 2 weeks, 6 weeks, 3 months, 6 months."""
    return [
        (CALL, handed_on + timedelta(days=3)),
        (CALL, handed_on + timedelta(days=FIRST_WITHIN_DAYS)),
        (VISIT, handed_on + timedelta(weeks=6)),
        (VISIT, months_after(handed_on, 3)),
        (VISIT, months_after(handed_on, 6)),
    ]


def months_after(start, months):
    """The same day of a later month, or that month's last day."""
    year, month = divmod(start.year * 12 + start.month - 1 + months, 12)
    return date(year, month + 1, min(start.day, calendar.monthrange(year, month + 1)[1]))


def date_of_hand_off(build):
    """The date on which the unit leaves or left; None while it is not set."""
    hand_off = getattr(build, "hand_off", None)
    return hand_off.handed_on if hand_off else None


def first_contacts(dated, handed_on):
    """Contacts dated in the first two weeks after the hand-off."""
    last = handed_on + timedelta(days=FIRST_WITHIN_DAYS)
    return [one for one in dated if handed_on <= one.due_on <= last]


def what_is_missing(dated, handed_on):
    """What the first contacts lack, in words; empty when they are dated."""
    if handed_on is None:
        return "Enter the date of the hand-off first."
    found = len(first_contacts(dated, handed_on))
    if found >= FIRST_CONTACTS:
        return ""
    return (
        f"{found} of {FIRST_CONTACTS} contacts are dated within {FIRST_WITHIN_DAYS} days of the hand-off. "
        "Common practice is 3 days and 2 weeks."
    )


def dates_in_words(dated, handed_on):
    """The dates as evidence. Once the first contacts are dated, later ones come and go without voiding anything."""
    if not what_is_missing(dated, handed_on):
        return f"{FIRST_CONTACTS} or more within {FIRST_WITHIN_DAYS} days of the hand-off"
    return sorted(str(one.due_on) for one in dated)


@transaction.atomic
def suggest(build, account):
    """Write down the usual contacts that are not there yet. Returns how many were added."""
    handed_on = date_of_hand_off(build)
    if handed_on is None:
        raise Refused("Enter the date of the hand-off first. The usual contacts are counted from it.")
    there = {one.due_on for one in build.contacts.standing()}
    missing = [(kind, day) for kind, day in suggested(handed_on) if day not in there]
    with at_the_end():
        for kind, day in missing:
            PlannedContact.objects.create(build=build, kind=kind, due_on=day, made_by=account)
    return len(missing)


def finish(contact, account, *, done_on, outcome):
    """The contact took place: when, and what came of it."""
    if contact.done_on is not None:
        raise Refused("This contact is recorded as done already.")
    if done_on > timezone.localdate():
        raise Refused("Done on must be today or earlier.")
    contact.done_on = done_on
    contact.done_by = account
    contact.outcome = outcome
    contact.save(update_fields=["done_on", "done_by", "outcome"])
