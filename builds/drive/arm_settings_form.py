"""The arm's part of the configuration form, and the mean driving current. Left empty it stays unknown."""

from django import forms

from builds.record.models import Configuration
from builds.record.models.arm_settings import HoldingFrom
from labsite.forms import QuantityField

PER_SIDE = "Along the pieces, from the foot to the control. 0 where the control sits there without an arm"
UNITS = {  # what it measures -> unit of a bare number, metric and US
    "length": ("cm", "in"),
    "mass": ("g", "oz"),
    "force": ("N", "lbf"),
    "moment": ("N*m", "lbf*in"),
    "current": ("A", None),
}
MOST = {  # as the calculation takes them
    "arm_left_path_m": 5, "arm_left_horizontal_m": 5, "arm_right_path_m": 5, "arm_right_horizontal_m": 5,
    "arm_pitch_m": 1, "arm_piece_kg": 10, "arm_control_kg": 50, "hand_force_n": 2000, "arm_holding_nm": 10_000,
    "driving_current_a": 200,
}  # fmt: skip
LEAST = {"arm_pitch_m": 0.001, "driving_current_a": 0.01, "hand_force_n": 0, "arm_holding_nm": 0}


def measured(name, help_text):
    """A box for one measured setting, with the label of its column."""
    dimension = Configuration.MEASURED[name]
    metric, us = UNITS[dimension]
    label = str(Configuration._meta.get_field(name).verbose_name)
    return QuantityField(
        dimension, label=label, metric_unit=metric, us_unit=us, minimum=LEAST.get(name, 0), maximum=MOST[name],
        required=False, help_text=help_text,
    )  # fmt: skip


class ArmSettingsFields(forms.Form):
    """Mixed into the configuration form. The arm belongs to a build with a stick, the current to one that rides."""

    arm_left_path_m = measured("arm_left_path_m", PER_SIDE)
    arm_left_horizontal_m = measured("arm_left_horizontal_m", "From above, in a straight line")
    arm_right_path_m = measured("arm_right_path_m", PER_SIDE)
    arm_right_horizontal_m = measured("arm_right_horizontal_m", "From above, in a straight line")
    arm_pitch_m = measured("arm_pitch_m", "Ten pieces in a row, measured and divided by ten")
    arm_piece_kg = measured("arm_piece_kg", "With its joint")
    arm_control_kg = measured("arm_control_kg", "Stick, housing and what holds it")
    hand_force_n = measured("hand_force_n", "With a force gauge under the hand, at its hardest")
    arm_holding_nm = measured("arm_holding_nm", "A spring scale on a bar of known length, until the foot slips")
    arm_holding_from = forms.ChoiceField(
        label=str(Configuration._meta.get_field("arm_holding_from").verbose_name), choices=HoldingFrom.choices
    )
    driving_current_a = measured(
        "driving_current_a", "From the battery, over ten minutes of driving as the client drives, with ballast"
    )

    def drop_arm(self):
        for name in Configuration.ARM_SETTINGS:
            self.fields.pop(name, None)

    def clean_arm_settings(self, cleaned):
        for side in ("left", "right"):
            path, level = cleaned.get(f"arm_{side}_path_m"), cleaned.get(f"arm_{side}_horizontal_m")
            if path and level is not None and level > path:
                name = f"arm_{side}_horizontal_m"
                self.add_error(name, f"{self.fields[name].label} must not be more than the path along its pieces")
        if cleaned.get("arm_holding_nm") is not None and cleaned.get("arm_holding_from") == HoldingFrom.UNKNOWN:
            self.add_error("arm_holding_from", "Choose where the moment that the foot holds is from")
