"""Forms of the family link: the second word, a problem, a line of the diary; and a new link for the coordinator."""

from datetime import timedelta

from django import forms
from django.conf import settings
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from builds.papers.family.models import DiaryLine
from labsite.forms import LabForm, PhotoField
from labsite.marks import YesNoUnknown

LONGEST_USE_MIN = 600
OLDEST_DAYS = 31
LONGEST_TEXT = 2_000
CODES = ("required", "invalid", "invalid_choice", "max_length", "min_value", "max_value", "null_characters_not_allowed")
MAY_BE_LEFT_OUT = _("You may leave this out.")
NO_CHILD_IN_IT = _("We cannot keep a photo with your child in it. One without your child is welcome.")
KEPT_ONLY_IF_NO = _("We keep the photo only if you choose No. If you choose nothing, it is not kept.")
REPORT_COUNTS = _("We get your report with or without a photo.")
YES_NO = [(YesNoUnknown.YES, _("Yes")), (YesNoUnknown.NO, _("No")), (YesNoUnknown.UNKNOWN, _("Not sure"))]


class FamilyForm(LabForm):
    """One plain sentence for whatever is wrong with a field, in the family's language. `says` names them."""

    says = {}

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        for name, sentence in self.says.items():
            self.fields[name].error_messages.update(dict.fromkeys(CODES, sentence))


class FamilyPhotoField(PhotoField):
    """A photo that cannot be opened holds up no report: it is left out, and the family is told."""

    def to_python(self, data):
        try:
            return super().to_python(data)
        except forms.ValidationError:
            return None


class WordForm(FamilyForm):
    word = forms.CharField(label=_("Your word from the lab"), max_length=80)
    says = {"word": _("Type your word")}

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["word"].widget.attrs.update(autocomplete="off", autocapitalize="none", spellcheck="false")


class ReportForm(FamilyForm):
    hurt = forms.ChoiceField(label=_("Is anyone hurt?"), choices=YES_NO, widget=forms.RadioSelect)
    danger = forms.ChoiceField(
        label=_("Did it smoke, burn, get hot or move by itself?"), choices=YES_NO, widget=forms.RadioSelect
    )
    text = forms.CharField(
        label=_("What happened?"),
        max_length=LONGEST_TEXT,
        widget=forms.Textarea,
        help_text=_("Say what you saw, heard or smelled. Leave out names."),
    )
    photo = FamilyPhotoField(label=_("Photo"), required=False, help_text=MAY_BE_LEFT_OUT)
    shows_client = forms.ChoiceField(
        label=_("Can your child be seen in the photo?"), choices=YES_NO, widget=forms.RadioSelect, required=False
    )

    says = {
        "hurt": _("Say if anyone is hurt"),
        "danger": _("Say if it smoked, burned, got hot or moved by itself"),
        "text": _("Say what happened, in fewer than 2,000 letters"),
        "shows_client": _("Say if your child can be seen"),
    }

    def __init__(self, *args, consent=False, **kwargs):
        super().__init__(*args, **kwargs)
        if not consent:
            self.fields["photo"].help_text = f"{MAY_BE_LEFT_OUT} {NO_CHILD_IN_IT}"
            self.fields["shows_client"].help_text = f"{KEPT_ONLY_IF_NO} {REPORT_COUNTS}"

    @property
    def photo_did_not_open(self):
        return "photo" in self.files and self.cleaned_data["photo"] is None

    def clean_shows_client(self):
        return self.cleaned_data["shows_client"] or YesNoUnknown.UNKNOWN


class DiaryForm(FamilyForm):
    used_on = forms.DateField(label=_("Day"))
    minutes = forms.IntegerField(label=_("How many minutes?"), min_value=1, max_value=LONGEST_USE_MIN)
    place = forms.CharField(label=_("Where?"), max_length=80, required=False)
    note = forms.CharField(
        label=_("What went well, or not?"), max_length=DiaryLine._meta.get_field("note").max_length, required=False
    )

    says = {
        "used_on": _("Choose the day"),
        "minutes": _("Type the minutes, from 1 to 600"),
        "place": _("Say where in fewer words"),
        "note": _("Say it in fewer words"),
    }

    def clean_used_on(self):
        day, today = self.cleaned_data["used_on"], timezone.localdate()
        if not today - timedelta(days=OLDEST_DAYS) <= day <= today:
            raise forms.ValidationError(_("Choose today, or a day of the last month"))
        return day


class NewLinkForm(LabForm):
    DAYS = [(30, "30 days"), (90, "90 days"), (180, "180 days"), (365, "A year")]

    days = forms.TypedChoiceField(label="Works for", choices=DAYS, coerce=int, initial=180, widget=forms.RadioSelect)
    language = forms.ChoiceField(label="Language of the pages", widget=forms.RadioSelect)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["language"].choices = settings.LANGUAGES
