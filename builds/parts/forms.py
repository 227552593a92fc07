"""Forms of base units, batteries and chargers. An empty quantity is unknown."""

from django import forms
from django.utils import timezone

from builds.parts import limits
from builds.parts.models import BaseUnit, BaseUnitType, Battery, Charger
from labsite.forms import LabForm, QuantityField, RecordForm
from labsite.place_field import PlaceField


def quantity(name, model, dimension, metric, us=None):
    """A quantity box with the column's own label and the sensible limits of `limits`."""
    least, most = limits.LIMITS[name]
    label = str(model._meta.get_field(name).verbose_name)
    return QuantityField(
        dimension, label=label, metric_unit=metric, us_unit=us, minimum=least, maximum=most, required=False
    )


class BaseUnitTypeForm(RecordForm):
    rated_load_kg = quantity("rated_load_kg", BaseUnitType, "mass", "kg", "lb")
    own_mass_kg = quantity("own_mass_kg", BaseUnitType, "mass", "kg", "lb")
    own_place = PlaceField(label="Middle of its own mass")
    track_m = quantity("track_m", BaseUnitType, "length", "cm", "in")
    wheelbase_m = quantity("wheelbase_m", BaseUnitType, "length", "cm", "in")
    wheel_diameter_m = quantity("wheel_diameter_m", BaseUnitType, "length", "cm", "in")
    motors = forms.IntegerField(label="Number of drive motors", min_value=0, max_value=8)
    motor_running_a = quantity("motor_running_a", BaseUnitType, "current", "A")
    motor_stall_a = quantity("motor_stall_a", BaseUnitType, "current", "A")
    battery_voltage_v = quantity("battery_voltage_v", BaseUnitType, "voltage", "V")
    battery_capacity_ah = quantity("battery_capacity_ah", BaseUnitType, "capacity", "Ah")
    charger_current_a = quantity("charger_current_a", BaseUnitType, "current", "A")

    class Meta:
        model = BaseUnitType
        fields = [
            "name", "kind", "rated_load_kg", "own_mass_kg", "own_place", "layout", "track_m", "wheelbase_m",
            "wheel_diameter_m", "motors", "motor_running_a", "motor_stall_a", "battery_voltage_v",
            "battery_capacity_ah", "battery_chemistry", "charger_current_a", "charger_chemistry",
        ]  # fmt: skip
        help_texts = {
            "name": "What it is, for example two-motor ride-on, 12 V, single seat. No maker's name",
            "kind": "A plan is made for one kind",
        }

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        if self.instance._state.adding:  # nobody has looked at its wheels yet
            self.fields["layout"].choices = [("", "---------"), *BaseUnitType.Layout.choices]
            self.initial["layout"] = ""

    def clean(self):
        facts = super().clean()
        wanted = {BaseUnitType.Kind.TWO_MOTOR: 2, BaseUnitType.Kind.ONE_MOTOR: 1}.get(facts.get("kind"))
        if wanted is not None and facts.get("motors") not in (None, wanted):
            self.add_error("motors", f"Number of drive motors must be {wanted} for this kind")
        running, stall = facts.get("motor_running_a"), facts.get("motor_stall_a")
        if running is not None and stall is not None and stall < running:
            self.add_error("motor_stall_a", "Motor stall current must not be less than the running current")
        if facts.get("kind") in limits.RIDE_ONS and facts.get("layout") == BaseUnitType.Layout.NONE:
            self.add_error("layout", "Choose the wheels: this kind is ridden")
        return facts


class BaseUnitForm(RecordForm):
    class Meta:
        model = BaseUnit
        fields = [
            "number", "type", "serial", "origin", "origin_from", "received_on", "cost",
            "recall", "recall_looked_up_on", "recall_where",
        ]  # fmt: skip
        help_texts = {
            "number": "The only mark that stands on the unit, for example U-101",
            "origin_from": "For a gift, an organisation or a word such as neighbour. No client's name",
            "cost": "Leave it empty when it is not known. Enter 0 for a gift",
        }

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["cost"].min_value = 0

    def clean_number(self):
        number = self.cleaned_data["number"].upper()
        taken = BaseUnit.objects.filter(number__iexact=number).exclude(pk=self.instance.pk)
        if taken.exists():
            raise forms.ValidationError("Equipment number is already in use. Enter another", code="unique")
        if not limits.NUMBER.fullmatch(number):
            raise forms.ValidationError("Equipment number must be letters, digits and hyphens, for example U-101")
        return number

    def clean_cost(self):
        cost = self.cleaned_data["cost"]
        if cost is not None and cost < 0:
            raise forms.ValidationError("Cost must be 0 or more")
        return cost

    def clean(self):
        facts = super().clean()
        refuse_future(self, facts, "received_on", "recall_looked_up_on")
        if facts.get("recall") not in (None, BaseUnit.Recall.UNKNOWN):
            if not facts.get("recall_looked_up_on") and "recall_looked_up_on" not in self.errors:
                self.add_error("recall_looked_up_on", "Enter the day when the recall was looked up")
            if not facts.get("recall_where") and "recall_where" not in self.errors:
                self.add_error("recall_where", "Enter where the recall was looked up")
        return facts


class BatteryForm(RecordForm):
    voltage_v = quantity("voltage_v", Battery, "voltage", "V")
    capacity_ah = quantity("capacity_ah", Battery, "capacity", "Ah")
    hours_rate = forms.IntegerField(
        label="Hours rate of that capacity", min_value=1, max_value=100, required=False,
        help_text="As printed on the battery, for example 20 for a capacity at the 20-hour rate",
    )  # fmt: skip
    mass_kg = quantity("mass_kg", Battery, "mass", "kg", "lb")
    usable_share = quantity("usable_share", Battery, "fraction", "percent")
    peukert = forms.FloatField(
        label="Peukert exponent", min_value=1, max_value=1.6, required=False,
        help_text="From the data sheet, or from two of its ratings. Leave it empty when it is not known",
    )  # fmt: skip
    self_discharge_percent = quantity("self_discharge_percent", Battery, "percent", "percent")

    class Meta:
        model = Battery
        fields = [
            "number", "chemistry", "voltage_v", "capacity_ah", "hours_rate", "bought_on", "mass_kg",
            "usable_share", "peukert", "self_discharge_percent",
        ]  # fmt: skip

    def clean(self):
        facts = super().clean()
        refuse_future(self, facts, "bought_on")
        return facts


class ChargerForm(RecordForm):
    voltage_v = quantity("voltage_v", Charger, "voltage", "V")
    current_a = quantity("charger_current_a", BaseUnitType, "current", "A")

    class Meta:
        model = Charger
        fields = ["number", "chemistry", "voltage_v", "current_a", "stops_by_itself", "light_charging", "light_full"]

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["current_a"].label = "Current"


class DoNotUseForm(LabForm):
    reason = forms.CharField(label="Why it must not be used", max_length=300)


class ClearForm(LabForm):
    reason = forms.CharField(label="Why it may be used again", max_length=300)


def refuse_future(form, facts, *names):
    for name in names:
        if facts.get(name) and facts[name] > timezone.localdate():
            form.add_error(name, f"{form.fields[name].label} must be today or before")
