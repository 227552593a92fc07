"""Forms of the papers: issuing a copy, a try of teach-back, the hand-off."""

from django import forms
from django.conf import settings
from django.utils import timezone

from builds.papers import signing
from builds.papers.handing_over import clean_signed_sheet, other_languages
from builds.papers.kinds import FOR_FAMILIES
from builds.papers.models import HandOff, PrintSize, TeachBack
from labsite.forms import MAX_LINE, LabForm, RecordForm
from labsite.models import Lab
from labsite.photos import ACCEPTED


class IssueForm(LabForm):
    given_to = forms.CharField(
        label="Given to", max_length=120, required=False, help_text="The adult who gets this copy, or where it hangs"
    )
    size = forms.ChoiceField(label="Paper size", choices=Lab.Paper.choices, widget=forms.RadioSelect)
    language = forms.ChoiceField(label="Language", choices=settings.LANGUAGES, widget=forms.RadioSelect)
    print_size = forms.ChoiceField(label="Print", choices=PrintSize.choices, widget=forms.RadioSelect)

    def __init__(self, *args, kind, **kwargs):
        super().__init__(*args, **kwargs)
        if kind not in FOR_FAMILIES:
            del self.fields["language"], self.fields["print_size"]


class TryForm(LabForm):
    how = forms.ChoiceField(label="Shown or said", choices=TeachBack.How.choices, widget=forms.RadioSelect)
    right = forms.ChoiceField(
        label="Right this time",
        choices=[("yes", "Yes, right without help"), ("no", "Not yet")],
        widget=forms.RadioSelect,
    )
    taught_by = forms.CharField(label="Who taught", max_length=120)
    note = forms.CharField(label="Note", max_length=MAX_LINE, required=False)


class HandOffForm(RecordForm):
    """Terms and date; the interpreter where the family reads another language."""

    also_saved = ("recorded_by",)

    class Meta:
        model = HandOff
        fields = ["terms", "handed_on", "signed_by", "interpreted_by", "interpreted_on"]
        widgets = {"terms": forms.RadioSelect}
        help_texts = {
            "handed_on": "The day it leaves, planned or past. The first contacts are counted from it.",
            "signed_by": "The adults who signed the sheet",
        }

    def __init__(self, *args, build, **kwargs):
        super().__init__(*args, **kwargs)
        if not other_languages(build):
            del self.fields["interpreted_by"], self.fields["interpreted_on"]

    def clean(self):
        typed = super().clean()
        who, when = typed.get("interpreted_by"), typed.get("interpreted_on")
        if who and not when and "interpreted_on" not in self.errors:
            self.add_error("interpreted_on", "Enter the date on which the interpreter went through the papers")
        if when and when > timezone.localdate():
            self.add_error("interpreted_on", "Date of that must be today or earlier")
        if when and not who and "interpreted_by" not in self.errors:
            self.add_error("interpreted_by", "Enter the interpreter's name")
        return typed


class SignatureForm(LabForm):
    """Who signs, and what was drawn. The drawing comes as text from a script of ours."""

    adult = forms.ChoiceField(label="Who signs", widget=forms.RadioSelect)
    drawing = forms.CharField(required=False, max_length=signing.MOST_SIGNS + 1, widget=forms.HiddenInput)

    def __init__(self, *args, adults, **kwargs):
        super().__init__(*args, **kwargs)
        self.adults = {str(one.pk): one for one in adults}
        self.fields["adult"].choices = [(key, f"{one.name}, {one.relation}") for key, one in self.adults.items()]

    def clean_adult(self):
        return self.adults[self.cleaned_data["adult"]]

    def clean(self):
        typed = super().clean()
        try:
            typed["drawing"] = signing.clean_drawing(typed.get("drawing", ""))
        except forms.ValidationError as error:
            self.add_error(None, error)  # the field itself is hidden
        return typed


class SignedSheetForm(LabForm):
    sheet = forms.FileField(
        label="Scan or photo of the signed sheet", help_text="A PDF, or a JPEG, PNG, WebP or HEIC photo, up to 15 MB"
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["sheet"].widget.attrs["accept"] = f"application/pdf,{ACCEPTED}"

    def clean_sheet(self):
        """(content, type) as it will be kept."""
        return clean_signed_sheet(self.cleaned_data["sheet"])
