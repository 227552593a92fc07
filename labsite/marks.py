"""Marks that many records carry: who wrote it and when, and struck out with a reason but still readable."""

from django.conf import settings
from django.db import models
from django.utils import timezone


class Signed(models.Model):
    """Who wrote this down, and when."""

    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+", verbose_name="Written by"
    )
    made_at = models.DateTimeField("Written at", default=timezone.now)

    class Meta:
        abstract = True


class StandingQuerySet(models.QuerySet):
    def standing(self):
        """Rows that nobody has struck."""
        return self.filter(struck_at__isnull=True)


class Strikeable(models.Model):
    """A wrong entry is struck with a reason; it is never deleted."""

    struck_at = models.DateTimeField(null=True, blank=True, editable=False)
    struck_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, editable=False, on_delete=models.PROTECT, related_name="+"
    )
    struck_reason = models.CharField("Reason for striking", max_length=300, blank=True, editable=False)

    objects = StandingQuerySet.as_manager()

    class Meta:
        abstract = True

    @property
    def is_struck(self):
        return self.struck_at is not None

    def strike(self, account, reason):
        self.struck_at = timezone.now()
        self.struck_by = account
        self.struck_reason = reason
        self.save(update_fields=["struck_at", "struck_by", "struck_reason"])


class Deviating(models.Model):
    """A row copied from the plan, or added: what the plan said of it, and who departed from that and why."""

    planned = models.JSONField(null=True, blank=True, editable=False)  # the plan's own words; empty: added here
    deviation_reason = models.CharField("Reason for the deviation", max_length=300, blank=True)
    deviation_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )

    class Meta:
        abstract = True


class YesNoUnknown(models.TextChoices):
    """Unknown is a value, different from no and from empty."""

    YES = "yes", "Yes"
    NO = "no", "No"
    UNKNOWN = "unknown", "Unknown"


class Side(models.TextChoices):
    """Always the occupant's own left and right."""

    LEFT = "left", "Occupant's left"
    RIGHT = "right", "Occupant's right"
    UNKNOWN = "unknown", "Unknown"
