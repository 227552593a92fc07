"""What the follow-up offers to the hand-off: the first contacts, dated."""

from django.urls import reverse
from django.utils import timezone

from builds.followup import rules
from builds.followup.models import PlannedContact
from builds.record.holds import Hold
from builds.record.registry import Condition, Evidence, Report, Room

TICKET_PREFETCH = ["contacts"]


def register(registry):
    registry.add(
        Room(
            name="followup",
            report=report,
            watches=[(PlannedContact, lambda row: [row.build_id])],
            prefetch=TICKET_PREFETCH,
        )
    )


def report(build):
    dated = [one for one in build.contacts.all() if not one.is_struck]
    waiting = [one for one in dated if one.done_on is None]
    section = {
        "next": min(waiting, key=lambda one: (one.due_on, one.pk), default=None),
        "overdue": [one for one in waiting if one.due_on < timezone.localdate()],
    }
    if Hold.HAND_OFF not in build.holds():
        return Report(section=section)
    handed_on = rules.date_of_hand_off(build)
    missing = rules.what_is_missing(dated, handed_on)
    dates = {"dates": rules.dates_in_words(dated, handed_on)}
    return Report(
        evidence=[Evidence("contacts", "contacts", "First contacts", dates)],
        conditions=[
            Condition(
                Hold.HAND_OFF,
                "The first contacts with the family are dated",
                not missing,
                missing,
                reverse("contacts" if handed_on else "hand_off", args=[build.number]),
            )
        ],
        section=section,
    )
