"""What is typed when a case begins, moves, ends and is opened again."""

from django import forms
from django.core.exceptions import ValidationError
from django.utils import timezone

from clients import rules
from clients.models import PersonFile, Referral
from labsite.forms import LabForm, RecordForm

REFERRAL_FIELDS = [
    "received_on", "source", "referrer_name", "referrer_role", "referrer_organisation", "referrer_contact",
    "reason", "need",
]  # fmt: skip
KNOWN = "{codes} has the same name. Open a new referral on that client's page, or tick that this is another person"


class ReferralForm(RecordForm):
    class Meta:
        model = Referral
        fields = REFERRAL_FIELDS
        widgets = {"source": forms.RadioSelect, "need": forms.RadioSelect}
        help_texts = {"received_on": "The waiting time counts from this day", "reason": "As it was written or said"}

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        if self.instance._state.adding:
            self.initial.setdefault("received_on", timezone.localdate())
            self.fields["source"].choices = Referral.Source.choices


class NewCaseForm(ReferralForm):
    """A referral of somebody the lab does not know yet: the person file begins here too."""

    given_name = forms.CharField(label="Client's given name", max_length=120)
    family_name = forms.CharField(label="Client's family name", max_length=120)
    birth_date = forms.DateField(label="Birth date", required=False, help_text="Left empty it is unknown")
    another_person = forms.BooleanField(
        label="This is another person than the client with the same name", required=False
    )
    field_order = ["given_name", "family_name", "birth_date", "another_person", *REFERRAL_FIELDS]

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        if not self._known():
            del self.fields["another_person"]  # the question comes only when the name is known already

    def _known(self):
        names = ("family_name", "given_name")
        typed = [str(self.data.get(name, "")).replace("\x00", "").strip() for name in names]
        fits = all(0 < len(one) <= self.fields[name].max_length for name, one in zip(names, typed, strict=True))
        return rules.same_person(*typed, None) if fits else []

    def clean(self):
        typed = super().clean() or self.cleaned_data
        self.person = PersonFile(**{name: typed.get(name) or "" for name in ("given_name", "family_name")})
        self.person.birth_date = typed.get("birth_date")
        self._check_person()
        if typed.get("given_name") and typed.get("family_name") and not typed.get("another_person"):
            self._refuse_known(typed)
        return typed

    def _check_person(self):
        try:
            self.person.clean()
        except ValidationError as error:
            self.add_error(None, error)
        born, received = self.person.birth_date, self.cleaned_data.get("received_on")
        if born and received and born > received:
            self.add_error("birth_date", "Birth date must not be later than the date the referral was received")

    def _refuse_known(self, typed):
        known = rules.same_person(typed["family_name"], typed["given_name"], typed.get("birth_date"))
        if known:
            self.add_error("another_person", KNOWN.format(codes=" and ".join(one.case_code for one in known)))


class MoveForm(LabForm):
    to_stage = forms.ChoiceField(label="Where the case goes", widget=forms.RadioSelect)
    on = forms.DateField(label="Date")
    reason = forms.CharField(
        label="Reason",
        max_length=300,
        required=False,
        help_text="Asked for when the case goes back, or goes on with something unknown",
    )

    def __init__(self, *args, referral, **kwargs):
        super().__init__(*args, **kwargs)
        stages = rules.stages_to_go_to(referral)
        self.fields["to_stage"].choices = [(stage, stage.label) for stage in stages]
        self.initial.setdefault("to_stage", stages[0] if stages else None)
        self.initial.setdefault("on", timezone.localdate())

    def move(self):
        return rules.Move(**{name: self.cleaned_data[name] for name in ("to_stage", "on", "reason")})


class CloseForm(LabForm):
    outcome = forms.ChoiceField(
        label="Outcome",
        widget=forms.RadioSelect,
        choices=[
            (outcome.value, outcome.label)
            for outcome in (Referral.Outcome.NO_EQUIPMENT, Referral.Outcome.REFERRED_ON, Referral.Outcome.WITHDRAWN)
        ],
    )
    on = forms.DateField(label="Date")
    reason = forms.CharField(label="Reason", max_length=300)

    def __init__(self, *args, referral, **kwargs):
        super().__init__(*args, **kwargs)
        self.initial.setdefault("on", timezone.localdate())
        if rules.is_in_use(referral):
            handed_off = Referral.Outcome.EQUIPPED
            self.fields["outcome"].choices = [(handed_off.value, handed_off.label), *self.fields["outcome"].choices]
