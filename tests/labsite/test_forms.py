"""Every refusal is in the words of the field's label, with the limit."""

import pytest
from django import forms
from django.template.loader import render_to_string
from django.test import RequestFactory

from builds.engineering.quantities import parse_quantity
from labsite.forms import LabForm, QuantityField, ReasonForm
from labsite.models import Lab


class CartForm(LabForm):
    suffixes = {"wheels": "wheels"}

    seat_width = forms.FloatField(max_value=100)
    wheels = forms.IntegerField(min_value=3)
    note = forms.CharField(widget=forms.Textarea)
    colour = forms.ChoiceField(choices=[("a", "Ash"), ("b", "Birch")], widget=forms.RadioSelect)
    built_on = forms.DateField(label="Date built", help_text="As on the plate")
    who = forms.CharField(label="Who built it")
    agreed = forms.BooleanField(label="I looked at it")


class MassForm(LabForm):
    mass = QuantityField("mass", metric_unit="kg", us_unit="lb", minimum=1, maximum=150, label="Mass", required=False)


def errors_of(form):
    return {name: list(messages) for name, messages in form.errors.items()}


def test_an_empty_field_says_what_to_enter():
    assert errors_of(CartForm({})) == {
        "seat_width": ["Enter the seat width"],
        "wheels": ["Enter the wheels"],
        "note": ["Enter the note"],
        "colour": ["Choose the colour"],
        "built_on": ["Enter the date built"],
        "who": ["Enter who built it"],
        "agreed": ["Tick “I looked at it” to go on"],
    }


class LabelsForm(LabForm):
    """Labels that are no thing."""

    signer = forms.CharField(label="Signed by")
    done_on = forms.DateField(label="Done on")
    spliced = forms.ChoiceField(label="Spliced", choices=[("no", "No")])
    asked = forms.CharField(label="Who asked, and what for")
    to = forms.CharField(label="Distance to the wall")


def test_a_label_that_is_no_thing_is_quoted():
    assert errors_of(LabelsForm({})) == {
        "signer": ["Enter “Signed by”"],
        "done_on": ["Enter “Done on”"],
        "spliced": ["Choose “Spliced”"],
        "asked": ["Enter who asked, and what for"],
        "to": ["Enter the distance to the wall"],
    }


@pytest.mark.parametrize(
    ("name", "typed", "message"),
    [
        ("seat_width", "101", "Seat width must be 100 or less"),
        ("seat_width", "wide", "Seat width must be a number, for example 12.5"),
        ("seat_width", "nan", "Seat width must be a number, for example 12.5"),
        ("seat_width", "-1e308", "Seat width must be -1,000,000,000 or more"),
        ("wheels", "2", "Wheels must be 3 wheels or more"),
        ("wheels", "9" * 30, "Wheels must be 1,000,000,000 wheels or less"),
        ("note", "x" * 100_000, "Note must be 5,000 characters or fewer"),
        ("who", "x" * 301, "Who built it must be 300 characters or fewer"),
        ("who", "a\x00b", "Who built it holds a character that cannot be kept. Type it again"),
        ("colour", "z", "Choose the colour from the list"),
        ("built_on", "2026-02-30", "Date built must be a real date, for example 2026-03-31"),
    ],
)
def test_a_wrong_entry_is_refused_with_its_limit(name, typed, message):
    assert errors_of(CartForm({name: typed}))[name] == [message]


def test_a_percent_sign_in_a_label_survives():
    class Drop(LabForm):
        drop = forms.FloatField(label="Drop in %", max_value=10)

    assert errors_of(Drop({"drop": "11"})) == {"drop": ["Drop in % must be 10 or less"]}


def test_an_authors_own_message_is_kept():
    class Own(LabForm):
        code = forms.CharField(error_messages={"required": "Read the code off the unit"})

    assert errors_of(Own({})) == {"code": ["Read the code off the unit"]}


def test_the_reason_takes_the_label_it_is_given():
    assert errors_of(ReasonForm({}, label="Reason for striking")) == {"reason": ["Enter the reason for striking"]}


def page_of(form):
    request = RequestFactory().get("/")
    return render_to_string("components/_form.html", {"form": form, "submit": "Save the cart"}, request=request)


def test_the_page_ties_hint_and_error_to_the_box():
    page = page_of(CartForm({"built_on": "soon"}))
    assert 'aria-describedby="id_built_on_helptext id_built_on_error"' in page
    assert 'id="id_built_on_helptext"' in page
    assert 'id="id_built_on_error"' in page
    assert '<a href="#id_built_on">Date built must be a real date, for example 2026-03-31</a>' in page
    assert '<a href="#id_colour_0">Choose the colour</a>' in page


def test_the_page_keeps_what_was_typed_and_escapes_it():
    page = page_of(CartForm({"note": "<script>" + "x" * 6000}))
    assert "&lt;script&gt;" + "x" * 6000 in page
    assert "<script" not in page


def test_the_page_has_no_placeholder_no_required_and_no_silent_cut():
    page = page_of(CartForm())
    assert "novalidate" in page
    for word in ("placeholder", " required", "maxlength", "style="):
        assert word not in page


def test_the_unit_stands_beside_the_box():
    assert '<span class="unit" aria-hidden="true">kg</span>' in page_of(MassForm(units="metric"))
    assert '<span class="unit" aria-hidden="true">lb</span>' in page_of(MassForm(units="us"))


def test_a_bare_number_takes_the_labs_unit():
    metric, us = MassForm({"mass": "20"}, units="metric"), MassForm({"mass": "20"}, units="us")
    assert metric.is_valid() and us.is_valid()
    assert metric.cleaned_data["mass"] == 20
    assert us.cleaned_data["mass"] == pytest.approx(20 * 0.45359237)  # the pound: NIST SP 811, appendix B.8


def test_a_typed_unit_wins():
    form = MassForm({"mass": "35 lb"}, units="metric")
    assert form.is_valid()
    assert form.cleaned_data["mass"] == pytest.approx(35 * 0.45359237)


def test_an_empty_quantity_is_unknown():
    form = MassForm({"mass": " "}, units="metric")
    assert form.is_valid()
    assert form.cleaned_data["mass"] is None


def test_a_limit_is_told_in_the_labs_unit():
    assert errors_of(MassForm({"mass": "151"}, units="metric")) == {"mass": ["Mass must be 150 kg or less"]}
    assert errors_of(MassForm({"mass": "400"}, units="us")) == {"mass": ["Mass must be 330.7 lb or less"]}


def test_nothing_weighs_less_than_nothing_but_it_may_be_freezing():
    class Yard(LabForm):
        mass = QuantityField("mass", metric_unit="kg")
        frost = QuantityField("temperature", metric_unit="degC", us_unit="degF")

    form = Yard({"mass": "-1", "frost": "14"}, units="us")
    assert errors_of(form) == {"mass": ["Mass must be 0 kg or more"]}
    assert form.cleaned_data["frost"] == pytest.approx(-10)  # 14 °F: NIST SP 811, appendix B.8
    assert form.fields["frost"].unit == "°F"


@pytest.mark.parametrize("typed", ["heavy", "12 A", "1\x002", "9" * 41, "nan", "inf kg", "--3"])
def test_nonsense_is_refused_and_stays_in_the_box(typed):
    form = MassForm({"mass": typed}, units="metric")
    assert not form.is_valid()
    assert len(form.errors["mass"]) == 1
    assert form["mass"].value() == typed


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("kg", [16.123456789, 35 * 0.45359237, 1 / 0.3, 149.99999999])
def test_saving_what_is_shown_keeps_the_exact_value(units, kg):
    shown = MassForm(initial={"mass": kg}, units=units)["mass"].value()
    again = MassForm({"mass": shown}, initial={"mass": kg}, units=units)
    assert again.is_valid()
    assert again.cleaned_data["mass"] == kg
    assert not again.has_changed()


def test_what_is_shown_is_what_is_stored():
    shown = MassForm(initial={"mass": 16.2}, units="us")["mass"].value()
    assert parse_quantity(f"{shown} lb", "mass", name="Mass").value_si == pytest.approx(16.2, rel=1e-5)


def test_the_labs_own_units_are_taken_when_none_are_given(db):
    Lab.objects.create(name="Alder Creek", units=Lab.Units.US)
    assert MassForm().fields["mass"].unit == "lb"
