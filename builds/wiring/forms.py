"""Forms of the harness. What departs from the plan needs a reason; filling in what the plan left open does not."""

from django import forms

from builds.engineering.gauges import parse_gauge
from builds.engineering.instruments import BOUNDS
from builds.engineering.quantities import QuantityError
from builds.wiring.checks import RIGHT
from builds.wiring.deviation import differences
from builds.wiring.models import SwitchingPart, WireCheck, WireFuse, WireRun
from labsite.forms import LabForm, QuantityField, RecordForm

# What can be: limits of the engineering functions, in their units.
LEAST_CURRENT_A, MOST_CURRENT_A = 0.0001, 1000
ONE_WAY = dict(minimum=0.005, maximum=1000, metric_unit="cm", us_unit="in", required=False)
TEMPERATURE = dict(metric_unit="degC", us_unit="degC", required=False)
AMPERES = dict(minimum=LEAST_CURRENT_A, maximum=MOST_CURRENT_A, metric_unit="A", required=False)


def model_label(model, name):
    return str(model._meta.get_field(name).verbose_name)


class DeviationForm(RecordForm):
    """A row copied from the plan, or added to it."""

    also_saved = ("deviation_by",)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.before = {(one.name, one.now) for one in differences(self.instance)}
        reason = self.fields["deviation_reason"]
        if self.is_added:
            reason.label = "Reason for adding it"
        else:
            reason.help_text = "Needed where this differs from the plan"

    @property
    def is_added(self):
        return self.instance.planned is None

    def clean_code(self):
        code = self.cleaned_data["code"].strip()
        others = type(self.instance).objects.standing().filter(build=self.instance.build, code__iexact=code)
        if others.exclude(pk=self.instance.pk).exists():
            raise forms.ValidationError(f"{code} is in use on this build. Enter another")
        return code

    def clean(self):
        cleaned = super().clean()
        reason = cleaned.get("deviation_reason", "")
        if self.is_added and not reason:
            self.add_error("deviation_reason", "Enter the reason for adding it")
        if not self.is_added and not self.errors:
            self._ask_for_reason(cleaned, reason)
        return cleaned

    def _ask_for_reason(self, cleaned, reason):
        new = [one for one in differences(self.instance, cleaned) if (one.name, one.now) not in self.before]
        if new and (not reason or reason == self.initial.get("deviation_reason", "")):
            told = "; ".join(str(one) for one in new)
            self.add_error("deviation_reason", f"Enter the reason for this deviation. {told}")


class RunForm(DeviationForm):
    gauge = forms.CharField(
        required=False, max_length=20, label=model_label(WireRun, "gauge"), help_text="Like 14 AWG or 2.5 mm^2"
    )
    insulation_c = QuantityField(
        "temperature", minimum=1, maximum=300, label=model_label(WireRun, "insulation_c"), **TEMPERATURE
    )
    conductor_c = QuantityField(
        "temperature", minimum=-60, maximum=250, label=model_label(WireRun, "conductor_c"), **TEMPERATURE
    )
    length_m = QuantityField("length", label=model_label(WireRun, "length_m"), **ONE_WAY)
    running_a = QuantityField("current", label=model_label(WireRun, "running_a"), **AMPERES)
    stall_a = QuantityField("current", label=model_label(WireRun, "stall_a"), **AMPERES)

    class Meta:
        model = WireRun
        fields = [
            "code", "start", "end", "gauge", "insulation_c", "bundle", "conductor_c", "colour", "length_m",
            "running_a", "stall_a", "role", "motor_circuit", "side", "in_arm", "spliced", "fuse", "label_start",
            "label_end", "termination_start", "termination_end", "deviation_reason",
        ]  # fmt: skip

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["fuse"].queryset = self.instance.build.fuses.standing()
        self.fields["fuse"].empty_label = "No fuse"
        bundle = self.fields["bundle"]
        bundle.min_value, bundle.max_value = 1, 500
        bundle.help_text = "All loaded wires that lie together, this one counted"

    def clean_bundle(self):
        bundle = self.cleaned_data["bundle"]
        if bundle is not None and not 1 <= bundle <= 500:
            raise forms.ValidationError(f"{self.fields['bundle'].label} must be a whole number from 1 to 500")
        return bundle

    def clean_gauge(self):
        typed = self.cleaned_data["gauge"].strip()
        if not typed:
            return ""
        try:
            return parse_gauge(typed).label
        except QuantityError as error:
            raise forms.ValidationError(str(error)) from error


class FuseForm(DeviationForm):
    rating_a = QuantityField(
        "current", minimum=0.1, maximum=1000, metric_unit="A", required=False, label=model_label(WireFuse, "rating_a")
    )
    distance_m = QuantityField(
        "length", minimum=0, maximum=100, metric_unit="cm", us_unit="in", required=False,
        label=model_label(WireFuse, "distance_m"),
    )  # fmt: skip

    class Meta:
        model = WireFuse
        fields = ["code", "rating_a", "distance_m", "sheathed", "deviation_reason"]

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        distance = self.fields["distance_m"]
        distance.help_text = (
            f"{distance.default_hint()}. Count only wire that no other fuse protects: a fuse whose wire lies wholly "
            "behind another fuse has 0."
        )


class PartForm(DeviationForm):
    rating_dc_a = QuantityField(
        "current", minimum=0, maximum=10_000, metric_unit="A", required=False,
        label=model_label(SwitchingPart, "rating_dc_a"),
    )  # fmt: skip
    stall_a = QuantityField("current", label=model_label(SwitchingPart, "stall_a"), **AMPERES)

    class Meta:
        model = SwitchingPart
        fields = ["code", "name", "kind", "runs", "motor_circuit", "rating_dc_a", "stall_a", "deviation_reason"]
        widgets = {"runs": forms.CheckboxSelectMultiple}

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        runs = self.fields["runs"]
        runs.queryset = self.instance.build.wire_runs.standing()
        runs.label_from_instance = lambda run: f"{run.code}: {run.start} to {run.end}"
        rating = self.fields["rating_dc_a"]
        rating.help_text = f"{rating.default_hint()}. A rating for alternating current does not count"


class CheckForm(LabForm):
    """One person's ticks for one run. Nothing is ticked beforehand."""

    terminated, labelled, continuity, polarity, relief = (
        forms.ChoiceField(
            label=model_label(WireCheck, name), choices=WireCheck.Tick.choices, widget=forms.RadioSelect
        )
        for name in WireCheck.TICKS
    )
    resistance_ohm = QuantityField(
        "resistance", minimum=0, maximum=BOUNDS["resistance"].most, metric_unit="ohm", required=False,
        label=model_label(WireCheck, "resistance_ohm"),
    )  # fmt: skip
    note = forms.CharField(required=False, max_length=300, label=model_label(WireCheck, "note"))
    seen_digest = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        resistance = self.fields["resistance_ohm"]
        resistance.help_text = f"{resistance.default_hint()}. Over range: leave it empty and say so in the note"

    def clean(self):
        cleaned = super().clean()
        ticks = [cleaned.get(name) for name in WireCheck.TICKS]
        if None not in ticks and any(tick != RIGHT for tick in ticks) and not cleaned.get("note"):
            if "note" not in self.errors:
                self.add_error("note", "Enter a note that says what is wrong or why it was not checked")
        return cleaned

    @property
    def ticks(self):
        return {name: self.cleaned_data[name] for name in WireCheck.TICKS}


