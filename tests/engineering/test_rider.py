"""How heavy the rider may be: the rating less what was added, and unknown while a mass is."""

import pytest

from builds.engineering.finding import EngineeringError
from builds.engineering.load import Mass, load
from builds.engineering.rider import greatest_rider

ADDED = [Mass("seat", 2.0), Mass("mount", 1.5)]


def test_it_is_the_rating_less_what_was_added():
    assert greatest_rider(added=ADDED, rated_kg=25) == 21.5


def test_a_rider_of_that_mass_fits_to_the_gram():
    """The load calculation agrees: no margin is left, and none is short."""
    greatest = greatest_rider(added=ADDED, rated_kg=25)
    assert load(masses=[Mass("rider", greatest), *ADDED], rated_kg=25).margin_kg == pytest.approx(0, abs=1e-9)


def test_what_was_taken_off_gives_nothing_back():
    assert greatest_rider(added=[*ADDED, Mass("old seat", 3.0, removed=True)], rated_kg=25) == 21.5


def test_with_nothing_added_it_is_the_rating():
    assert greatest_rider(added=[], rated_kg=25) == 25


@pytest.mark.parametrize(
    ("added", "rated"), [([Mass("seat", None)], 25), (ADDED, None), ([*ADDED, Mass("tray", None)], 25)]
)
def test_while_a_mass_or_the_rating_is_unknown_so_is_it(added, rated):
    assert greatest_rider(added=added, rated_kg=rated) is None


@pytest.mark.parametrize("mass", [24.6, 25.0, 26.0])
def test_where_nothing_is_left_it_is_refused(mass):
    said = r"^What was added must weigh at least 0\.5 kg less than the rated load, 25 kg\.$"
    with pytest.raises(EngineeringError, match=said):
        greatest_rider(added=[Mass("seat", mass)], rated_kg=25)


def test_half_a_kilogram_left_is_a_limit():
    assert greatest_rider(added=[Mass("seat", 24.5)], rated_kg=25) == 0.5


@pytest.mark.parametrize("rated", [0, -1, float("nan"), 1001])
def test_a_rating_that_cannot_be_is_refused(rated):
    with pytest.raises(EngineeringError, match="Rated load"):
        greatest_rider(added=ADDED, rated_kg=rated)
