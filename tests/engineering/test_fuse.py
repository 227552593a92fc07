"""Fuses: size, place, and the wire they protect."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builds.engineering.finding import CHECK, FITS, STOP, UNKNOWN, EngineeringError
from builds.engineering.fuse import BLADE_RATINGS_A, fuse, fuse_position, fuse_protects


@given(st.floats(0.01, 60), st.floats(0.5, 600))
def test_a_fuse_never_exceeds_its_wire_and_is_the_smallest_that_carries_the_load(load, wire):
    chosen = fuse(continuous_a=load, ampacity_a=wire)
    fitting = [rating for rating in BLADE_RATINGS_A if rating * 0.8 >= load - 1e-9 and rating <= wire + 1e-9]
    assert chosen.rating_a == (min(fitting) if fitting else None)
    assert (chosen.findings[0].verdict == STOP) == (chosen.rating_a is None)


def test_a_load_no_blade_carries_is_a_stop():
    chosen = fuse(continuous_a=33, ampacity_a=200)
    assert (chosen.rating_a, chosen.colour, chosen.findings[0].verdict) == (None, None, STOP)


def test_a_peak_never_raises_the_rating():
    plain, peaking = fuse(continuous_a=8, ampacity_a=30), fuse(continuous_a=8, ampacity_a=30, peak_a=25)
    assert plain.rating_a == peaking.rating_a == 10
    assert peaking.findings[1].verdict == CHECK
    assert fuse(continuous_a=8, ampacity_a=30, peak_a=10).findings[1].verdict == FITS


def test_unknown_load_or_wire_is_unknown():
    for case in ({"continuous_a": None, "ampacity_a": 20}, {"continuous_a": 5, "ampacity_a": None}):
        chosen = fuse(**case)
        assert (chosen.rating_a, chosen.findings[0].verdict) == (None, UNKNOWN)


def test_no_colour_is_named_where_sources_differ():
    chosen = fuse(continuous_a=0.5, ampacity_a=20)
    assert (chosen.rating_a, chosen.colour, chosen.findings[-1].verdict) == (1.0, None, CHECK)


@pytest.mark.parametrize("case", [{"continuous_a": 0}, {"continuous_a": -1}, {"ampacity_a": 0}, {"peak_a": 4}])
def test_nonsense_is_refused(case):
    with pytest.raises(EngineeringError):
        fuse(**{"continuous_a": 5, "ampacity_a": 20, **case})


@pytest.mark.parametrize(
    ("distance", "sheathed", "verdict"),
    [
        (0.178, None, FITS), (0.178, False, FITS), (0.179, False, STOP), (0.179, None, UNKNOWN), (0.179, True, FITS),
        (1.016, "yes", FITS), (1.017, True, STOP), (1.017, None, STOP), (None, True, UNKNOWN), (0, None, FITS),
    ],
)  # fmt: skip
def test_the_fuse_sits_close_to_the_battery(distance, sheathed, verdict):
    assert fuse_position(distance, sheathed).verdict == verdict


@pytest.mark.parametrize(
    ("rating", "wires", "verdict"),
    [
        (15, [35, 20], FITS), (20, [35, 20], FITS), (25, [35, 20], STOP), (25, [None, 20], STOP),
        (15, [None, 20], UNKNOWN), (15, [], UNKNOWN), (None, [20], UNKNOWN),
    ],
)  # fmt: skip
def test_the_fuse_protects_the_thinnest_wire(rating, wires, verdict):
    assert fuse_protects(rating, wires).verdict == verdict


@given(st.floats(1, 100), st.lists(st.floats(1, 100), min_size=1, max_size=6))
def test_the_order_of_wires_does_not_matter(rating, wires):
    assert fuse_protects(rating, wires).verdict == fuse_protects(rating, sorted(wires)).verdict
    assert (fuse_protects(rating, wires).verdict == FITS) == all(rating <= wire + 1e-9 for wire in wires)
