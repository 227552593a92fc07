"""How the stick rests and reaches, and how fast the unit really goes."""

from auditlog.registry import auditlog
from django.db import models

from labsite.marks import Side, Signed, Strikeable


class Calibration(Signed, Strikeable):
    """Readings of the stick's two axes, as found or as left, and what was computed from them."""

    class When(models.TextChoices):
        AS_FOUND = "as_found", "As found"
        AS_LEFT = "as_left", "As left"

    build = models.ForeignKey("builds.Build", on_delete=models.CASCADE, related_name="calibrations")
    when = models.CharField("As found or as left", max_length=10, choices=When.choices)
    side = models.CharField("Side of the control", max_length=10, choices=Side.choices)
    full_scale = models.PositiveIntegerField("Full scale of the converter (counts)")
    x_rest = models.FloatField("Sideways axis at rest")
    x_low = models.FloatField("Sideways axis, lowest")
    x_high = models.FloatField("Sideways axis, highest")
    y_rest = models.FloatField("Forward axis at rest")
    y_low = models.FloatField("Forward axis, lowest")
    y_high = models.FloatField("Forward axis, highest")
    x_spread = models.FloatField("Sideways axis, spread at rest", null=True, blank=True)
    y_spread = models.FloatField("Forward axis, spread at rest", null=True, blank=True)
    instrument = models.CharField("Instrument", max_length=80)
    supply_v = models.FloatField("Supply voltage")
    fit = models.JSONField(default=dict, editable=False)  # centre, gains, deadband per axis, with their inputs
    note = models.CharField("Note", max_length=300, blank=True)

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return f"{self.get_when_display()} on the {self.get_side_display().lower()}, {self.made_at:%Y-%m-%d}"


class TimedRuns(Signed, Strikeable):
    """Runs over a marked distance at one position of the speed selector."""

    build = models.ForeignKey("builds.Build", on_delete=models.CASCADE, related_name="timed_runs")
    configuration = models.ForeignKey(
        "builds.Configuration", on_delete=models.PROTECT, related_name="timed_runs"
    )
    position = models.CharField("Position of the speed selector", max_length=40)
    is_ceiling_in_use = models.BooleanField("This is the ceiling in use", default=True)
    distance_m = models.FloatField("Distance between the marks")
    times_s = models.JSONField("Times")
    ballast_kg = models.FloatField("Ballast on the seat", null=True, blank=True)
    surface = models.CharField("Surface", max_length=80, blank=True)

    class Meta:
        ordering = ["pk"]


for model in (Calibration, TimedRuns):
    auditlog.register(model)
