"""A numbered snapshot of what is set for this client. It is never edited: any change makes the next number."""

from auditlog.registry import auditlog
from django.db import models

from builds.record.models.arm_settings import ArmSettings
from builds.record.models.build import Build
from builds.record.models.drive_settings import DriveSettings
from labsite.marks import Side, Signed


class Configuration(ArmSettings, DriveSettings, Signed):
    class Purpose(models.TextChoices):
        BETTER_HAND = "better", "Access by the better hand"
        TRAIN_WEAKER = "training", "Training of the weaker hand"
        UNKNOWN = "unknown", "Not yet decided"

    class Reversible(models.TextChoices):
        FIXED = "fixed", "Fixed on this side"
        SWAPS = "swaps", "The arm swaps sides"

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="configurations")
    number = models.PositiveIntegerField("Configuration")
    reason = models.CharField("What changed, and why", max_length=300)

    side = models.CharField("Side of the control", max_length=10, choices=Side.choices, default=Side.UNKNOWN)
    purpose = models.CharField("Purpose of that side", max_length=10, choices=Purpose.choices, default=Purpose.UNKNOWN)
    arm = models.CharField("Arm", max_length=10, choices=Reversible.choices, default=Reversible.FIXED)
    ceiling_m_s = models.FloatField("Speed ceiling in use", null=True, blank=True)
    ceiling_position = models.CharField("Position of the speed selector", max_length=40, blank=True)
    mount = models.CharField("Mount and where it sits", max_length=300, blank=True)
    seat = models.CharField("Seat", max_length=300, blank=True)
    supports = models.JSONField("Supports fitted", default=list, blank=True)
    battery = models.ForeignKey(
        "builds.Battery", null=True, blank=True, on_delete=models.PROTECT, related_name="configurations"
    )
    charger = models.ForeignKey(
        "builds.Charger", null=True, blank=True, on_delete=models.PROTECT, related_name="configurations"
    )
    calibration = models.ForeignKey(
        "builds.Calibration", null=True, blank=True, on_delete=models.PROTECT, related_name="configurations"
    )
    fit = models.ForeignKey(
        "builds.FittedStick", null=True, blank=True, on_delete=models.PROTECT, related_name="configurations",
        verbose_name="Stick fit from a capture",
    )  # fmt: skip
    disconnect = models.CharField(
        "Battery disconnect within the adult's reach: what it is and where", max_length=300, blank=True
    )
    # Empty is not known; where there is none, the record says "none". Families read the place as it is written.
    stop_switch = models.CharField("Stop switch, and where it is", max_length=120, blank=True)
    power_switch = models.CharField("Power switch, and where it is", max_length=120, blank=True)
    stop_reset = models.CharField("How the stop switch is set back", max_length=120, blank=True)
    straps_open = models.CharField("How the straps open", max_length=120, blank=True)
    # Places in metres: x forward of the rear axle, y to the occupant's left, z up from the ground.
    rider_place = models.JSONField("Middle of the seated client", null=True, blank=True)
    shoulder_place = models.JSONField("Shoulder of that side, seated", null=True, blank=True)
    control_place = models.JSONField("Control, where the hand meets it", null=True, blank=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["build", "number"], name="one_configuration_per_number")]
        ordering = ["build", "number"]

    def __str__(self):
        return f"Configuration {self.number}"

    # The columns that are settings; everything else is who, when and why.
    SETTINGS = (
        "side",
        "purpose",
        "arm",
        "ceiling_m_s",
        "ceiling_position",
        "mount",
        "seat",
        "supports",
        "battery",
        "charger",
        "calibration",
        "fit",
        "disconnect",
        "stop_switch",
        "power_switch",
        "stop_reset",
        "straps_open",
        "rider_place",
        "shoulder_place",
        "control_place",
        *DriveSettings.DRIVE_SETTINGS,
        *ArmSettings.ARM_SETTINGS,
        *ArmSettings.RIDE_QUANTITIES,
    )

    def settings(self):
        return {name: getattr(self, name) for name in self.SETTINGS}


auditlog.register(Configuration)
