"""A measure that does not go with the stature is flagged with its working, and never refused."""

import pytest

from builds.demo.factories import clients as make
from clients import page, proportions
from clients.models import Client, Measure
from tests.clients.builds import make_build
from tests.clients.conftest import at, errors, send

Kind = Measure.Kind


def flagged(client):
    found = page.newest_measures(Client.objects.with_needs().get(pk=client.pk))
    return {flag.measure.kind for flag in found["flags"].values()}


@pytest.fixture
def tall(known, coordinator):
    """Stature 1.00 m: seat depth near 24.5 cm, so from 15.9 to 33.1 cm (0.245, 35 % less or more)."""
    make.MeasureFactory(client=known, made_by=coordinator, kind=Kind.STATURE, value_si=1.0)
    return known


@pytest.mark.parametrize(
    ("kind", "value", "is_flagged"),
    [
        (Kind.SEAT_DEPTH, 0.16, False), (Kind.SEAT_DEPTH, 0.158, True),
        (Kind.SEAT_DEPTH, 0.33, False), (Kind.SEAT_DEPTH, 0.332, True),
        (Kind.LOWER_LEG, 0.285, False), (Kind.LOWER_LEG, 0.10, True),
        (Kind.SEAT_WIDTH, 0.90, False), (Kind.ELBOW_HEIGHT, 0.50, False),
    ],
)  # fmt: skip
def test_only_what_does_not_go_with_the_stature_is_flagged(kind, value, is_flagged, tall, coordinator):
    make.MeasureFactory(client=tall, made_by=coordinator, kind=kind, value_si=value)
    assert flagged(tall) == ({kind} if is_flagged else set())


@pytest.mark.parametrize(
    ("compensation", "value", "is_flagged"),
    [("without", 0.70, True), ("without", 0.05, False), ("with", 0.70, False)],
)
def test_only_too_far_a_reach_without_compensation_is_flagged(compensation, value, is_flagged, tall, coordinator):
    make.MeasureFactory(client=tall, made_by=coordinator, reach=True, value_si=value, compensation=compensation)
    assert bool(flagged(tall)) is is_flagged


def test_the_flag_says_what_to_compare_and_shows_its_working(desk, tall):
    address = send(desk, at("measure_new", tall), seat_depth="9 cm")["Location"]
    assert Measure.objects.filter(kind=Kind.SEAT_DEPTH).exists()
    told = desk.get(address).content.decode()
    assert "looks mistyped. It is 90 mm. Beside a stature of 100 cm it is usually 15.9 cm to 33.1 cm." in told
    assert told.count("Looks mistyped") == 1 and "adult proportions" in told
    row = tall.measures.get(kind=Kind.SEAT_DEPTH)
    assert at("measure_strike", tall, row.pk) in told and at("measure_right", tall, row.pk) in told


def test_one_who_looked_again_says_that_it_is_right(desk, tall, coordinator):
    row = make.MeasureFactory(client=tall, made_by=coordinator, kind=Kind.SEAT_DEPTH, value_si=0.09)
    send(desk, at("measure_right", tall, row.pk), reason="Measured twice; short thighs")
    row.refresh_from_db()
    assert (row.checked_by, row.checked_reason) == (coordinator, "Measured twice; short thighs")
    assert flagged(tall) == set()
    assert b"Measured twice; short thighs" in desk.get(at("measure_history", tall, "seat_depth")).content


def test_a_new_measure_is_flagged_anew(desk, tall, coordinator):
    row = make.MeasureFactory(client=tall, made_by=coordinator, kind=Kind.SEAT_DEPTH, value_si=0.09)
    row.call_right(coordinator, "Measured twice")
    send(desk, at("measure_new", tall), seat_depth="8 cm")
    assert flagged(tall) == {Kind.SEAT_DEPTH}


def test_why_it_is_right_names_nobody(desk, tall, coordinator):
    row = make.MeasureFactory(client=tall, made_by=coordinator, kind=Kind.SEAT_DEPTH, value_si=0.09)
    refused = errors(send(desk, at("measure_right", tall, row.pk), reason=f"{tall.person.given_name} has short thighs"))
    assert "is read by builders" in refused["reason"][0]


def test_a_struck_measure_is_neither_flagged_nor_called_right(desk, tall, coordinator):
    row = make.MeasureFactory(client=tall, made_by=coordinator, kind=Kind.SEAT_DEPTH, value_si=0.09)
    row.strike(coordinator, "Inches")
    assert flagged(tall) == set()
    assert desk.get(at("measure_right", tall, row.pk)).status_code == 404


def test_two_flags_point_at_the_stature(desk, known, coordinator):
    for kind, value in ((Kind.STATURE, 0.45), (Kind.SEAT_DEPTH, 0.25), (Kind.LOWER_LEG, 0.28)):
        make.MeasureFactory(client=known, made_by=coordinator, kind=kind, value_si=value)
    assert proportions.SEVERAL in desk.get(at("client_page", known)).content.decode()


def test_without_a_stature_nothing_is_judged_and_the_page_says_so(desk, known, coordinator):
    make.MeasureFactory(client=known, made_by=coordinator, kind=Kind.SEAT_DEPTH, value_si=0.09)
    assert flagged(known) == set()
    assert b"the stature is unknown" in desk.get(at("client_page", known)).content


def test_a_builder_sees_the_flag_and_no_way_to_change_it(tall, coordinator, builder, as_person):
    row = make.MeasureFactory(client=tall, made_by=coordinator, kind=Kind.SEAT_DEPTH, value_si=0.09)
    make_build(tall, builder)
    told = as_person(builder).get(at("client_page", tall)).content.decode()
    assert "Looks mistyped" in told and at("measure_right", tall, row.pk) not in told
