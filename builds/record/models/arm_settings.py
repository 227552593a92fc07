"""The arm that carries the control, and what the drive draws. Everything is unknown until somebody has measured it."""

from django.db import models


class HoldingFrom(models.TextChoices):
    MEASURED = "measured", "Measured on this arm"
    MAKER = "maker", "From its maker"
    UNKNOWN = "unknown", "Unknown"


class ArmSettings(models.Model):
    """Part of a configuration, in SI. The sides are the occupant's; a path of 0 means that there is no arm there."""

    arm_left_path_m = models.FloatField("Arm on the left: path along its pieces", null=True, blank=True)
    arm_left_horizontal_m = models.FloatField("Arm on the left: foot to control, level", null=True, blank=True)
    arm_right_path_m = models.FloatField("Arm on the right: path along its pieces", null=True, blank=True)
    arm_right_horizontal_m = models.FloatField("Arm on the right: foot to control, level", null=True, blank=True)
    arm_pitch_m = models.FloatField("Length that one piece of the arm adds", null=True, blank=True)
    arm_piece_kg = models.FloatField("Mass of one piece of the arm", null=True, blank=True)
    arm_control_kg = models.FloatField("Mass of the control on the arm", null=True, blank=True)
    hand_force_n = models.FloatField("Downward force of the hand on the control", null=True, blank=True)
    arm_holding_nm = models.FloatField("Moment that the foot of the arm holds", null=True, blank=True)
    arm_holding_from = models.CharField(
        "Where that moment is from", max_length=10, choices=HoldingFrom.choices, default=HoldingFrom.UNKNOWN
    )
    driving_current_a = models.FloatField("Mean driving current, with the client's mass", null=True, blank=True)

    class Meta:
        abstract = True

    # In the order in which they are asked for and told, each with what it measures.
    ARM_QUANTITIES = {
        "arm_left_path_m": "length",
        "arm_left_horizontal_m": "length",
        "arm_right_path_m": "length",
        "arm_right_horizontal_m": "length",
        "arm_pitch_m": "length",
        "arm_piece_kg": "mass",
        "arm_control_kg": "mass",
        "hand_force_n": "force",
        "arm_holding_nm": "moment",
    }
    ARM_SETTINGS = (*ARM_QUANTITIES, "arm_holding_from")
    RIDE_QUANTITIES = {"driving_current_a": "current"}
    MEASURED = {**ARM_QUANTITIES, **RIDE_QUANTITIES}

    def arm_on(self, side):
        """(path, level distance) of the arm on the occupant's left or right [m]."""
        return getattr(self, f"arm_{side}_path_m"), getattr(self, f"arm_{side}_horizontal_m")
