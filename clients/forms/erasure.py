"""What is typed to erase the file of a family. The words stay when the file is gone, so they name nobody."""

from django import forms
from django.utils import timezone

from clients.models import Erasure
from clients.names import Names
from labsite.forms import LabForm, ReasonForm, RecordForm
from labsite.wording import label_of

INSTEAD = "{label} stays when the file is gone. Write “the client” or “the family” instead of a name"


def refuse_names(form, name, client):
    if Names(client).found_in(form.cleaned_data.get(name) or ""):
        form.add_error(name, INSTEAD.format(label=label_of(form, name)))


class EraseForm(RecordForm):
    class Meta:
        model = Erasure
        fields = ["asked_by", "asked_on", "reason"]
        widgets = {"asked_by": forms.RadioSelect}

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["asked_by"].choices = Erasure.Asker.choices
        self.initial["asked_by"] = None
        self.initial["asked_on"] = timezone.localdate()

    def clean(self):
        super().clean()
        refuse_names(self, "reason", self.instance.client)
        return self.cleaned_data


class ConfirmForm(LabForm):
    case_code = forms.CharField(
        label="Case code", max_length=20, help_text="Type the case code of the file that is to be erased"
    )

    def __init__(self, *args, client, **kwargs):
        super().__init__(*args, **kwargs)
        self.client = client

    def clean_case_code(self):
        typed = self.cleaned_data["case_code"].strip().upper()
        if typed != self.client.case_code:
            raise forms.ValidationError(f"Case code must be {self.client.case_code}: that is the file on this page")
        return typed


class TakeBackForm(ReasonForm):
    def __init__(self, *args, client, **kwargs):
        super().__init__(*args, label="Reason for taking it back", **kwargs)
        self.client = client

    def clean(self):
        super().clean()
        refuse_names(self, "reason", self.client)
        return self.cleaned_data
