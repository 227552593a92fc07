"""Contacts with the family: the coordinator keeps them, the director reads them."""

from django.utils import timezone

from builds.followup.models import PlannedContact
from tests.access.papers import IDENTITY
from tests.access.record import DESK, OVER, done, refused
from tests.access.rows import row

ORDER = 46
ROWS = [
    row("contacts_due", **{**OVER, "reviewer": 403}),
    row("contacts", **IDENTITY),
    row("contacts_suggest", "POST", **done(DESK)),
    row("contact_new", **DESK),
    row("contact_new", "POST", **refused(DESK)),
    row("contact_done", **DESK),
    row("contact_done", "POST", **refused(DESK)),
    row("contact_strike", **DESK),
    row("contact_strike", "POST", **refused(DESK)),
]


def arguments(world):
    build = world.build
    contact = PlannedContact.objects.create(
        build=build, kind="call", due_on=timezone.localdate(), made_by=world.coordinator
    )
    number = {"number": build.number}
    return {
        **dict.fromkeys(("contacts", "contacts_suggest", "contact_new"), number),
        **dict.fromkeys(("contact_done", "contact_strike"), {**number, "pk": contact.pk}),
    }
