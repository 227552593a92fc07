"""A build's parts list: deviations with a reason, struck lines, and cost with the unknown kept apart."""

from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from builds.demo.factories.papers import make_build_for
from builds.parts.rules import cost_of, differences

pytestmark = pytest.mark.django_db


@pytest.fixture
def part(build):
    return build.parts.get(find_number=3)


def test_mass_lot_and_place_are_typed_and_are_no_deviation(build, builder, part, send):
    typed = {"quantity_used": "2", "lot": "2026-03", "mass_kg": "95 g"}
    place = {"place_0": "10", "place_1": "-12", "place_2": "20"}
    assert send(builder, "build_part_edit", build.number, part.pk, **typed, **place).status_code == 302
    part.refresh_from_db()
    assert (part.quantity_used, part.lot) == (2, "2026-03")
    assert part.mass_kg == pytest.approx(0.095)
    assert part.place == pytest.approx([0.10, -0.12, 0.20])
    assert differences(part) == [] and part.deviation_by is None


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"quantity_used": "3"}, "3 used, 2 planned"),
        ({"quantity_used": "0"}, "0 used, 2 planned"),
        ({"substitute": "A controller of 80 A"}, "substitute: A controller of 80 A"),
        ({"stays_on": None}, "does not stay on the unit"),
        ({"removed": "on"}, "taken off the unit again"),
    ],
)
def test_a_deviation_demands_its_reason_and_keeps_who(build, builder, part, send, typed, says):
    answer = send(builder, "build_part_edit", build.number, part.pk, **typed)
    assert answer.status_code == 422
    assert f"Enter the reason for the deviation: {says}" in answer.content.decode()
    part.refresh_from_db()
    assert differences(part) == []
    answer = send(builder, "build_part_edit", build.number, part.pk, **typed, deviation_reason="Out of stock")
    assert answer.status_code == 302
    part.refresh_from_db()
    assert differences(part) == [says]
    assert (part.deviation_by, part.deviation_reason) == (builder, "Out of stock")


def test_an_added_line_demands_its_reason_and_gets_the_next_number(build, builder, send):
    typed = {"name": "Side plate", "quantity_used": "1", "mass_kg": "0.4", "stays_on": "on"}
    answer = send(builder, "build_part_new", build.number, **typed)
    assert answer.status_code == 422 and "not in the plan" in answer.content.decode()
    assert send(builder, "build_part_new", build.number, **typed, deviation_reason="Clamp too weak").status_code == 302
    added = build.parts.get(name="Side plate")
    assert (added.find_number, added.quantity, added.count, added.planned) == (11, 0, 1, None)
    assert added.deviation_by == builder


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"quantity_used": "many"}, "Quantity used must be a number"),
        ({"quantity_used": "5000"}, "Quantity used must be 1,000 or less"),
        ({"quantity_used": "-1"}, "Quantity used must be 0 or more"),
        ({"mass_kg": "3 cm"}, "cm is the unit of"),
        ({"mass_kg": "900"}, "Mass of each must be 100 kg or less"),
        ({"place_0": "10"}, "Enter also how far"),
        ({"unit_cost": "-4"}, "Cost each must be 0 or more"),
        ({"lot": "x" * 100_000}, "Lot or date code must be 80 characters or fewer"),
    ],
)
def test_what_cannot_be_is_refused_in_words(build, builder, part, send, typed, says):
    answer = send(builder, "build_part_edit", build.number, part.pk, **typed)
    assert answer.status_code == 422
    assert says in answer.content.decode()


def test_a_struck_line_stays_readable_and_counts_no_more(build, builder, part, send, as_person):
    assert send(builder, "build_part_strike", build.number, part.pk, reason="Typed twice").status_code == 302
    part.refresh_from_db()
    assert part.is_struck and not part.counts_as_added
    page = as_person(builder).get(reverse("build_parts", args=[build.number])).content.decode()
    assert "<del>" in page and "Typed twice" in page
    answer = as_person(builder).get(reverse("build_part_edit", args=[build.number, part.pk]))
    assert answer.status_code == 404


def test_a_part_of_another_build_is_not_reached_by_this_one(build, builder, as_person):
    other = make_build_for().parts.first()
    assert as_person(builder).get(reverse("build_part_edit", args=[build.number, other.pk])).status_code == 404


def test_cost_adds_what_is_known_and_counts_what_is_not(build):
    build.unit.cost = Decimal("120.00")
    cost = cost_of(build.parts.all(), build.unit)
    # 28 + 32 + 2 x 45 + 34 + 18 + 9 + 24 + 6 + 4, and the seat support without a price
    assert (cost["parts"], cost["unknown"], cost["total"]) == (Decimal("245"), 1, Decimal("365"))
    build.unit.cost = None
    assert cost_of(build.parts.all(), build.unit)["unit"] is None


def test_the_page_says_that_unknown_cost_comes_on_top(build, builder, as_person):
    page = as_person(builder).get(reverse("build_parts", args=[build.number])).content.decode()
    assert "what is unknown comes on top" in page


def test_the_page_takes_as_many_queries_for_one_line_as_for_ten(build, builder, as_person):
    client, address = as_person(builder), reverse("build_parts", args=[build.number])
    with CaptureQueriesContext(connection) as ten:
        client.get(address)
    build.parts.exclude(find_number=1).delete()
    with CaptureQueriesContext(connection) as one:
        client.get(address)
    assert len(one) == len(ten)
