"""What is typed at the bench: a result, a deviation, a photo."""

from django import forms

from builds.bench.deviations import CHANGEABLE, changed_from_plan
from builds.bench.models import BuildStep, Section, StepResult
from builds.bench.progress import newest_result
from builds.bench.readings import END_OF_RANGE, is_resistance
from builds.bench.rules import limits_of, problems, recorded_since
from builds.engineering.instruments import KNOWN
from builds.record.photos import NO_CONSENT, NOT_ON_A_GUIDE, consent_for_photos
from labsite.forms import MAX_LINE, LabForm, PhotoField
from labsite.seen import NewestShown

YES_NO = (("yes", "Yes"), ("no", "No"))
CAN_BE_SEEN = "The client can be seen in the photo"


class BenchPhotoField(PhotoField):
    """A phone opens its camera at once."""

    def __init__(self, **options):
        super().__init__(**options)
        self.widget.attrs["capture"] = "environment"


class ClientSeenField(forms.ChoiceField):
    def __init__(self):
        super().__init__(label=CAN_BE_SEEN, choices=YES_NO, required=False, widget=forms.RadioSelect)


def shows_client(form):
    """Whether the client is in the photo; asked wherever the client may be near, and never assumed."""
    if "shows_client" not in form.fields or not form.cleaned_data.get("photo"):
        return False
    answer = form.cleaned_data.get("shows_client")
    if not answer:
        form.add_error("shows_client", "Choose whether the client can be seen in the photo")
    return answer == "yes"


class StepForm(LabForm):
    """What came of one step. Which boxes it has follows from the step."""

    outcome = forms.ChoiceField(label="Outcome", choices=StepResult.Outcome.choices, widget=forms.RadioSelect)
    reading = forms.CharField(required=False, widget=forms.TextInput(attrs={"autocomplete": "off"}))
    instrument = forms.CharField(label="Instrument", max_length=80, required=False)
    note = forms.CharField(
        label="Note",
        required=False,
        help_text="Needed when the step failed or does not apply",
        widget=forms.Textarea(attrs={"rows": "2"}),
    )
    photo = BenchPhotoField(label="Photo", required=False)
    shows_client = ClientSeenField()
    based_on = NewestShown()

    def __init__(self, bench, step, *args, **kwargs):
        self.bench, self.step = bench, step
        super().__init__(*args, labels={"reading": step.reading_label or "Reading"}, **kwargs)
        newest = newest_result(step)
        self.fields["based_on"].fresh = newest.pk if newest else 0
        if step.reading_label:
            self._dress_reading()
        else:
            del self.fields["reading"], self.fields["instrument"]
        if step.section != Section.FITTING:
            del self.fields["shows_client"]
        if step.needs_photo:
            self.fields["photo"].help_text = "This step needs a photo to pass. JPEG, PNG, WebP or HEIC, up to 15 MB"

    def _dress_reading(self):
        unit, field = self.step.reading_unit, self.fields["reading"]
        field.unit = unit
        limits = f"Must be {limits_of(self.step)} to pass." if limits_of(self.step) else "There is no limit."
        another = ", or type another unit after the number" if unit in KNOWN else ""
        field.help_text = f"{limits} In {unit}{another}" if unit else limits
        if is_resistance(unit):
            field.help_text += f". Over range (OL, or a 1 alone on the display): {END_OF_RANGE}"
        self.fields["instrument"].initial = last_instrument(self.bench, unit)

    def clean(self):
        typed = super().clean() or self.cleaned_data
        told = recorded_since(self.step, typed["based_on"])
        blocked = self.bench.blocked(self.step)
        if blocked and not told:
            raise forms.ValidationError(blocked.why)
        if told:
            self.add_error(None, told)
        elif typed.get("outcome"):
            self._hold_against_rules(typed)
        if self.errors and typed.get("photo"):
            self.add_error("photo", "Choose the photo again: it is kept only when the whole result is saved")
        return typed

    def _hold_against_rules(self, typed):
        typed["shows_client"] = shows_client(self)
        _, wrong = problems(
            self.bench,
            self.step,
            outcome=typed["outcome"],
            reading_typed=typed.get("reading") or "",
            note=typed.get("note") or "",
            has_photo=bool(typed.get("photo")) or "photo" in self.errors,
            shows_client=typed["shows_client"],
        )
        for field, text in wrong.items():
            if field not in self.errors:
                self.add_error(field, text)

    def result(self):
        """The arguments of `record_result`."""
        typed = self.cleaned_data
        return {
            "outcome": typed["outcome"],
            "reading_typed": typed.get("reading") or "",
            "instrument": typed.get("instrument") or "",
            "note": typed.get("note") or "",
            "photo_file": typed.get("photo"),
            "shows_client": typed.get("shows_client") is True,
            "based_on": typed["based_on"],
        }


def last_instrument(bench, unit):
    """The instrument last used on this build for this unit, so that it need not be typed again."""
    used = [
        result
        for state in bench.states
        if state.step.reading_unit == unit
        for result in state.step.results.all()
        if result.instrument and not result.is_struck
    ]
    return max(used, key=lambda one: one.pk).instrument if used else None


class StepWordsForm(LabForm):
    """The words, the reading and the limits of a step, for a deviation."""

    title = forms.CharField(max_length=200)
    detail = forms.CharField(max_length=2000, required=False, widget=forms.Textarea(attrs={"rows": "3"}))
    must_see = forms.CharField(max_length=300, required=False)
    reading_label = forms.CharField(
        max_length=120, required=False, help_text="What is read; leave it empty where nothing is"
    )
    reading_unit = forms.CharField(max_length=20, required=False, help_text="For example V, A, mA, °C, kg, m, s")
    limit_low = forms.FloatField(required=False, help_text="In the unit of the reading; empty where there is no limit")
    limit_high = forms.FloatField(required=False, help_text="In the unit of the reading; empty where there is no limit")
    limit_source = forms.CharField(
        max_length=200, required=False, help_text="A document with its place, or: common practice"
    )
    needs_photo = forms.BooleanField(required=False)

    def __init__(self, *args, **kwargs):
        words = {name: str(BuildStep._meta.get_field(name).verbose_name) for name in CHANGEABLE}
        super().__init__(*args, labels=words, **kwargs)

    def words(self):
        return {name: self.cleaned_data[name] for name in CHANGEABLE}


class StepChangeForm(StepWordsForm):
    reason = forms.CharField(label="Reason for the deviation", max_length=MAX_LINE)

    def __init__(self, step, *args, **kwargs):
        initial = {name: getattr(step, name) for name in CHANGEABLE}
        super().__init__(*args, initial=initial, **kwargs)
        for label, planned, _ in changed_from_plan(step):
            self._note_plan(label, planned)

    def _note_plan(self, label, planned):
        field = next(one for one in self.fields.values() if one.label == label)
        hint = f"{field.help_text}. " if field.help_text else ""
        field.help_text = f"{hint}The plan says: {planned}"


class StepAddForm(StepWordsForm):
    after = forms.ModelChoiceField(
        BuildStep.objects.none(), label="After which step", required=False, empty_label="At the end of the section"
    )
    battery_out = forms.BooleanField(label="Done with the battery out", required=False)
    reason = forms.CharField(label="Reason for the deviation", max_length=MAX_LINE)

    def __init__(self, build, section, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["after"].queryset = build.steps.standing().filter(section=section)

    def words(self):
        return {**super().words(), "battery_out": self.cleaned_data["battery_out"], "after": self.cleaned_data["after"]}


class PhotoForm(LabForm):
    photo = BenchPhotoField(label="Photo")
    caption = forms.CharField(label="What it shows", max_length=200)
    shows_client = ClientSeenField()
    on_guide = forms.BooleanField(
        label="Show it on the family's use guide", required=False,
        help_text="The whole unit as it leaves the lab, nobody in the picture",
    )  # fmt: skip

    def __init__(self, build, *args, **kwargs):
        self.build = build
        super().__init__(*args, **kwargs)

    def clean(self):
        typed = super().clean() or self.cleaned_data
        typed["shows_client"] = shows_client(self)
        if typed["shows_client"] and not consent_for_photos(self.build):
            self.add_error("shows_client", NO_CONSENT)
        elif typed["shows_client"] and typed.get("on_guide"):
            self.add_error("on_guide", NOT_ON_A_GUIDE)
        elif self.errors and typed.get("photo"):
            self.add_error("photo", "Choose the photo again: it is kept only when the whole page is saved")
        return typed
