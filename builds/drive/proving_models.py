"""The proving run, wheels up, line by line, and how the cart came to stand on the floor and on a slope."""

from auditlog.registry import auditlog
from django.conf import settings
from django.db import models
from django.utils import timezone

from builds.record.models.drive_settings import SignalEnd
from labsite.marks import Signed, Strikeable


class ProvingRun(Signed, Strikeable):
    """One run through all the lines. It keeps what it stood on, and is void once that has changed."""

    class State(models.TextChoices):
        OPEN = "open", "Not finished"
        PASSED = "passed", "Passed"
        FAILED = "failed", "Failed"

    build = models.ForeignKey("builds.Build", on_delete=models.CASCADE, related_name="proving_runs")
    configuration = models.ForeignKey("builds.Configuration", on_delete=models.PROTECT, related_name="proving_runs")
    supply = models.CharField("Supply, and the limit of its current", max_length=80)
    state = models.CharField(max_length=10, choices=State.choices, default=State.OPEN, editable=False)
    evidence = models.JSONField(default=dict, editable=False)
    voided_at = models.DateTimeField(null=True, blank=True, editable=False)
    voided_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, editable=False, on_delete=models.PROTECT, related_name="+"
    )
    void_changes = models.JSONField(default=list, blank=True, editable=False)

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return f"Proving run of {timezone.localtime(self.made_at):%Y-%m-%d %H:%M}"

    @property
    def counts(self):
        """Neither struck nor void."""
        return not self.is_struck and self.voided_at is None


class ProvingLine(Signed, Strikeable):
    """What one line of a run showed: the wheels, the answer of a bench test, or how it stopped."""

    build = models.ForeignKey("builds.Build", on_delete=models.CASCADE, related_name="proving_lines")
    run = models.ForeignKey(ProvingRun, on_delete=models.CASCADE, related_name="lines")
    code = models.CharField(max_length=20)
    left = models.CharField("Left wheel", max_length=10, blank=True)
    right = models.CharField("Right wheel", max_length=10, blank=True)
    seen = models.CharField("What was seen", max_length=10, blank=True)
    stopped = models.BooleanField("Both wheels stopped", null=True, blank=True)
    seconds = models.FloatField("Time to stop", null=True, blank=True)
    note = models.CharField("Note", max_length=300, blank=True)

    class Meta:
        ordering = ["pk"]


class StopMeasurement(Signed, Strikeable):
    """The way from letting go to standing still, with ballast, on the floor or down a slope; and coast or brake."""

    class Place(models.TextChoices):
        FLOOR = "floor", "Level floor"
        SLOPE = "slope", "Down a slope"

    build = models.ForeignKey("builds.Build", on_delete=models.CASCADE, related_name="stop_measurements")
    configuration = models.ForeignKey(
        "builds.Configuration", on_delete=models.PROTECT, related_name="stop_measurements"
    )
    place = models.CharField("Where", max_length=10, choices=Place.choices)
    slope_deg = models.FloatField("Slope", null=True, blank=True)
    speed_m_s = models.FloatField("Speed at letting go", null=True, blank=True)
    stopped = models.BooleanField("It came to stand and stayed")
    distance_m = models.FloatField("Distance from letting go to standing still", null=True, blank=True)
    did = models.CharField(
        "When the signal ended, the motor controllers", max_length=10, choices=SignalEnd.choices,
        default=SignalEnd.UNKNOWN,
    )  # fmt: skip
    ballast_kg = models.FloatField("Ballast on the seat", null=True, blank=True)
    note = models.CharField("Note", max_length=300, blank=True)

    class Meta:
        ordering = ["pk"]


for model in (ProvingRun, ProvingLine, StopMeasurement):
    auditlog.register(model)
