"""The proportion flags: they ask, they never refuse a body, and they say nothing about what was not measured."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builds.engineering.finding import CHECK, FITS, UNKNOWN, EngineeringError
from builds.engineering.proportions import proportion_band, proportion_flags, segment_length, segment_mass


def verdict(name, value, stature=1.10):
    (flag,) = proportion_flags(stature_m=stature, measures={name: value})
    return flag.verdict


@pytest.mark.parametrize(
    ("name", "value", "expected"),
    [
        ("lower_leg", 0.3135, FITS),
        ("lower_leg", 0.204, FITS),
        ("lower_leg", 0.203, CHECK),
        ("lower_leg", 0.423, FITS),
        ("lower_leg", 0.424, CHECK),
        ("seat_depth", 0.2695, FITS),
        ("seat_depth", 0.106, CHECK),
        ("reach", 0.484, FITS),
        ("reach", 0.653, FITS),
        ("reach", 0.654, CHECK),
        ("reach", 0.05, FITS),
        ("reach", 0.0, FITS),
    ],
)
def test_the_band_is_wide_around_the_adult_share(name, value, expected):
    assert verdict(name, value) == expected


def test_a_length_typed_in_inches_as_centimetres_is_flagged():
    """11 in of lower leg, kept as 11 cm."""
    assert verdict("lower_leg", 0.11) == CHECK


def test_without_a_stature_nothing_is_judged():
    (flag,) = proportion_flags(stature_m=None, measures={"reach": 0.4})
    assert (flag.verdict, flag.missing, flag.value) == (UNKNOWN, "stature", None)


def test_what_was_not_measured_is_left_out():
    assert proportion_flags(stature_m=1.1, measures={"reach": None}) == ()
    assert proportion_flags(stature_m=None, measures={}) == ()


def test_the_flag_names_the_measure_the_band_and_the_caution():
    (flag,) = proportion_flags(stature_m=1.10, measures={"seat_depth": 0.12})
    assert flag.name == "seat depth beside the stature"
    assert flag.limit == "0.18 to 0.36"
    assert "small children differ" in flag.formula
    assert dict(flag.inputs) == {"stature": "1.1 m", "measure": "0.12 m"}


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"stature_m": 0.39}, "Stature must be 0.4 m or more"),
        ({"stature_m": 2.31}, "Stature must be 2.3 m or less"),
        ({"measures": {"nose": 0.1}}, "Measure must be one of reach, lower_leg, seat_depth"),
        ({"measures": {"reach": -0.1}}, "Reach must be 0 m or more"),
        ({"measures": {"seat_depth": 2.4}}, "Seat depth must be 2.3 m or less"),
        ({"measures": {"reach": float("nan")}}, "Reach must be a finite number"),
    ],
)
def test_nonsense_is_refused(wrong, words):
    with pytest.raises(EngineeringError, match=words):
        proportion_flags(**{"stature_m": 1.1, "measures": {"reach": 0.4}, **wrong})


def test_an_unknown_segment_is_refused():
    for segment_of in (segment_length, segment_mass):
        with pytest.raises(EngineeringError, match="Segment must be one of"):
            segment_of("tail", 1.0)


@given(st.floats(0.4, 2.3), st.dictionaries(st.sampled_from(["reach", "lower_leg", "seat_depth"]), st.floats(0, 2.3)))
def test_it_never_stops(stature, measures):
    assert {flag.verdict for flag in proportion_flags(stature_m=stature, measures=measures)} <= {FITS, CHECK}


def test_the_band_is_the_one_that_flags():
    """Derived: 0.245 of 1.10 m is 0.2695 m, 35 % less and more; a reach has no least."""
    assert proportion_band(name="seat_depth", stature_m=1.10) == pytest.approx((0.175175, 0.363825))
    assert proportion_band(name="reach", stature_m=1.10)[0] == 0.0


@pytest.mark.parametrize(("name", "stature"), [("mass", 1.1), ("reach", 0.3), ("reach", float("nan"))])
def test_a_band_of_nonsense_is_refused(name, stature):
    with pytest.raises(EngineeringError):
        proportion_band(name=name, stature_m=stature)
