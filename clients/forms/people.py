"""What is typed about the person, the caregivers, the home and the places of use."""

from django import forms

from clients.forms.nameless import Nameless
from clients.models import Caregiver, Household, PersonFile, Place
from clients.models.people import STEEPEST_DEG
from labsite.forms import QuantityField, RecordForm

FEWEST_DIGITS = 3
RADIO = forms.RadioSelect


class PersonForm(RecordForm):
    class Meta:
        model = PersonFile
        fields = ["given_name", "family_name", "birth_date", "sex", "address"]
        widgets = {"sex": RADIO}
        help_texts = {"birth_date": "Left empty it is unknown"}


class CaregiverForm(RecordForm):
    class Meta:
        model = Caregiver
        fields = [
            "name", "relation", "phone", "email", "language", "interpreter", "reading", "supervises",
            "is_first_contact",
        ]  # fmt: skip
        widgets = {"interpreter": RADIO, "reading": RADIO}

    def clean_phone(self):
        phone = self.cleaned_data["phone"]
        if phone and sum(sign.isdigit() for sign in phone) < FEWEST_DIGITS:
            raise forms.ValidationError("Enter the phone with all its digits")
        return phone

    def clean(self):
        typed = super().clean() or self.cleaned_data
        if typed.get("is_first_contact") and not typed.get("phone") and not {"phone", "email"} & set(self.errors):
            self.add_error("phone", "Enter the phone of the person to be called first")
        return typed

    def save(self, commit=True):
        caregiver = super().save(commit)
        if caregiver.is_first_contact:
            caregiver.call_first()
        return caregiver


class HouseholdForm(RecordForm):
    class Meta:
        model = Household
        fields = ["wake_time", "sleep_time", "plug_in_time", "socket", "dry", "locked"]
        widgets = {"socket": RADIO, "dry": RADIO, "locked": RADIO}
        help_texts = {
            "wake_time": "Charging is planned inside these hours. Left empty it is unknown",
            "sleep_time": "Left empty it is unknown",
            "plug_in_time": "Left empty it is unknown",
        }

    def clean(self):
        typed = super().clean() or self.cleaned_data
        wake, sleep, plug_in = (typed.get(name) for name in ("wake_time", "sleep_time", "plug_in_time"))
        if wake and sleep and wake == sleep:
            self.add_error("sleep_time", "The last adult goes to bed at must differ from An adult is up from")
        elif wake and sleep and plug_in and not awake(wake, sleep, plug_in):
            self.add_error("plug_in_time", f"Enter a time between {wake:%H:%M} and {sleep:%H:%M}, when an adult is up")
        return typed


def awake(wake, sleep, at):
    """Whether an adult is up at that time; the evening may run past midnight."""
    return wake <= at <= sleep if wake < sleep else at >= wake or at <= sleep


class PlaceForm(Nameless, RecordForm):
    read_by_builders = ("name", "hazards")
    family_texts = ("hazards",)
    slope_deg = QuantityField(
        "angle",
        label="Steepest slope",
        metric_unit="deg",
        minimum=0,
        maximum=STEEPEST_DEG,
        required=False,
        help_text="In degrees: 1 in 20 is 2.9, 1 in 12 is 4.8, 1 in 8 is 7.1. Left empty it is unknown",
    )

    class Meta:
        model = Place
        fields = ["kind", "name", "slope_deg", "hazards"]
        help_texts = {
            "name": "Builders read this. Name the place, not a person: “ramp at home”, “school yard”",
            "hazards": "Builders read this",
        }
