"""What is typed at the door and on the account pages."""

from zoneinfo import available_timezones

from django import forms
from django.contrib.auth import authenticate, password_validation
from django.core.exceptions import ValidationError

from builds.engineering import limits
from builds.engineering.finding import plain
from labsite.account_rules import refuse_if_last_coordinator
from labsite.forms import LabForm, RecordForm
from labsite.models import Account, Lab
from labsite.roles import Role

WRONG_SIGN_IN = "The sign-in name and the password do not belong together. Check both and type them again."


def password_field(label, autocomplete, help_text=""):
    return forms.CharField(
        label=label,
        strip=False,
        max_length=200,
        help_text=help_text,
        widget=forms.PasswordInput(attrs={"autocomplete": autocomplete}),
    )


def clean_username(typed):
    """Sign-in names are small letters, so that Cora and cora are one person."""
    return Account.normalize_username(typed).strip().lower()


class SignInForm(LabForm):
    username = forms.CharField(
        label="Sign-in name", max_length=60, widget=forms.TextInput(attrs={"autocomplete": "username"})
    )
    password = password_field("Password", "current-password")

    def __init__(self, request=None, *args, **kwargs):
        self.request = request
        self.account = None
        super().__init__(*args, **kwargs)

    def clean_username(self):
        return clean_username(self.cleaned_data["username"])

    def clean(self):
        typed = super().clean() or self.cleaned_data
        if not self.errors:
            self.account = authenticate(self.request, username=typed["username"], password=typed["password"])
            if self.account is None:
                raise ValidationError(WRONG_SIGN_IN)
        return typed

    def get_user(self):
        return self.account


class OwnPasswordForm(LabForm):
    old = password_field("Password now", "current-password")
    new = password_field("New password", "new-password", "At least 12 characters, and not a common one.")
    again = password_field("New password, once more", "new-password")

    def __init__(self, account, *args, **kwargs):
        self.account = account
        super().__init__(*args, **kwargs)

    def clean_old(self):
        old = self.cleaned_data["old"]
        if not self.account.check_password(old):
            raise ValidationError("Enter the password you sign in with now.")
        return old

    def clean_new(self):
        new = self.cleaned_data["new"]
        if self.account.check_password(new):
            raise ValidationError("Choose a new password that is not the one you have now.")
        password_validation.validate_password(new, self.account)
        return new

    def clean_again(self):
        again = self.cleaned_data["again"]
        if "new" in self.cleaned_data and again != self.cleaned_data["new"]:
            raise ValidationError("Type the new password twice alike.")
        return again

    def save(self):
        self.account.choose_password(self.cleaned_data["new"])


class AccountForm(RecordForm):
    class Meta:
        model = Account
        fields = ["full_name", "username", *(role.field for role in Role)]
        labels = {role.field: f"Works as {role.label.lower()}" for role in Role}

    def clean_username(self):
        username = clean_username(self.cleaned_data["username"])
        taken = Account.objects.filter(username__iexact=username).exclude(pk=self.instance.pk)
        if taken.exists():
            raise ValidationError("Choose a sign-in name that nobody else has or had.")
        return username

    def clean(self):
        typed = super().clean() or self.cleaned_data
        if not any(typed.get(role.field) for role in Role):
            raise ValidationError("Choose one or more roles.")
        if self.instance.pk and not typed.get(Role.COORDINATOR.field):
            refuse_if_last_coordinator(self.instance)
        return typed


def time_zones():
    """Zones by region and city; the older short names are left out."""
    return [(name, name.replace("_", " ")) for name in sorted(available_timezones()) if _is_a_place(name)]


def _is_a_place(name):
    return name == "UTC" or ("/" in name and not name.startswith(("Etc/", "SystemV/", "posix/", "right/")))


# The limits that a lab may tighten, by the column that keeps what it asks for.
LIMITS = {
    "least_tip_deg": limits.TIP_ANGLE,
    "least_over_slope_deg": limits.TIP_OVER_SLOPE,
    "least_arm_margin": limits.ARM_MARGIN,
    "most_power_drop_percent": limits.DROP_POWER,
    "most_control_drop_percent": limits.DROP_CONTROL,
    "most_fuse_share": limits.FUSE_SHARE,
}


def range_of(limit):
    """What may be entered, and what holds while nothing is."""
    least, most = (plain(one) for one in sorted((limit.value, limit.strictest)))
    return f"From {least} to {most}. Leave it empty if {plain(limit.value)} is enough: {limit.source}."


class LabSettingsForm(RecordForm):
    family_texts = ("hours", "outside_hours")
    public_address = forms.URLField(
        label="Address of this site, as families type it",
        max_length=120,
        required=False,
        assume_scheme="https",
        help_text="Papers and family links name it. Leave it empty if families cannot reach it.",
    )
    time_zone = forms.ChoiceField(label="Time zone", choices=time_zones)

    class Meta:
        model = Lab
        fields = [
            "name",
            "phone",
            "hours",
            "outside_hours",
            "emergency_number",
            "public_address",
            "time_zone",
            "paper",
            "units",
            "walking_pace_m_s",
            "reaction_s",
            *LIMITS,
        ]
        help_texts = {
            "emergency_number": "Families' papers name it for fire and harm. Enter the one that holds where they live.",
            "walking_pace_m_s": "Leave it empty until somebody has measured it.",
            "reaction_s": "The way to stop with an adult's reaction is computed from it. Empty stays unknown.",
            **{name: range_of(limit) for name, limit in LIMITS.items()},
        }

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        for name in Lab.ASKED_FOR:
            self.fields[name].required = True
