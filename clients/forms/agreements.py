"""What is typed about goals, consents and clearances."""

from django import forms
from django.utils import timezone

from clients import seating
from clients.forms.nameless import Nameless
from clients.forms.needs import NO_LONE_CHEST_STRAP
from clients.models import Clearance, Consent, Goal, Place, SittingProfile
from clients.models.agreements import FASTEST_M_S, LONGEST_SESSION_MIN
from labsite.forms import QuantityField, RecordForm

GIVEN = [(True, "Consent given"), (False, "Consent refused")]
ONE_TO_THREE = [(1, "1, least"), (2, "2"), (3, "3, most")]


def one_to_three(label):
    return forms.TypedChoiceField(label=label, coerce=int, choices=ONE_TO_THREE, widget=forms.RadioSelect)


class GoalForm(RecordForm):
    importance = one_to_three("Importance to the family")
    difficulty = one_to_three("Difficulty")

    class Meta:
        model = Goal
        fields = ["text", "much_less", "less", "expected", "more", "much_more", "importance", "difficulty"]
        help_texts = {"text": "Two to four goals are usual, agreed before anything is built"}


class ConsentForm(RecordForm):
    given = forms.TypedChoiceField(
        label="Answer", coerce=lambda typed: typed == "True", choices=GIVEN, widget=forms.RadioSelect
    )

    class Meta:
        model = Consent
        fields = ["purpose", "given", "version", "signer", "signed_on"]
        widgets = {"purpose": forms.RadioSelect}
        help_texts = {"version": "As printed on the form, for example 2026-1"}

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["purpose"].choices = Consent.Purpose.choices
        if self.instance._state.adding:
            self.initial["given"] = None
            self.initial["signed_on"] = timezone.localdate()


class WithdrawForm(RecordForm):
    class Meta:
        model = Consent
        fields = ["withdrawn_on", "withdrawn_note"]

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["withdrawn_on"].required = True
        self.initial["withdrawn_on"] = timezone.localdate()


class ClearanceForm(Nameless, RecordForm):
    read_by_builders = ("conditions",)
    family_texts = ("conditions",)
    suffixes = {"session_min": "minutes"}
    greatest_speed_m_s = QuantityField(
        "speed",
        label="Greatest speed",
        metric_unit="m/s",
        us_unit="mph",
        minimum=0.1,
        maximum=FASTEST_M_S,
        required=False,
        help_text="With its unit, like 0.8 m/s or 2 mph. Left empty it is unknown, and a ride-on waits for it",
    )
    session_min = forms.IntegerField(
        label="Longest session",
        min_value=1,
        max_value=LONGEST_SESSION_MIN,
        required=False,
        help_text="In minutes. Left empty it is unknown",
    )
    supports = forms.MultipleChoiceField(
        label="Supports that must be fitted",
        choices=SittingProfile.Support.choices,
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )
    places = forms.MultipleChoiceField(
        label="Places cleared",
        choices=Place.Kind.choices,
        widget=forms.CheckboxSelectMultiple,
        required=False,
        help_text="What is not ticked is not cleared",
    )

    class Meta:
        model = Clearance
        fields = [
            "clinician", "profession", "equipment", "scope", "greatest_speed_m_s", "supports", "session_min", "places",
            "conditions", "given_on", "expires_on",
        ]  # fmt: skip
        widgets = {"equipment": forms.RadioSelect, "scope": forms.RadioSelect}
        help_texts = {
            "conditions": "Builders read this",
        }

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        for name, options in (("equipment", Clearance.Equipment), ("scope", Clearance.Scope)):
            self.fields[name].choices = options.choices
        if self.instance._state.adding:
            self.initial["given_on"] = timezone.localdate()

    def clean_supports(self):
        supports = self.cleaned_data["supports"]
        if seating.lone_chest_strap(supports):
            raise forms.ValidationError(NO_LONE_CHEST_STRAP)
        return supports
