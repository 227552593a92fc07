"""The calculators, to try numbers without a build: one form each from the registry, and nothing is stored."""

from django import forms
from django.core.exceptions import ValidationError
from django.http import Http404, HttpResponseNotAllowed
from django.shortcuts import render
from django.views.decorators.http import require_http_methods, require_safe

from builds.engineering.calculators import CALCULATORS, INPUT_ERRORS
from builds.engineering.customary import converted, us_unit
from builds.engineering.finding import plain
from builds.engineering.inputs import FILE, PROSE, as_json
from builds.engineering.load import Mass
from builds.engineering.units import WRITTEN
from builds.overview.calculator_words import choice_word, label_and_unit
from labsite.forms import LabForm
from labsite.models import Lab
from labsite.units import lab_units

# A result is linked by its address, and servers refuse long addresses. Whole files are graded from the shell.
LONGEST_TYPED = 2000


@require_safe
def calculators(request):
    return render(request, "builds/overview/calculators.html", {"calculators": CALCULATORS.values()})


@require_http_methods(["GET", "HEAD", "POST"])
def calculator(request, name):
    chosen = get_calculator(name)
    upload = upload_of(chosen)
    if request.method == "POST":
        if upload is None:
            return HttpResponseNotAllowed(["GET", "HEAD"])
        form = CalculatorForm(chosen, request.POST.dict(), request.FILES)
    else:
        form = CalculatorForm(chosen) if upload else form_for(chosen, request.GET)
    page = {"calculator": chosen, "form": form, "upload": upload}
    if form.is_bound and form.is_valid():
        page["results"] = shown_results(chosen, form.result)
        page |= {"findings": form.result.findings, "read": form.read_as()}
    return render(request, "builds/overview/calculator.html", page, status=422 if form.errors else 200)


def get_calculator(name):
    if name not in CALCULATORS:
        raise Http404("No calculator has this name.")
    return CALCULATORS[name]


def form_for(chosen, query):
    """Empty, with the defaults, until the address holds an input; an input it does not hold takes its default."""
    names = [entry.name for entry in asked_for(chosen)]
    typed = {name: query[name] for name in names if name in query}
    return CalculatorForm(chosen, typed) if typed else CalculatorForm(chosen)


def asked_for(chosen):
    """The inputs of a page: it never reads a file of this machine, whatever its address says."""
    return [entry for entry in chosen.inputs if entry.kind != FILE]


def upload_of(chosen):
    """The file that a person sends, where nothing typed could stand in for it; None otherwise."""
    return next((entry for entry in chosen.inputs if entry.kind == FILE and entry.required), None)


class TypedField(forms.CharField):
    """Text that the calculator's own input reads, with its own words when it cannot."""

    def __init__(self, entry, may_be_empty):
        words = {"label": entry.label, "help_text": hint(entry, may_be_empty)}
        super().__init__(required=False, initial=entry.default, widget=box(entry), **words)
        self.entry, self.may_be_empty = entry, may_be_empty

    def clean(self, text):
        text = text or ""
        if self.may_be_empty and not text.strip():
            return ""
        try:
            if len(text) > LONGEST_TYPED:
                raise ValidationError(f"{self.label} must be {LONGEST_TYPED} characters or fewer, not {len(text)}.")
            self.entry.value(text)
        except INPUT_ERRORS as error:
            raise ValidationError(str(error)) from error
        return text


def sent_file(entry):
    messages = {
        "required": f"Choose the {entry.label.lower()}",
        "empty": f"The {entry.label.lower()} is empty. Choose another file",
        "max_length": f"{entry.label} has too long a name. Give the file a shorter one",
    }
    return forms.FileField(
        label=entry.label, help_text=entry.help, max_length=100, error_messages=messages,
        widget=forms.FileInput(attrs={"accept": "text/plain,.txt,.log,.csv"}),
    )  # fmt: skip


def hint(entry, may_be_empty):
    unit = WRITTEN.get(entry.unit, entry.unit)
    told = [entry.help, f"A number alone is in {unit}" if unit else "", "May be left empty" if may_be_empty else ""]
    return ". ".join(part for part in told if part)


def box(entry):
    if entry.choices:
        return forms.RadioSelect(choices=[(code, choice_word(code)) for code in entry.choices])
    return forms.Textarea(attrs={"rows": 6}) if entry.kind == PROSE else forms.TextInput(attrs={"autocomplete": "off"})


class CalculatorForm(LabForm):
    """`typed` is text by input name, `sent` the files; `result` is what was found, once the form is valid."""

    def __init__(self, chosen, typed=None, sent=None):
        self.chosen, self.typed, self.result = chosen, typed, None
        self.upload = upload_of(chosen)
        entries = asked_for(chosen)
        data = None if typed is None else {e.name: typed.get(e.name, e.default or "") for e in entries}
        super().__init__(data, sent)
        if self.upload:
            self.fields[self.upload.name] = sent_file(self.upload)
        for entry in entries:
            field = TypedField(entry, may_be_empty=entry.optional and entry.name not in chosen.one_of)
            self.fields[entry.name] = field

    def clean(self):
        cleaned = super().clean()
        if not self.errors:
            try:
                self.values = self._values(cleaned)
                self.result = self.chosen.compute(self.values)
            except INPUT_ERRORS as error:
                self.add_error(self._field_named_by(str(error)), str(error))
        return cleaned

    def _values(self, cleaned):
        """What was typed, read; a file that was sent stands for itself."""
        sent = {self.upload.name: cleaned[self.upload.name]} if self.upload else {}
        typed = {name: text for name, text in cleaned.items() if text and name not in sent}
        return self.chosen.read(typed | {name: file.name for name, file in sent.items()}) | sent

    def _field_named_by(self, message):
        """The field whose label the message begins with: the longest, since one label may start another."""
        named = [name for name, field in self.fields.items() if message.startswith(f"{field.label} ")]
        return max(named, key=lambda name: len(self.fields[name].label), default=None)

    def read_as(self):
        """(label, what it was read as, whether it is the default) of each input that has a value."""
        shown = []
        for entry in asked_for(self.chosen):
            value = self.values[entry.name]
            if value is not None and entry.kind != PROSE:
                shown.append((entry.label, told(value, entry.unit), entry.name not in self.typed))
        return shown


def shown_results(chosen, result):
    """(label, value, unit) of each result, to three figures; the shell prints them unrounded and in SI."""
    rows = []
    for key in chosen.results:
        label, unit = label_and_unit(key)
        value = getattr(result, key)
        metric = shown_value(value), "" if value is None else unit
        rows.append((label, *(in_us(value, unit, metric) or metric)))
    return rows


def in_us(value, unit, metric):
    """(value, unit) for a lab that reads US units, the metric figure beside it; None where there is no such unit."""
    to = us_unit(value, unit) if isinstance(value, float) and lab_units() == Lab.Units.US else None
    if to is None:
        return None
    return plain(converted(value, unit, to), 3), f"{WRITTEN.get(to, to)} ({' '.join(metric)})"


def shown_value(value):
    """A number to three figures; a list of lists with "or" between, each part joined with "and"."""
    if isinstance(value, tuple):
        return "; or ".join(" and ".join(part) or "nothing crossed" for part in value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    return plain(value, 3) if isinstance(value, float) else "none" if value is None else str(value)


def told(value, unit):
    """A value that was read, with the unit it was read in."""
    unit = WRITTEN.get(unit, unit)
    if isinstance(value, (int, float)):
        return f"{plain(value, 6)} {unit}".strip()
    if isinstance(value, (list, tuple)) and isinstance(value[0], Mass):
        return ", ".join(mass_told(mass) for mass in value)
    if isinstance(value, (list, tuple)):
        return f"{', '.join(plain(part, 6) for part in value)} {unit}".strip()
    return choice_word(value) if isinstance(value, str) else str(as_json(value))


def mass_told(mass):
    place = "" if mass.place_m is None else f" at {told(mass.place_m, 'm')}"
    return f"{mass.name} {plain(mass.mass_kg, 6)} kg{place}"
