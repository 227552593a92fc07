"""The sheet of measures: everything that was taken in one sitting, in one form. Empty boxes were not measured."""

from dataclasses import dataclass

from django import forms
from django.utils import timezone

from clients import hooks
from clients.dates import refuse_before, refuse_future
from clients.forms.nameless import Nameless
from clients.limits import LIMITS, leap
from clients.models import Measure
from labsite.forms import LabForm, QuantityField, ReasonForm

Kind = Measure.Kind
NOTHING = "Enter one measure or more"


class BoxField(QuantityField):
    """A quantity whose hint says what to measure before it says in which unit."""

    def __init__(self, *args, hint, **options):
        super().__init__(*args, **options)
        self.hint = hint

    def default_hint(self):
        return f"{self.hint}. {super().default_hint()}"


@dataclass(frozen=True)
class Box:
    """One box of the sheet."""

    name: str
    kind: str
    label: str
    hint: str = ""
    side: str = ""
    compensation: str = ""

    def field(self):
        smallest, largest = LIMITS[self.kind]
        mass = self.kind == Kind.MASS
        return BoxField(
            "mass" if mass else "length",
            hint=self.hint,
            label=self.label,
            metric_unit="kg" if mass else "cm",
            us_unit="lb" if mass else "in",
            minimum=smallest,
            maximum=largest,
            max_length=30,
            required=False,
        )


BOXES = (
    Box("mass", Kind.MASS, "Mass", "Weight"),
    Box("stature", Kind.STATURE, "Stature", "Height"),
    Box(
        "seat_width",
        Kind.SEAT_WIDTH,
        "Seat width",
        "From the hip width: the widest part of hips or thighs, with clothing",
    ),
    Box("seat_depth", Kind.SEAT_DEPTH, "Seat depth", "From the back of the buttock to the back of the knee"),
    Box(
        "elbow_height",
        Kind.ELBOW_HEIGHT,
        "Elbow height",
        "From the seat to the elbow, shoulder relaxed, elbow bent square",
    ),
    Box("lower_leg", Kind.LOWER_LEG, "Lower leg length", "From the back of the knee to the sole, with the shoe"),
    *(
        Box(
            f"reach_{side}_{compensation}",
            Kind.REACH,
            f"Reach on the occupant's {side}, {compensation} compensation",
            "From the shoulder to the hand" + (", leaning or holding on" if compensation == "with" else ""),
            side,
            compensation,
        )
        for side in ("left", "right")
        for compensation in ("without", "with")
    ),
)


MeasureBoxes = type("MeasureBoxes", (LabForm,), {box.name: box.field() for box in BOXES})


class MeasuresForm(Nameless, MeasureBoxes):
    read_by_builders = ("supports_worn", "instrument")
    client = None
    field_order = ["taken_on", "method", "taken_by", *(box.name for box in BOXES)]

    taken_on = forms.DateField(label="Date measured")
    method = forms.ChoiceField(label="Method", choices=Measure.Method.choices, widget=forms.RadioSelect)
    taken_by = forms.CharField(label="Measured by", max_length=120)
    instrument = forms.CharField(label="Instrument", max_length=80, required=False, help_text="Scale, tape or other")
    supports_worn = forms.CharField(
        label="Supports worn while measured",
        max_length=200,
        required=False,
        help_text="Reach changes with the supports of the trunk. Write “none” where there were none",
    )

    def __init__(self, *args, client, account, **kwargs):
        self.client, self.account = client, account
        kwargs["initial"] = {
            "taken_on": timezone.localdate(), "method": Measure.Method.MEASURED, "taken_by": account.full_name,
        } | (kwargs.get("initial") or {})  # fmt: skip
        super().__init__(*args, **kwargs)

    def clean_taken_on(self):
        on = self.cleaned_data["taken_on"]
        person = getattr(self.client, "person", None)
        refuse_future("Date measured", on)
        refuse_before("Date measured", on, person and person.birth_date, "the client's birth date")
        return on

    def clean(self):
        typed = super().clean() or self.cleaned_data
        names = [box.name for box in BOXES]
        if all(typed.get(name) is None for name in names) and not set(names) & set(self.errors):
            self.add_error("mass", NOTHING)
        return typed

    def save(self):
        """Every filled box becomes one measure. Returns those that lie far from the last of their kind."""
        odd = []
        with hooks.saved_together():
            for box in BOXES:
                value = self.cleaned_data[box.name]
                if value is None:
                    continue
                before = self.client.latest(box.kind, side=box.side, compensation=box.compensation)
                measure = Measure.objects.create(**self._row(box, value))
                if leap(before, measure):
                    odd.append((measure, before))
        return odd

    def _row(self, box, value):
        common = {name: self.cleaned_data[name] for name in Measure.TAKEN_TOGETHER}
        return common | {
            "client": self.client,
            "made_by": self.account,
            "kind": box.kind,
            "side": box.side,
            "compensation": box.compensation,
            "value_si": value,
            "typed": self._as_typed(box.name),
        }

    def _as_typed(self, name):
        text = self.data[self.add_prefix(name)].strip()
        has_unit = any(sign.isalpha() or sign in "'\"′″’”" for sign in text)
        return text if has_unit else f"{text} {self.fields[name].unit}"


class RightForm(Nameless, ReasonForm):
    """Why a measure that looks mistyped is right. Builders read it."""

    read_by_builders = ("reason",)
    client = None

    def __init__(self, *args, client, **kwargs):
        self.client = client
        super().__init__(*args, label="Why it is right", **kwargs)
