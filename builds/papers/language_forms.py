"""Forms of the languages: a translation of one sentence, and that a speaker has read the catalogue."""

from django import forms
from django.utils import timezone

from builds.papers.translations import CatalogueReading, Translation
from labsite.forms import RecordForm


class WhoReadIt:
    """Who and when belong together, and nobody reads tomorrow."""

    def clean(self):
        typed = super().clean()
        who, when = typed.get("read_by"), typed.get("read_on")
        if who and not when and "read_on" not in self.errors:
            self.add_error("read_on", "Enter the date on which the speaker read it")
        if when and not who and "read_by" not in self.errors:
            self.add_error("read_by", "Enter who read it")
        if when and when > timezone.localdate():
            self.add_error("read_on", "Date of that must be today or earlier")
        return typed


class TranslationForm(WhoReadIt, RecordForm):
    class Meta:
        model = Translation
        fields = ["text", "translated_by", "read_by", "read_on"]
        widgets = {"text": forms.Textarea(attrs={"rows": 3})}
        help_texts = {
            "text": "Short sentences, one action each, and no name of the child",
            "read_by": "A speaker who did not translate it. Leave it out until it was read.",
        }

    def clean(self):
        typed = super().clean()
        read = {"read_by", "read_on"}
        if self.instance.pk and "text" in self.changed_data and not read & set(self.changed_data):
            typed["read_by"], typed["read_on"] = "", None  # what was read was the text before
        return typed


class CatalogueReadingForm(WhoReadIt, RecordForm):
    class Meta:
        model = CatalogueReading
        fields = ["read_by", "read_on"]
