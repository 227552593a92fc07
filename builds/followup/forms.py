"""Forms of the follow-up: one more contact, and what came of one."""

import datetime

from django import forms
from django.utils import timezone

from builds.followup.models import PlannedContact
from labsite.forms import LabForm, RecordForm

FARTHEST_YEARS = 5


class ContactForm(RecordForm):
    class Meta:
        model = PlannedContact
        fields = ["kind", "due_on"]
        widgets = {"kind": forms.RadioSelect}

    def clean_due_on(self):
        due_on = self.cleaned_data["due_on"]
        last = timezone.localdate() + datetime.timedelta(days=366 * FARTHEST_YEARS)
        if not timezone.localdate() <= due_on <= last:
            raise forms.ValidationError(f"Date must be from today to {last:%Y-%m-%d}")
        return due_on


class ContactDoneForm(LabForm):
    done_on = forms.DateField(label="Done on", initial=timezone.localdate)
    outcome = forms.CharField(
        label="What came of it", widget=forms.Textarea, help_text="In use or not, problems, the habit of charging"
    )

    def clean_done_on(self):
        done_on = self.cleaned_data["done_on"]
        if done_on > timezone.localdate():
            raise forms.ValidationError("Done on must be today or earlier")
        return done_on
