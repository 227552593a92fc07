"""The one form component: every form of the house builds on `LabForm` or `RecordForm`.

Messages are in the label's words (`wording`); quantities, photos and the guard against overwriting a change
nobody saw come with it (`quantity_field`, `photos`, `seen`).
"""

from crispy_forms.helper import FormHelper
from django import forms
from django.core.exceptions import ObjectDoesNotExist
from django.utils.functional import cached_property

from labsite import seen
from labsite.family_words import wording_of
from labsite.photos import PhotoField, clean_photo
from labsite.quantity_field import QuantityField
from labsite.wording import MAX_LINE, MAX_TEXT, label_of, word_errors

__all__ = [
    "MAX_LINE", "MAX_TEXT", "LabForm", "PhotoField", "QuantityField", "ReasonForm", "RecordForm", "clean_photo",
]  # fmt: skip

UNSEEN = "This page did not say which values it was opened with. Check them and save again."
GONE = "This entry is no longer there. Go back and look for it."


class WordedForm:
    """What both kinds of form share. `suffixes` names the unit shown beside a number: {"slope_deg": "degrees"}."""

    use_required_attribute = False
    suffixes = {}
    family_texts = ()  # fields whose text families read on paper; their wording can be checked before saving

    def __init__(self, *args, units=None, labels=None, **kwargs):
        super().__init__(*args, **kwargs)
        for name, label in (labels or {}).items():
            self.fields[name].label = label
        for name, field in self.fields.items():
            _dress(field)
            if isinstance(field, QuantityField):
                _dress_quantity(self, name, field, units)
            elif name in self.suffixes:
                field.unit = self.suffixes[name]
        word_errors(self)

    @cached_property
    def helper(self):
        helper = FormHelper()
        helper.form_tag = False
        helper.disable_csrf = True
        helper.form_show_errors = True
        helper.field_template = "components/_field.html"
        helper.template = "components/_fields.html"
        return helper

    def is_valid(self):
        """Whoever asks only for the wording saves nothing yet."""
        return super().is_valid() and not (self.family_texts and "check_wording" in self.data)

    @property
    def wordings(self):
        """(label, wording) of each text that families will read."""
        texts = ((name, self[name].value()) for name in self.family_texts if name in self.fields)
        found = ((label_of(self, name), wording_of(text)) for name, text in texts)
        return [(label, wording) for label, wording in found if wording is not None]

    @property
    def changed_labels(self):
        """The labels of what was changed, for the timeline."""
        return [label_of(self, name) for name in self.changed_data]


def _dress(field):
    """Numbers are typed into a text box with a number pad; dates and times use the browser's own picker."""
    widget = field.widget
    if isinstance(widget, forms.NumberInput):
        widget.input_type = "text"
        whole = type(field) is forms.IntegerField
        widget.attrs.setdefault("inputmode", "numeric" if whole else "decimal")
        widget.attrs.setdefault("autocomplete", "off")
    elif isinstance(field, forms.DateField) and type(widget) is forms.DateInput:
        widget.input_type, widget.format = "date", "%Y-%m-%d"
    elif isinstance(field, forms.TimeField) and type(widget) is forms.TimeInput:
        widget.input_type, widget.format = "time", "%H:%M"
    elif isinstance(widget, forms.Textarea):
        widget.attrs.pop("cols", None)
        if str(widget.attrs.get("rows")) == "10":  # Django's own default
            widget.attrs["rows"] = "4"


def _dress_quantity(form, name, field, units):
    field.units = units or field.units
    field.label = label_of(form, name)
    field.help_text = field.help_text or field.default_hint()


class LabForm(WordedForm, forms.Form):
    """A form that saves no single record by itself."""


class RecordForm(WordedForm, forms.ModelForm):
    """A form of one record. It saves only its own fields, and only over values that the person has seen."""

    also_saved = ()  # fields that the form sets on the record without showing them

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        if not self.instance._state.adding:
            self.fields["seen"] = seen.SeenField()
            self.fields["seen"].fresh = self._sealed(self.instance)

    def full_clean(self):
        super().full_clean()
        if self.is_bound and "seen" in self.fields:
            self._refuse_unseen_changes()

    def save(self, commit=True):
        if not commit or self.instance._state.adding or self.errors:
            return super().save(commit)
        self.instance.save(update_fields=[*self._columns(), *self.also_saved])
        self._save_m2m()
        return self.instance

    def _names(self):
        """The form's fields that the record itself has."""
        meta = self.instance._meta
        own = {field.name for field in [*meta.concrete_fields, *meta.many_to_many]}
        wanted = self._meta.fields
        return [
            name for name in self.fields
            if name in own and name not in (self._meta.exclude or ()) and (wanted is None or name in wanted)
        ]  # fmt: skip

    def _columns(self):
        columns = {field.name for field in self.instance._meta.concrete_fields}
        return [name for name in self._names() if name in columns]

    def _sealed(self, record):
        return seen.seal(self._snapshot(record), record)

    def _snapshot(self, record):
        return {name: [seen.stored(record, name), self._reading(record, name)] for name in self._names()}

    def _reading(self, record, name):
        field = self.fields[name]
        value = getattr(record, name)
        return field.reading(value) if hasattr(field, "reading") else seen.reading_of(record, name)

    def _refuse_unseen_changes(self):
        try:
            stands = type(self.instance)._base_manager.select_for_update().get(pk=self.instance.pk)
        except ObjectDoesNotExist:
            self.add_error(None, GONE)
            return
        was = seen.unseal(self.data.get(self.add_prefix("seen")), stands)
        now = self._snapshot(stands)
        self.fields["seen"].fresh = self._sealed(stands)
        if was is None or not set(now) <= set(was):  # a form may drop fields after the values were sealed
            self.add_error(None, UNSEEN)
            return
        for name, (value, reading) in now.items():
            if value != was[name][0]:
                self.add_error(name, self._changed_meanwhile(name, reading, was[name][1]))

    def _changed_meanwhile(self, name, now, before):
        return (
            f"{label_of(self, name)} is now {now} (it was {before} when this page was opened). "
            "Check it and save again."
        )


class ReasonForm(LabForm):
    """One reason, for striking, putting on hold, cancelling or refusing."""

    reason = forms.CharField(max_length=MAX_LINE)

    def __init__(self, *args, label="Reason", **kwargs):
        super().__init__(*args, labels={"reason": label}, **kwargs)
