"""Forms of the proving run, one for each kind of line, and of a measured stop."""

from django import forms

from builds.drive.proving_models import ProvingLine, ProvingRun, StopMeasurement
from builds.engineering.instruments import BOUNDS
from builds.engineering.proving import CHANNEL, NOTHING, STICK, STOPPING, WHEELS_UP
from builds.record.models.drive_settings import SignalEnd
from labsite.forms import MAX_LINE, LabForm, QuantityField, RecordForm

TURNED = (("forward", "Forward"), ("backward", "Backward"), ("still", "Still"))
WHICH = (
    ("left+", "Left wheel, forward"), ("left-", "Left wheel, backward"), ("right+", "Right wheel, forward"),
    ("right-", "Right wheel, backward"), (NOTHING, "No wheel"),
)  # fmt: skip
VALUE = (
    ("x+", "The sideways value rises (x+)"), ("x-", "The sideways value falls (x-)"),
    ("y+", "The forward value rises (y+)"), ("y-", "The forward value falls (y-)"), (NOTHING, "Neither value"),
)  # fmt: skip
STOPPED = (("yes", "Both wheels stopped, and stayed still"), ("no", "A wheel went on, or started again"))


def chosen(label, choices, **options):
    return forms.ChoiceField(label=label, choices=choices, widget=forms.RadioSelect, **options)


class ProvingRunForm(RecordForm):
    class Meta:
        model = ProvingRun
        fields = ["supply"]
        help_texts = {"supply": "A current-limited supply instead of the battery, for example 12 V, limited to 2 A"}


class LineForm(LabForm):
    note = forms.CharField(label=ProvingLine._meta.get_field("note").verbose_name, max_length=MAX_LINE, required=False)
    line = forms.CharField(widget=forms.HiddenInput, required=False)  # which line the page was opened for

    @property
    def showed(self):
        return {name: value for name, value in self.cleaned_data.items() if name != "line"}


class WheelsForm(LineForm):
    left = chosen("The wheel on the occupant's left", TURNED)
    right = chosen("The wheel on the occupant's right", TURNED)
    field_order = ["left", "right", "note"]


class ChannelForm(LineForm):
    seen = chosen("What turned", WHICH)
    field_order = ["seen", "note"]


class StickForm(LineForm):
    seen = chosen("What moved", VALUE)
    field_order = ["seen", "note"]


class StoppingForm(LineForm):
    stopped = chosen("What it did", STOPPED)
    seconds = QuantityField("time", label="Time to stop", metric_unit="s", minimum=0, maximum=600, required=False)
    field_order = ["stopped", "seconds", "note"]

    def __init__(self, *args, timed=True, **kwargs):
        super().__init__(*args, **kwargs)
        self.timed = timed
        if not timed:
            del self.fields["seconds"]

    def clean(self):
        cleaned = super().clean()
        if self.timed and cleaned.get("stopped") == "yes" and cleaned.get("seconds") is None and not self.errors:
            self.add_error("seconds", "Enter the time to stop")
        return cleaned

    @property
    def showed(self):
        return {**super().showed, "stopped": self.cleaned_data["stopped"] == "yes"}


FORMS = {WHEELS_UP: WheelsForm, CHANNEL: ChannelForm, STICK: StickForm, STOPPING: StoppingForm}


def form_for(line, data):
    more = {"timed": line.timed} if line.kind == STOPPING else {}
    return FORMS[line.kind](data, initial={"line": line.code}, **more)


class StopForm(LabForm):
    place = chosen("Where", StopMeasurement.Place.choices)
    slope_deg = QuantityField(
        "angle", label="Slope", metric_unit="deg", minimum=0, maximum=30, required=False,
        help_text="Only down a slope: its angle in degrees",
    )  # fmt: skip
    speed_m_s = QuantityField(
        "speed", label="Speed at letting go", metric_unit="m/s", us_unit="mph", minimum=0.05,
        maximum=BOUNDS["speed"].most,
    )  # fmt: skip
    stopped = chosen("After letting go it", (("yes", "Came to stand, and stayed"), ("no", "Rolled on")))
    distance_m = QuantityField(
        "length", label="Distance from letting go to standing still", metric_unit="m", us_unit="ft", minimum=0.01,
        maximum=BOUNDS["length"].most, required=False,
    )  # fmt: skip
    did = chosen("When the signal ended, the motor controllers", SignalEnd.choices, initial=SignalEnd.UNKNOWN)
    ballast_kg = QuantityField(
        "mass", label="Ballast on the seat", metric_unit="kg", us_unit="lb", minimum=0, maximum=BOUNDS["mass"].most,
        required=False,
    )  # fmt: skip
    note = forms.CharField(label="Note", max_length=MAX_LINE, required=False)

    def clean(self):
        cleaned = super().clean()
        is_slope = cleaned.get("place") == StopMeasurement.Place.SLOPE
        if is_slope and "slope_deg" not in self.errors and not cleaned.get("slope_deg"):
            self.add_error("slope_deg", "Enter the slope, more than 0°")
        if cleaned.get("place") == StopMeasurement.Place.FLOOR:
            cleaned["slope_deg"] = None
        if cleaned.get("stopped") == "yes" and "distance_m" not in self.errors and cleaned.get("distance_m") is None:
            self.add_error("distance_m", "Enter the distance from letting go to standing still")
        if "stopped" in cleaned:
            cleaned["stopped"] = cleaned["stopped"] == "yes"
            cleaned["distance_m"] = cleaned.get("distance_m") if cleaned["stopped"] else None
        return cleaned
