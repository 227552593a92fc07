"""Forms of the drive: readings of the stick, timed runs, and the settings of a configuration."""

from django import forms

from builds.drive.arm_settings_form import ArmSettingsFields
from builds.drive.drive_settings_form import DriveSettingsFields
from builds.drive.models import Calibration, TimedRuns
from builds.drive.rules import UnfitReading, fit_readings, read_times
from builds.engineering.calibration import LARGEST_FULL_SCALE, LEAST_FULL_SCALE
from builds.engineering.finding import STOP
from builds.engineering.instruments import BOUNDS
from builds.engineering.seating import chest_strap
from builds.record.models import Configuration
from clients.models import SittingProfile
from labsite.forms import LabForm, QuantityField
from labsite.marks import Side
from labsite.place_field import PlaceField

RISES = (("no", "Rises"), ("yes", "Falls"))
MOST_SUPPLY_V, MOST_BALLAST_KG = BOUNDS["voltage"].most, BOUNDS["mass"].most
MOST_CEILING_M_S = 5
LEAST_DISTANCE_M, MOST_DISTANCE_M = 0.5, 100
MOST_RUNS, SLOWEST_S = 20, 600
ONLY_RIDDEN = (
    "arm", "ceiling_m_s", "ceiling_position", "seat", "supports", "straps_open", "disconnect", "rider_place",
    "shoulder_place", "control_place", "driving_current_a",
)  # fmt: skip


WHERE = "In words that a family reads after “It is here:”, like: on the push handle, the red knob. Without one: none"
POWER_WHERE = "A toy's is its own on/off switch. The place alone, like: under the seat, on the right. Without one: none"

RESET = "In words that a family reads after “To set the stop switch back:”, like: turn the red knob to the right"
STRAPS = "In words that a family reads after “To open the straps:”, like: press the red button. Without straps: none"


def own(model, name, **options):
    """A form field made from the model's own, with its label and its length."""
    return model._meta.get_field(name).formfield(**options)


def count(name, required=True, help_text=""):
    label = str(Calibration._meta.get_field(name).verbose_name)
    return forms.FloatField(
        label=label, required=required, min_value=0, max_value=LARGEST_FULL_SCALE, help_text=help_text
    )


class CalibrationForm(LabForm):
    suffixes = dict.fromkeys(
        ("full_scale", "x_rest", "x_low", "x_high", "x_spread", "y_rest", "y_low", "y_high", "y_spread"), "counts"
    )

    when = own(Calibration, "when", widget=forms.RadioSelect, choices=Calibration.When.choices)
    side = own(Calibration, "side", widget=forms.RadioSelect, choices=Side.choices, initial=None)
    full_scale = forms.IntegerField(
        label="Full scale of the converter", min_value=LEAST_FULL_SCALE, max_value=LARGEST_FULL_SCALE,
        help_text="1023 for 10 bits, 4095 for 12 bits",
    )  # fmt: skip
    x_rest, x_low, x_high = count("x_rest", help_text="Nobody touches the stick"), count("x_low"), count("x_high")
    x_spread = count("x_spread", False, "Largest less smallest of several rests; empty when it was not measured")
    x_reversed = forms.ChoiceField(
        label="The sideways reading, when the stick is pushed to the occupant's right", choices=RISES,
        widget=forms.RadioSelect,
    )  # fmt: skip
    y_rest, y_low, y_high = count("y_rest", help_text="Nobody touches the stick"), count("y_low"), count("y_high")
    y_spread = count("y_spread", False, "Largest less smallest of several rests; empty when it was not measured")
    y_reversed = forms.ChoiceField(
        label="The forward reading, when the stick is pushed forward", choices=RISES, widget=forms.RadioSelect
    )
    supply_v = QuantityField(
        "voltage", label="Supply voltage", metric_unit="V", minimum=1, maximum=MOST_SUPPLY_V
    )
    instrument = own(Calibration, "instrument")
    note = own(Calibration, "note")

    def clean(self):
        cleaned = super().clean()
        if not self.errors:
            try:
                fit_readings(cleaned)
            except UnfitReading as error:
                self.add_error(error.field, str(error))
        return cleaned


class TimedRunsForm(LabForm):
    distance_m = QuantityField(
        "length", label="Distance between the marks", metric_unit="m", us_unit="ft", minimum=LEAST_DISTANCE_M,
        maximum=MOST_DISTANCE_M,
    )  # fmt: skip
    times_s = forms.CharField(
        label="Times", max_length=200, help_text="In seconds, three runs or more, for example 3.1 3.0 3.2"
    )
    is_ceiling_in_use = own(TimedRuns, "is_ceiling_in_use")
    position = own(TimedRuns, "position")
    ballast_kg = QuantityField(
        "mass", label="Ballast on the seat", metric_unit="kg", us_unit="lb", minimum=0, maximum=MOST_BALLAST_KG,
        required=False,
    )  # fmt: skip
    surface = own(TimedRuns, "surface")

    def clean_times_s(self):
        try:
            times = read_times(self.cleaned_data["times_s"])
        except ValueError as error:
            raise forms.ValidationError(str(error)) from error
        if not 1 <= len(times) <= MOST_RUNS:
            raise forms.ValidationError(f"Times must be of 1 to {MOST_RUNS} runs")
        if not all(0.05 <= one <= SLOWEST_S for one in times):
            raise forms.ValidationError(f"Times must be from 0.05 to {SLOWEST_S} seconds each")
        return times


def chosen(name):
    """A choice among the rows that a setting of the configuration points at."""
    field = Configuration._meta.get_field(name)
    label = str(field.verbose_name).capitalize()
    return forms.ModelChoiceField(
        field.remote_field.model._default_manager.none(), label=label, required=False, empty_label="Unknown"
    )


class ConfigurationForm(ArmSettingsFields, DriveSettingsFields, LabForm):
    """The settings for one client on one unit. What is left empty stays unknown."""

    suffixes = DriveSettingsFields.drive_suffixes
    family_texts = ("ceiling_position", "disconnect", "stop_switch", "power_switch", "stop_reset", "straps_open")

    side = own(Configuration, "side", widget=forms.RadioSelect, choices=Side.choices)
    purpose = own(Configuration, "purpose")
    arm = own(Configuration, "arm")
    ceiling_m_s = QuantityField(
        "speed", label="Speed ceiling in use", metric_unit="m/s", us_unit="mph", minimum=0.05,
        maximum=MOST_CEILING_M_S, required=False,
    )  # fmt: skip
    ceiling_position = own(Configuration, "ceiling_position", help_text="Without a selector: no selector fitted")
    mount = own(Configuration, "mount")
    seat = own(Configuration, "seat")
    supports = forms.MultipleChoiceField(
        label="Supports fitted", choices=SittingProfile.Support.choices, required=False,
        widget=forms.CheckboxSelectMultiple,
    )  # fmt: skip
    battery = chosen("battery")
    charger = chosen("charger")
    disconnect = own(
        Configuration, "disconnect", help_text="A switch that only stops the signal is no battery disconnect"
    )
    stop_switch = own(Configuration, "stop_switch", help_text=WHERE)
    power_switch = own(Configuration, "power_switch", help_text=POWER_WHERE)
    stop_reset = own(Configuration, "stop_reset", help_text=RESET)
    straps_open = own(Configuration, "straps_open", help_text=STRAPS)
    rider_place = PlaceField(label="Middle of the seated client")
    shoulder_place = PlaceField(label="Shoulder of that side, seated")
    control_place = PlaceField(label="Control, where the hand meets it")
    reason = own(Configuration, "reason")
    based_on = forms.IntegerField(required=False, widget=forms.HiddenInput)

    def __init__(self, *args, now=None, rides=True, stick=False, **kwargs):
        self.now = now
        settings = {name: value for name, value in now.settings().items()} if now else {}
        initial = {**settings, **self.drive_initial(settings), "based_on": now.number if now else 0}
        super().__init__(*args, initial=initial, **kwargs)
        self.order_fields([name for name in Configuration.SETTINGS if name in self.fields])
        if not stick:
            self.drop_drive()
            self.drop_arm()
        for name in ("battery", "charger"):
            model = Configuration._meta.get_field(name).remote_field.model
            self.fields[name].queryset = model._default_manager.all()
        if not rides:
            for name in ONLY_RIDDEN:
                del self.fields[name]

    @property
    def settings(self):
        return {name: value for name, value in self.cleaned_data.items() if name in Configuration.SETTINGS}

    def clean(self):
        cleaned = super().clean()
        supports = cleaned.get("supports")
        if supports and chest_strap(supports).verdict == STOP:
            self.add_error("supports", "Choose the pelvic support or the lap belt too: no chest strap without one")
        if cleaned.get("shoulder_place"):
            self._refuse_other_shoulder(cleaned)
        if self.now and cleaned.get("side") != self.now.side:
            self._refuse_old_places(cleaned)
        self.clean_drive(cleaned)
        self.clean_arm_settings(cleaned)
        return cleaned

    def _refuse_other_shoulder(self, cleaned):
        """The left shoulder lies to the occupant's left of the middle of the body."""
        middle = cleaned["rider_place"][1] if cleaned.get("rider_place") else 0
        beside = cleaned["shoulder_place"][1] - middle
        side = cleaned.get("side")
        if (side == Side.LEFT and beside <= 0) or (side == Side.RIGHT and beside >= 0):
            self.add_error(
                "shoulder_place",
                f"The {side} shoulder must lie to the occupant's {side} of the middle of the seated client. "
                "To the left counts above zero, to the right below zero",
            )

    def _refuse_old_places(self, cleaned):
        """A control that moved to the other side does not stay where it was."""
        place = cleaned.get("control_place")
        if place and place[1] != 0 and place == self.now.control_place:
            self.add_error(
                "control_place",
                "The side of the control changed and its place did not. Enter the new place, or leave it empty",
            )
