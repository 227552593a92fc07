"""Error messages in the words of the field's own label, saying what to do and where the limit lies.

A message that a form's author wrote is kept; only Django's standard ones are replaced.
"""

from django import forms
from django.core.validators import MaxLengthValidator, MaxValueValidator, MinValueValidator
from django.forms.utils import pretty_name

MAX_TEXT = 5_000
MAX_LINE = 300
MAX_NUMBER = 1_000_000_000
QUESTION_WORDS = {
    "what", "who", "whom", "how", "why", "when", "where", "which", "whether", "your", "their",
    "the", "a", "an", "this", "that", "each", "every", "all", "any", "no", "is", "does", "may", "will", "has",
}  # fmt: skip
# A label that begins or ends so is no thing that one enters or chooses: it is quoted.
NO_THING = {
    "after", "as", "by", "can", "carries", "done", "due", "from", "fused", "given", "i", "in", "labelled", "lets",
    "made", "measured", "moves", "needs", "pushed", "read", "reads", "scored", "shown", "signed", "spliced",
    "startles", "stays", "stops", "taken", "terminated", "tires", "to", "translated", "works",
}  # fmt: skip
LEFT_OPEN = ("by", "for", "from", "in", "of", "on", "to")
NOT_TEXT = (forms.JSONField, forms.UUIDField)
CHOOSING = (forms.Select, forms.RadioSelect, forms.SelectMultiple, forms.CheckboxSelectMultiple)


def label_of(form, name):
    """The label as the page shows it."""
    return str(form.fields[name].label or pretty_name(name))


def in_a_sentence(label):
    """The label inside a sentence: "Seat width" is "the seat width", "Signed by" is “Signed by”; BOM stays."""
    words = label.split() or [""]
    first = words[0]
    if first.lower() not in QUESTION_WORDS and (first.lower() in NO_THING or words[-1] in LEFT_OPEN):
        return f"“{label}”"
    starts_plain = len(first) == 1 or not first[1:2].isupper()
    lowered = label[:1].lower() + label[1:] if starts_plain else label
    return lowered if first.lower() in QUESTION_WORDS else f"the {lowered}"


def figure(number):
    """A limit as people write it: 5,000 and 12.5 and 3, never 3.0."""
    if isinstance(number, int):
        return f"{number:,}"
    return f"{number:,.6f}".rstrip("0").rstrip(".")


def word_errors(form):
    """Give every field of the form messages in its label's words, and a limit where it had none."""
    for name, field in form.fields.items():
        _bound_the_size(form, name, field)
        standard = _standard_messages(field)
        for code, message in _messages(label_of(form, name), field).items():
            if field.error_messages.get(code) == standard.get(code):
                field.error_messages[code] = message


def _standard_messages(field):
    messages = {}
    for kind in reversed(type(field).__mro__):
        messages.update(getattr(kind, "default_error_messages", {}))
    return messages


def _bound_the_size(form, name, field):
    if isinstance(field, forms.IntegerField):  # also float and decimal numbers
        _take_limits(field, _record_validators(form, name))
    elif isinstance(field, forms.CharField) and field.max_length is None and not isinstance(field, NOT_TEXT):
        field.max_length = MAX_TEXT if isinstance(field.widget, forms.Textarea) else MAX_LINE
        field.validators.append(MaxLengthValidator(field.max_length))
    # The browser would cut a long text without a word; the server refuses it and keeps it on the page.
    field.widget.attrs.pop("maxlength", None)


def _record_validators(form, name):
    meta = getattr(form, "_meta", None)
    names = {item.name for item in meta.model._meta.concrete_fields} if meta and meta.model else set()
    return meta.model._meta.get_field(name).validators if name in names else []


def _take_limits(field, validators):
    most = [v.limit_value for v in validators if isinstance(v, MaxValueValidator) and not callable(v.limit_value)]
    least = [v.limit_value for v in validators if isinstance(v, MinValueValidator) and not callable(v.limit_value)]
    if field.max_value is None:
        field.max_value = min([*most, MAX_NUMBER])
        field.validators.append(MaxValueValidator(field.max_value))
    if field.min_value is None:
        field.min_value = max([*least, -MAX_NUMBER])
        field.validators.append(MinValueValidator(field.min_value))


def _messages(label, field):
    """Messages by code. `%` is doubled where Django fills in parameters."""
    said, safe = in_a_sentence(label), label.replace("%", "%%")
    choosing = isinstance(field.widget, CHOOSING)
    messages = {
        "required": _required(label, said, field, choosing),
        "blank": _required(label, said, field, choosing),
        "null": _required(label, said, field, choosing),
        "invalid_choice": f"Choose {said} from the list".replace("%", "%%"),
        "invalid_pk_value": f"Choose {said} from the list".replace("%", "%%"),
        "invalid_list": f"Choose {said} from the list",
        "null_characters_not_allowed": f"{label} holds a character that cannot be kept. Type it again",
        "unique": f"{label} is already in use. Enter another",
        "invalid": _unreadable(label, said, field),
    }
    for code, words in (("max_length", "or fewer"), ("min_length", "or more")):
        if getattr(field, code, None) is not None:
            messages[code] = f"{safe} must be {figure(getattr(field, code))} characters {words}"
    unit = getattr(field, "unit", "")
    for code, words in (("max_value", "or less"), ("min_value", "or more")):
        if getattr(field, code, None) is not None:
            messages[code] = " ".join(filter(None, [safe, "must be", figure(getattr(field, code)), unit, words]))
    return messages


def _required(label, said, field, choosing):
    if isinstance(field, forms.BooleanField):
        return f"Tick “{label}” to go on"
    if choosing or isinstance(field, forms.FileField):
        return f"Choose {said}"
    return f"Enter {said}"


def _unreadable(label, said, field):
    if isinstance(field, forms.DateTimeField):
        return f"{label} must be a real date and time, for example 2026-03-31 14:30"
    if isinstance(field, forms.DateField):
        return f"{label} must be a real date, for example 2026-03-31"
    if isinstance(field, forms.TimeField):
        return f"{label} must be a time of day, for example 14:30"
    if isinstance(field, (forms.FloatField, forms.DecimalField)):
        return f"{label} must be a number, for example 12.5"
    if isinstance(field, forms.IntegerField):
        return f"{label} must be a whole number, for example 12"
    if isinstance(field, forms.EmailField):
        return f"{label} must be an address such as name@example.org"
    if isinstance(field, forms.URLField):
        return f"{label} must be an address that begins with https://"
    return f"{label} cannot be read. Enter {said} again"
