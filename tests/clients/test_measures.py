"""Measures are typed in one sheet in metric or US units, within limits, and struck with a reason when wrong."""

import datetime
import uuid

import pytest
from django.utils import timezone

from builds.demo.factories import clients as make
from clients.limits import LIMITS
from clients.models import Measure
from labsite.models import Lab
from tests.clients.conftest import at, errors, send


def sheet(desk, client, **typed):
    return send(desk, at("measure_new", client), **typed)


def test_one_sheet_makes_one_measure_for_each_filled_box(desk, known, coordinator):
    sheet(
        desk, known, mass="16.2", seat_width="24", reach_left_without="31", reach_left_with="44", supports_worn="none"
    )
    rows = {(row.kind, row.side, row.compensation): row for row in Measure.objects.all()}
    assert set(rows) == {
        ("mass", "", ""), ("seat_width", "", ""), ("reach", "left", "without"), ("reach", "left", "with"),
    }  # fmt: skip
    mass = rows["mass", "", ""]
    assert (mass.value_si, mass.typed, mass.taken_by, mass.made_by) == (16.2, "16.2 kg", "Cora Ames", coordinator)
    assert (mass.method, mass.taken_on, mass.supports_worn) == ("measured", timezone.localdate(), "none")


@pytest.mark.parametrize(
    ("box", "typed", "value_si"),
    [
        ("mass", "35 lb", 15.8757),  # 0.45359237 kg a pound, by definition
        ("mass", "35 lb 4 oz", 15.9891),
        ("stature", "3 ft 4 in", 1.016),  # 0.0254 m an inch, by definition
        ("seat_width", '9.5"', 0.2413),
        ("seat_width", "24,5 cm", 0.245),
        ("seat_width", "245 mm", 0.245),
    ],
)
def test_the_unit_that_was_typed_wins(box, typed, value_si, desk, known):
    sheet(desk, known, **{box: typed})
    row = Measure.objects.get()
    assert row.value_si == pytest.approx(value_si, abs=1e-4)
    assert row.typed == typed


def test_a_bare_number_is_in_the_lab_s_units(desk, known):
    Lab.objects.update(units=Lab.Units.US)
    sheet(desk, known, mass="35")
    row = Measure.objects.get()
    assert row.value_si == pytest.approx(15.8757, abs=1e-4)
    assert row.typed == "35 lb"


@pytest.mark.parametrize(
    ("box", "typed", "words"),
    [
        ("mass", "1600", "Mass must be 150 kg or less"),
        ("mass", "0", "Mass must be 2 kg or more"),
        ("mass", "16 cm", "cm is the unit of a length"),
        ("mass", "heavy", "Mass must be a mass"),
        ("mass", "nan", "Mass must be a mass"),
        ("seat_width", "240", "Seat width must be 100 cm or less"),
        ("stature", "9 ft", "Stature must be 220 cm or less"),
        ("reach_right_with", "5 m", "Reach on the occupant's right, with compensation must be 120 cm or less"),
    ],
)
def test_a_size_that_cannot_be_is_refused_with_the_limit(box, typed, words, desk, known):
    answer = sheet(desk, known, **{box: typed})
    assert words in errors(answer)[box][0]
    assert f'value="{typed}"'.encode() in answer.content
    assert not Measure.objects.exists()


def test_every_kind_has_limits():
    assert set(LIMITS) == set(Measure.Kind)


def test_an_empty_sheet_is_refused(desk, known):
    assert errors(sheet(desk, known))["mass"] == ["Enter one measure or more"]


@pytest.mark.parametrize(
    ("taken_on", "words"), [("2021-01-01", "or later, the client's birth date"), ("2099-01-01", "or earlier")]
)
def test_a_date_before_birth_or_in_the_future_is_refused(taken_on, words, desk, known):
    refused = errors(sheet(desk, known, mass="16", taken_on=taken_on))["taken_on"][0]
    assert refused.startswith("Date measured must be") and words in refused


def test_a_double_click_makes_one_measure(desk, known):
    address = at("measure_new", known)
    typed = {bound.html_name: bound.value() or "" for bound in desk.get(address).context["form"]}
    once = uuid.uuid4()
    for _ in range(2):
        assert desk.post(address, typed | {"mass": "16", "once": once}).status_code == 302
    assert Measure.objects.count() == 1


def test_a_leap_since_the_last_measure_is_pointed_out(desk, known):
    make.MeasureFactory(client=known, value_si=16.0, taken_on=timezone.localdate() - datetime.timedelta(days=20))
    address = sheet(desk, known, mass="35")["Location"]
    assert b"Mass (weight) went from 16 kg to 35 kg" in desk.get(address).content


def test_growth_over_a_year_is_no_leap(desk, known):
    make.MeasureFactory(client=known, value_si=12.0, taken_on=timezone.localdate() - datetime.timedelta(days=365))
    address = sheet(desk, known, mass="16")["Location"]
    assert b"went from" not in desk.get(address).content


def test_a_struck_measure_stays_readable_with_its_reason(desk, cleared, coordinator):
    mass = cleared.latest("mass")
    send(desk, at("measure_strike", cleared, mass.pk), reason="Typed in pounds")
    mass.refresh_from_db()
    assert (mass.struck_reason, mass.struck_by) == ("Typed in pounds", coordinator)
    assert b"Typed in pounds" in desk.get(at("measure_history", cleared, "mass")).content
    assert desk.get(at("measure_strike", cleared, mass.pk)).status_code == 404


def test_striking_needs_a_reason(desk, cleared):
    mass = cleared.latest("mass")
    assert errors(send(desk, at("measure_strike", cleared, mass.pk)))["reason"] == ["Enter the reason for striking"]
    mass.refresh_from_db()
    assert not mass.is_struck


def test_an_unknown_kind_has_no_history(desk, known):
    assert desk.get(at("measure_history", known, "shoe_size")).status_code == 404
