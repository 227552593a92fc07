"""Forms of a build's parts list and restore kit."""

from django import forms

from builds.parts import limits, rules
from builds.parts.models import BuildPart, RestoreItem, RestoreKit
from labsite.forms import MAX_LINE, QuantityField, RecordForm
from labsite.marks import YesNoUnknown
from labsite.place_field import PlaceField

MOST = 1000
WHY = "Enter the reason for the deviation: {}"


class PlannedPartForm(RecordForm):
    """A line of the plan: what was used, what it weighs and where it sits."""

    also_saved = ("deviation_by",)
    quantity_used = forms.FloatField(label="Quantity used", min_value=0, max_value=MOST, required=False)
    mass_kg = QuantityField(
        "mass", label="Mass of each", metric_unit="kg", us_unit="lb", maximum=limits.HEAVIEST_KG, required=False
    )
    place = PlaceField(label="Where it sits")
    deviation_reason = forms.CharField(
        label="Reason for the deviation",
        max_length=MAX_LINE,
        required=False,
        help_text="Needed when quantity, part or staying on differs from the plan",
    )

    class Meta:
        model = BuildPart
        fields = [
            "quantity_used", "substitute", "source", "lot", "unit_cost", "mass_kg", "place",
            "stays_on", "removed", "in_arm", "deviation_reason",
        ]  # fmt: skip
        help_texts = {
            "removed": "Tick it for a part of the unit as bought, or a part fitted before, that is off now",
        }

    def __init__(self, *args, account, **kwargs):
        super().__init__(*args, **kwargs)
        self.account = account

    def clean_unit_cost(self):
        cost = self.cleaned_data["unit_cost"]
        if cost is not None and cost < 0:
            raise forms.ValidationError("Cost each must be 0 or more")
        return cost

    def _post_clean(self):
        super()._post_clean()
        departs = rules.differences(self.instance)
        if departs and not self.cleaned_data.get("deviation_reason") and "deviation_reason" not in self.errors:
            self.add_error("deviation_reason", WHY.format("; ".join(departs)))
        if departs:
            self.instance.deviation_by = self.account


class AddedPartForm(PlannedPartForm):
    """A line that the plan does not have."""

    quantity_used = forms.FloatField(label="Quantity used", min_value=0.001, max_value=MOST)

    class Meta(PlannedPartForm.Meta):
        fields = ["name", *PlannedPartForm.Meta.fields]


def part_form(part, data, account):
    kind = AddedPartForm if part.planned is None else PlannedPartForm
    return kind(data, instance=part, account=account)


class WeighForm(RecordForm):
    """Mass and place of one line, on the page that has them all. Neither is a deviation."""

    mass_kg = QuantityField(
        "mass", label="Mass of each", metric_unit="kg", us_unit="lb", maximum=limits.HEAVIEST_KG, required=False
    )
    place = PlaceField(label="Where it sits", help_text="")

    class Meta:
        model = BuildPart
        fields = ["mass_kg", "place"]


def weigh_forms(parts, data):
    """One form for each line that stays on."""
    return [WeighForm(data, instance=part, prefix=f"part{part.pk}") for part in parts]


class RestoreItemForm(RecordForm):
    quantity = forms.IntegerField(label="How many", min_value=1, max_value=MOST, initial=1)
    mark = forms.ChoiceField(
        label="Side it came from", choices=RestoreItem.Mark.choices, widget=forms.RadioSelect
    )

    class Meta:
        model = RestoreItem
        fields = ["name", "quantity", "mark", "location"]


class RestoreKitForm(RecordForm):
    also_saved = ("checked_by", "checked_at")
    complete = forms.ChoiceField(label="Kit complete", choices=YesNoUnknown.choices, widget=forms.RadioSelect)

    class Meta:
        model = RestoreKit
        fields = ["location", "complete", "missing"]

    def clean(self):
        facts = super().clean()
        if facts.get("complete") == YesNoUnknown.YES and not facts.get("location"):
            self.add_error("location", "Enter where the kit lies: a kit that nobody finds is not complete")
        if facts.get("complete") == YesNoUnknown.YES and facts.get("missing"):
            self.add_error("missing", "What is missing must be empty when the kit is complete")
        if facts.get("complete") == YesNoUnknown.NO and not facts.get("missing"):
            self.add_error("missing", "Enter what is missing")
        return facts
