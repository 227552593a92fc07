"""What is typed about access, sitting and supports, and the cautions."""

from django import forms
from django.core.exceptions import ValidationError

from clients import seating
from clients.dates import refuse_before, refuse_future
from clients.forms.nameless import Nameless
from clients.models import AccessProfile, SittingProfile
from clients.models.needs import LONGEST_MIN
from labsite.forms import RecordForm

RADIO = forms.RadioSelect
UNKNOWN_LEVEL = "unknown"
NO_LONE_CHEST_STRAP = "Choose pelvic support or lap belt too: a chest harness is never fitted without one"
READ_BY_BUILDERS = "Builders read this"


class AccessForm(Nameless, RecordForm):
    read_by_builders = ("release_note", "fatigue_note", "stop_signal")
    suffixes = {"tires_after_min": "minutes"}
    tires_after_min = forms.IntegerField(
        label="Tires after",
        min_value=1,
        max_value=LONGEST_MIN,
        required=False,
        help_text="In minutes. Left empty it is unknown",
    )

    class Meta:
        model = AccessProfile
        fields = [
            "side", "purpose", "site", "method", "releases_on_request", "release_note", "tires_after_min",
            "fatigue_note", "stop_signal",
        ]  # fmt: skip
        widgets = {name: RADIO for name in ("side", "purpose", "site", "method", "releases_on_request")}
        help_texts = {
            "side": "The occupant's own left and right, nose forward",
            "purpose": "Two aims choose opposite sides. Say which it is",
            "releases_on_request": "Letting go is how a collision is avoided",
            "release_note": READ_BY_BUILDERS,
            "fatigue_note": READ_BY_BUILDERS,
            "stop_signal": READ_BY_BUILDERS,
        }

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        if self.instance._state.adding:
            # Unknown has to be said on purpose, so nothing is chosen beforehand.
            self.initial |= dict.fromkeys(self.Meta.widgets)


class SittingForm(Nameless, RecordForm):
    read_by_builders = ("reason",)
    level = forms.TypedChoiceField(
        label="Sitting level",
        coerce=lambda typed: None if typed == UNKNOWN_LEVEL else int(typed),
        choices=seating.level_choices,
        widget=RADIO,
        help_text="As the therapist rated it, level 1 to 8. Each level suggests supports",
    )
    supports = forms.MultipleChoiceField(
        label="Supports decided on",
        choices=SittingProfile.Support.choices,
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )

    class Meta:
        model = SittingProfile
        fields = ["level", "level_on", "level_by", "supports", "supports_decided", "reason"]
        help_texts = {
            "level_on": "Left empty it is unknown",
            "supports_decided": "Until then the first ride waits for them",
            "reason": "Asked for when the decision differs from what the level suggests",
        }

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        profile = self.instance
        if profile._state.adding:
            self.initial["level"] = None
        elif profile.level is None:
            self.initial["level"] = UNKNOWN_LEVEL
        if not profile.supports and not profile.supports_decided and profile.level:
            self.initial["supports"] = seating.suggestion(profile.level)

    def clean_level_on(self):
        on = self.cleaned_data["level_on"]
        person = getattr(self.client, "person", None)
        refuse_future("Date of the level", on)
        refuse_before("Date of the level", on, person and person.birth_date, "the client's birth date")
        return on

    def clean_supports(self):
        supports = self.cleaned_data["supports"]
        if seating.lone_chest_strap(supports):
            raise ValidationError(NO_LONE_CHEST_STRAP)
        return supports

    def clean(self):
        typed = super().clean() or self.cleaned_data
        if typed.get("supports_decided") and "supports" in typed and "level" in typed and not typed.get("reason"):
            difference = seating.difference(typed["level"], typed["supports"])
            if difference:
                self.add_error("reason", f"Enter the reason: {difference}")
        return typed
