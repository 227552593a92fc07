"""That a family's file was to be erased, and was: who asked, who began it, who confirmed it, and why."""

from auditlog.registry import auditlog
from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils import timezone

from clients.dates import collect, refuse_future
from clients.models.client import OfClient


class ErasureQuerySet(models.QuerySet):
    def waiting(self):
        """Begun, and neither confirmed nor taken back."""
        return self.filter(declined_at__isnull=True, confirmed_at__isnull=True).select_related("client", "begun_by")


class Erasure(OfClient):
    """It names nobody of the family, so that it may stay when the file is gone."""

    class Asker(models.TextChoices):
        PARENT = "parent", "A parent or guardian"
        CLIENT = "client", "The client"
        OTHER = "other", "Somebody the family sent"
        LAB = "lab", "The lab: its time to keep the file is over"

    client = models.ForeignKey("clients.Client", on_delete=models.PROTECT, related_name="erasures")
    asked_by = models.CharField("Who asked", max_length=10, choices=Asker.choices)
    asked_on = models.DateField("Date asked")
    reason = models.CharField("Reason", max_length=300)
    begun_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+", verbose_name="Begun by"
    )
    begun_at = models.DateTimeField("Begun at", default=timezone.now)
    declined_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, editable=False, on_delete=models.PROTECT, related_name="+",
        verbose_name="Taken back by",
    )  # fmt: skip
    declined_at = models.DateTimeField("Taken back at", null=True, blank=True, editable=False)
    declined_reason = models.CharField("Reason for taking it back", max_length=300, blank=True, editable=False)
    confirmed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, editable=False, on_delete=models.PROTECT, related_name="+",
        verbose_name="Confirmed by",
    )  # fmt: skip
    confirmed_at = models.DateTimeField("Confirmed at", null=True, blank=True, editable=False)
    files_left = models.JSONField("Files that are still to be deleted", default=list, blank=True, editable=False)

    objects = ErasureQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["client"], condition=Q(declined_at__isnull=True), name="one_standing_erasure"
            ),
            models.CheckConstraint(
                condition=Q(confirmed_by__isnull=True) | ~Q(confirmed_by=F("begun_by")), name="two_people_erase"
            ),
        ]

    def __str__(self):
        return f"Erasure of {self.client}"

    @property
    def waits(self):
        return self.declined_at is None and self.confirmed_at is None

    def clean(self):
        collect(asked_on=[lambda: refuse_future("Date asked", self.asked_on)])


auditlog.register(Erasure, exclude_fields=["files_left"])
