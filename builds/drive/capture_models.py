"""A log of the stick, kept whole, and what was fitted to it."""

from auditlog.registry import auditlog
from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from builds.engineering.capture import FEWEST_BITS, MOST_BITS
from builds.engineering.stick_fit import fit_of
from builds.fields import capture_path
from labsite.marks import Side, Signed, Strikeable


class Capture(Signed, Strikeable):
    """The log as it came, byte for byte. What could not be fitted is never kept, so every capture has its fit."""

    class When(models.TextChoices):
        AS_FOUND = "as_found", "As found"
        AS_LEFT = "as_left", "As left"

    build = models.ForeignKey("builds.Build", on_delete=models.CASCADE, related_name="captures")
    when = models.CharField("As found or as left", max_length=10, choices=When.choices)
    side = models.CharField("Side of the control", max_length=10, choices=Side.choices)
    adc_bits = models.PositiveSmallIntegerField(
        "Bits of the converter", validators=[MinValueValidator(FEWEST_BITS), MaxValueValidator(MOST_BITS)]
    )
    log = models.FileField(upload_to=capture_path, editable=False)
    digest = models.CharField(max_length=64, editable=False)  # SHA-256 of the log
    readings = models.PositiveIntegerField(editable=False)
    note = models.CharField("Note", max_length=300, blank=True)

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return f"{self.get_when_display()} on the {self.get_side_display().lower()}, {self.made_at:%Y-%m-%d}"


class FittedStick(models.Model):
    """What was fitted to one capture, and whether it is set for the client. A decision is made once."""

    class Decision(models.TextChoices):
        OPEN = "open", "Not decided"
        ACCEPTED = "accepted", "Accepted"
        REFUSED = "refused", "Refused"

    build = models.ForeignKey("builds.Build", on_delete=models.CASCADE, related_name="stick_fits", editable=False)
    capture = models.OneToOneField(Capture, on_delete=models.CASCADE, related_name="fitted", editable=False)
    results = models.JSONField(editable=False)  # StickFit.as_dict(), findings and all
    decision = models.CharField(max_length=10, choices=Decision.choices, default=Decision.OPEN, editable=False)
    decided_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, editable=False, on_delete=models.PROTECT, related_name="+"
    )
    decided_at = models.DateTimeField(null=True, blank=True, editable=False)
    reason = models.CharField("Reason", max_length=300, blank=True)

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return f"Fit of the capture {self.capture}"

    @property
    def fit(self):
        """The fit as the engineering made it, with its findings."""
        return fit_of(self.results)


for model in (Capture, FittedStick):
    auditlog.register(model)
