"""Contacts with the family after the hand-off, dated before the unit leaves."""

from auditlog.registry import auditlog
from django.conf import settings
from django.db import models

from builds.record.holds import OVER, Stage
from labsite.marks import Signed, StandingQuerySet, Strikeable


class PlannedContactQuerySet(StandingQuerySet):
    def due(self, today):
        """Contacts that should have taken place by today; a unit that has come back asks for none."""
        return self.coming().filter(due_on__lte=today)

    def coming(self):
        return self.standing().filter(done_on__isnull=True).exclude(build__stage__in=(Stage.RETURNED, *OVER))

    def for_list(self):
        return self.select_related("build__unit", "build__client", "done_by", "struck_by")


class PlannedContact(Signed, Strikeable):
    class Kind(models.TextChoices):
        CALL = "call", "Call"
        VISIT = "visit", "Visit"

    build = models.ForeignKey("builds.Build", on_delete=models.CASCADE, related_name="contacts")
    kind = models.CharField("Call or visit", max_length=10, choices=Kind.choices)
    due_on = models.DateField("Date")
    done_on = models.DateField("Done on", null=True, blank=True)
    done_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    outcome = models.TextField("What came of it", blank=True)

    objects = PlannedContactQuerySet.as_manager()

    class Meta:
        ordering = ["due_on", "pk"]


auditlog.register(PlannedContact)
