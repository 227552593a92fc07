"""Where something sits: three lengths in the lab's units, kept in metres, never half known."""

import pytest

from builds.parts.build_forms import WeighForm
from builds.parts.models import BuildPart
from labsite.models import Lab
from labsite.place_field import place_in_words

pytestmark = pytest.mark.django_db


@pytest.fixture
def us_lab(lab):
    lab.units = Lab.Units.US
    lab.save(update_fields=["units"])


def typed(*parts):
    return WeighForm({f"place_{axis}": part for axis, part in enumerate(parts)}, instance=BuildPart())


def test_a_bare_number_is_in_the_labs_unit(us_lab):
    form = typed("12", "-4", "0.5 m")
    assert form.is_valid(), form.errors
    assert form.cleaned_data["place"] == pytest.approx([0.3048, -0.1016, 0.5])
    assert ">in</span>" in str(form["place"])


def test_a_stored_place_is_shown_in_the_labs_unit(us_lab):
    form = WeighForm(instance=BuildPart(place=[0.3048, -0.1016, 0.254]))
    shown = str(form["place"])
    assert all(f'value="{figure}"' in shown for figure in ("12", "-4", "10"))


def test_nothing_typed_is_unknown(lab):
    form = typed("", "", "")
    assert form.is_valid() and form.cleaned_data["place"] is None


@pytest.mark.parametrize(
    "parts", [("0", "", ""), ("", "0", "10"), ("1", "x", "2"), ("1", "2", "-3"), ("nan", "0", "0")]
)
def test_half_a_place_or_an_odd_one_is_refused(lab, parts):
    form = typed(*parts)
    assert not form.is_valid() and "place" in form.errors


def test_what_was_typed_is_escaped(lab):
    assert "<script>" not in str(typed('"><script>', "0", "0")["place"])


def test_words_say_whose_left():
    assert place_in_words([0.3, 0.12, 0.4]) == "0.3 m forward of the rear axle, 0.12 m to the occupant's left, 0.4 m up"
    assert place_in_words([-0.1, -0.2, 0]) == "0.1 m behind the rear axle, 0.2 m to the occupant's right, 0 m up"
    assert place_in_words(None) is None
