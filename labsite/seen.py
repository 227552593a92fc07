"""What a person saw when the page was opened, signed, so that nobody overwrites a change they never saw."""

import datetime

from django import forms
from django.core import signing
from django.db import models
from django.utils import formats, timezone

SALT = "labsite.seen"
SHOWN = 80


class SeenField(forms.Field):
    """Carries the signed values. A page shown again carries fresh ones, so that a second save is a decision."""

    widget = forms.HiddenInput

    def __init__(self):
        super().__init__(required=False)
        self.fresh = ""

    def prepare_value(self, value):
        return self.fresh

    def has_changed(self, initial, data):
        return False


class NewestShown(forms.Field):
    """Carries the key of the newest row that the page showed, 0 for none. A page shown again carries that of now."""

    widget = forms.HiddenInput

    def __init__(self):
        super().__init__(required=False)
        self.fresh = 0

    def prepare_value(self, value):
        return self.fresh

    def clean(self, value):
        return newest_shown(value)

    def has_changed(self, initial, data):
        return False


def newest_shown(sent):
    """The key that was sent. A form that carries none, or no number, saw nothing."""
    try:
        return int(sent)
    except (TypeError, ValueError):
        return 0


def seal(snapshot, record):
    return signing.dumps([_whose(record), snapshot], salt=SALT, compress=True)


def unseal(token, record):
    """The snapshot in the token, or None when it is missing, altered or from another record."""
    try:
        whose, snapshot = signing.loads(token or "", salt=SALT)
    except (signing.BadSignature, ValueError, TypeError):
        return None
    return snapshot if whose == _whose(record) else None


def _whose(record):
    return f"{record._meta.label_lower}:{record.pk}"


def stored(record, name):
    """A field's value as JSON holds it, exact enough to tell every change."""
    field = record._meta.get_field(name)
    if isinstance(field, models.ManyToManyField):
        return sorted(str(item.pk) for item in getattr(record, name).all())
    value = field.value_from_object(record)
    return value if value is None or isinstance(field, models.JSONField) else field.value_to_string(record)


def reading_of(record, name):
    """A field's value as a person would read it."""
    field, value = record._meta.get_field(name), getattr(record, name)
    if field.choices:
        text = str(getattr(record, f"get_{name}_display")())
    elif isinstance(field, models.ManyToManyField):
        text = ", ".join(str(item) for item in value.all())
    else:
        text = _plain(value)
    return (text[:SHOWN] + "…" if len(text) > SHOWN else text) or "empty"


def _plain(value):
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return ", ".join(str(item) for item in value)
    if isinstance(value, datetime.datetime):
        value = timezone.localtime(value)
    return str(formats.localize(value))
