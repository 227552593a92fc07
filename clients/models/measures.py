"""Measured values: number, unit as typed, method, person, date, side and supports worn. Stored in SI."""

from auditlog.registry import auditlog
from django.conf import settings
from django.db import models
from django.utils import timezone

from clients.models.client import OfClient
from labsite.marks import Side, Signed, StandingQuerySet, Strikeable


class MeasureQuerySet(StandingQuerySet):
    def newest_first(self):
        return self.order_by("-taken_on", "-pk")

    def latest(self, kind, **more):
        return self.standing().filter(kind=kind, **more).newest_first().first()


class Measure(OfClient, Signed, Strikeable):
    class Kind(models.TextChoices):
        MASS = "mass", "Mass (weight)"
        STATURE = "stature", "Stature (height)"
        SEAT_WIDTH = "seat_width", "Seat width, from hip width"
        SEAT_DEPTH = "seat_depth", "Seat depth, from buttock to back of knee"
        ELBOW_HEIGHT = "elbow_height", "Arm support height, from elbow height"
        LOWER_LEG = "lower_leg", "Foot support to seat, from lower leg length"
        REACH = "reach", "Reach from the shoulder"

    class Method(models.TextChoices):
        MEASURED = "measured", "Measured here"
        REPORTED = "reported", "Reported by the family or referrer"

    class Compensation(models.TextChoices):
        WITHOUT = "without", "Without compensation"
        WITH = "with", "With compensation (leaning or holding on)"
        NONE = "", "Does not apply"

    # What all the measures of one sitting share.
    TAKEN_TOGETHER = ("taken_on", "method", "taken_by", "instrument", "supports_worn")

    client = models.ForeignKey("clients.Client", on_delete=models.CASCADE, related_name="measures")
    kind = models.CharField("What was measured", max_length=20, choices=Kind.choices)
    value_si = models.FloatField("Value")  # kg or m
    typed = models.CharField("As typed", max_length=40)
    side = models.CharField("Side", max_length=10, choices=Side.choices, blank=True)
    compensation = models.CharField("Compensation", max_length=10, choices=Compensation.choices, blank=True)
    method = models.CharField("Method", max_length=20, choices=Method.choices)
    instrument = models.CharField("Instrument", max_length=80, blank=True)
    taken_by = models.CharField("Measured by", max_length=120)
    taken_on = models.DateField("Date measured")
    supports_worn = models.CharField("Supports worn while measured", max_length=200, blank=True)

    # Somebody looked again at a measure that seemed mistyped, and it is right.
    checked_at = models.DateTimeField(null=True, blank=True, editable=False)
    checked_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, editable=False, on_delete=models.PROTECT, related_name="+"
    )
    checked_reason = models.CharField("Why it is right", max_length=300, blank=True, editable=False)

    objects = MeasureQuerySet.as_manager()

    class Meta:
        ordering = ["-taken_on", "-pk"]

    @property
    def dimension(self):
        return "mass" if self.kind == self.Kind.MASS else "length"

    def call_right(self, account, reason):
        self.checked_at, self.checked_by, self.checked_reason = timezone.now(), account, reason
        self.save(update_fields=["checked_at", "checked_by", "checked_reason"])


auditlog.register(Measure)
