"""Load and balance: every mass counts, in any order, and an unknown one is not nothing."""

from math import cos, radians, sin
from statistics import fmean

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builds.engineering.finding import CHECK, FITS, STOP, UNKNOWN, EngineeringError, worst
from builds.engineering.load import Mass, load, positive_total
from builds.engineering.stability import LAYOUTS, balance, centre_of_mass

VEHICLE = [
    Mass("unit", 16, (0.30, 0, 0.22)),
    Mass("rider", 18, (0.35, 0.02, 0.55)),
    Mass("seat", 5, (0.10, 0, 0.15)),
]
WHEELS = {"layout": "four", "track_m": 0.44, "wheelbase_m": 0.62, "steepest_slope_deg": 0}

coordinate = st.floats(-1, 1)
placed = st.tuples(st.floats(0.1, 100), st.tuples(coordinate, coordinate, st.floats(0.05, 1.5)))
several = st.lists(placed, min_size=2, max_size=8)


def named(pairs):
    return [Mass(f"m{at}", mass, place) for at, (mass, place) in enumerate(pairs)]


def test_load_against_the_rating():
    masses = [Mass("rider", 16), Mass("seat", 9)]
    exact, over = load(masses=masses, rated_kg=25), load(masses=masses, rated_kg=24.9)
    assert (exact.total_kg, exact.margin_kg, exact.fraction, exact.findings[0].verdict) == (25, 0, 1, CHECK)
    assert over.findings[0].verdict == STOP
    assert load(masses=masses, rated_kg=26.4).findings[0].verdict == FITS  # 5.3 % away


def test_the_margin_is_no_finer_than_what_was_weighed_and_never_flatters():
    """Derived: a sum is no finer than its coarsest part. Small parts weighed to the gram do not make it finer."""
    seat = Mass("seat", 0.351)
    for rider, left in ((16.4, 8.2), (16, 8.0), (16.42, 8.2)):
        found = load(masses=[Mass("rider", rider), seat], rated_kg=25)
        assert found.margin_kg == pytest.approx(25 - rider - 0.351)
        assert found.findings[1].value == left
    over = load(masses=[Mass("rider", 25.0), seat], rated_kg=25)
    assert (over.findings[1].value, over.findings[1].verdict) == (-1.0, STOP)
    assert len(load(masses=[Mass("rider", None)], rated_kg=25).findings) == 1


def test_an_unknown_mass_or_rating_is_unknown_unless_the_rest_is_too_heavy():
    masses = [Mass("rider", 16), Mass("arm", None)]
    result = load(masses=masses, rated_kg=25)
    assert (result.total_kg, result.margin_kg, result.fraction) == (None, None, None)
    assert (result.findings[0].verdict, result.findings[0].missing) == (UNKNOWN, "mass of arm")
    assert load(masses=masses, rated_kg=15).findings[0].verdict == STOP
    unrated = load(masses=[Mass("rider", 16)], rated_kg=None)
    assert (unrated.total_kg, unrated.margin_kg, unrated.findings[0].verdict) == (16, None, UNKNOWN)


def test_what_was_taken_off_counts_against():
    masses = [Mass("rider", 16), Mass("old seat", 2, removed=True)]
    assert load(masses=masses, rated_kg=25).total_kg == 14
    # Some part of unknown mass came off, so the rest being too heavy proves nothing.
    off = [Mass("rider", 16), Mass("old seat", None, removed=True)]
    assert load(masses=off, rated_kg=15).findings[0].verdict == UNKNOWN


@pytest.mark.parametrize(
    "masses",
    [
        [], [Mass("a", 0)], [Mass("a", 1), Mass("a", 2)], [Mass("a", 1), Mass("b", 2, removed=True)],
    ],
)  # fmt: skip
def test_masses_that_cannot_be_are_refused(masses):
    with pytest.raises(EngineeringError):
        load(masses=masses, rated_kg=25)


@pytest.mark.parametrize("made", [("a", -1), ("a", float("nan")), ("a", 1, (0, 0)), ("a", 1, (0, 0, float("inf")))])
def test_a_mass_that_cannot_be_is_refused(made):
    with pytest.raises(EngineeringError):
        Mass(*made)


@given(several)
def test_the_centre_agrees_with_a_weighted_mean(pairs):
    weights = [mass for mass, _ in pairs]
    for axis, found in enumerate(centre_of_mass(named(pairs))):
        assert found == pytest.approx(fmean([place[axis] for _, place in pairs], weights), abs=1e-9)


@given(several, st.randoms())
def test_the_order_of_masses_does_not_matter(pairs, random):
    masses = named(pairs)
    shuffled = random.sample(masses, len(masses))
    assert centre_of_mass(masses) == pytest.approx(centre_of_mass(shuffled), abs=1e-9)


@given(several, placed)
def test_the_centre_moves_towards_an_added_mass(pairs, added):
    before = centre_of_mass(named(pairs))
    after = centre_of_mass(named([*pairs, added]))
    for axis in range(3):
        toward = added[1][axis] - before[axis]
        assert (after[axis] - before[axis]) * toward >= -1e-12
        assert abs(after[axis] - before[axis]) <= abs(toward) + 1e-12


def tips_at(layout, centre, track, wheelbase, way):
    """The slope where the plumb line leaves the wheels, found by tilting step by step: knows no arc tangent.

    The slope falls away square to the tipping line.
    """
    x, y, z = centre
    half = track / 2
    corners = {
        "four": [(0, half), (wheelbase, half), (wheelbase, -half), (0, -half)],
        "one-front": [(0, half), (wheelbase, 0), (0, -half)],
        "one-rear": [(0, 0), (wheelbase, half), (wheelbase, -half)],
    }[layout]
    edges = {
        "four": {"left": (0, 1), "right": (2, 3), "front": (1, 2), "rear": (3, 0)},
        "one-front": {"left": (0, 1), "right": (1, 2), "rear": (2, 0)},
        "one-rear": {"left": (0, 1), "right": (2, 0), "front": (1, 2)},
    }[layout]
    (ax, ay), (bx, by) = (corners[at] for at in edges[way])
    length = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
    inside = ((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / length
    inward = -inside  # corners run clockwise seen from above, so the inside lies to the right of an edge
    for hundredth in range(-9000, 9000):
        slope = radians(hundredth / 100)
        if inward * cos(slope) - z * sin(slope) <= 0:
            return hundredth / 100
    return 90.0


@pytest.mark.parametrize("layout", LAYOUTS)
@pytest.mark.parametrize("centre", [(0.3, 0.0, 0.36), (0.25, 0.05, 0.4), (0.5, -0.1, 0.2)])
def test_tip_slopes_agree_with_tilting_step_by_step(layout, centre):
    mass = [Mass("all", 39, centre)]
    found = balance(**{**WHEELS, "layout": layout}, masses=mass)
    ways = {"four": "left right front rear", "one-front": "left right rear", "one-rear": "left right front"}[layout]
    for way in ways.split():
        assert getattr(found, f"{way}_deg") == pytest.approx(tips_at(layout, centre, 0.44, 0.62, way), abs=0.011)


def test_more_mass_on_the_left_tips_left_sooner():
    found = balance(**WHEELS, masses=VEHICLE)
    assert found.cg_y > 0
    assert found.left_deg < found.right_deg


def test_three_wheels_tip_sideways_sooner_than_four():
    four = balance(**WHEELS, masses=VEHICLE)
    for layout in ("one-front", "one-rear"):
        assert balance(**{**WHEELS, "layout": layout}, masses=VEHICLE).left_deg < four.left_deg


def test_a_centre_outside_the_wheels_tips_on_the_flat():
    found = balance(**WHEELS, masses=[Mass("all", 10, (-0.1, 0, 0.3))])
    assert found.rear_deg < 0
    assert worst(found.findings) == STOP


def test_ten_degrees_over_the_steepest_slope():
    flat = balance(**WHEELS, masses=VEHICLE)
    least = min(flat.left_deg, flat.right_deg, flat.front_deg, flat.rear_deg)
    for slope, verdict in ((0, FITS), (least - 12.01, FITS), (least - 10.01, CHECK), (least - 9.99, STOP)):
        assert worst(balance(**{**WHEELS, "steepest_slope_deg": slope}, masses=VEHICLE).findings) == verdict


def test_below_fifteen_degrees_is_a_stop_whatever_the_slope():
    low = balance(**{**WHEELS, "track_m": 0.15, "steepest_slope_deg": None}, masses=VEHICLE)
    assert low.findings[0].verdict == STOP


def test_what_is_not_known_stays_unknown():
    assert worst(balance(**{**WHEELS, "steepest_slope_deg": None}, masses=VEHICLE).findings) == UNKNOWN
    for unknown in ({"track_m": None}, {"wheelbase_m": None}, {"layout": None}):
        found = balance(**{**WHEELS, **unknown}, masses=VEHICLE)
        assert (found.left_deg, worst(found.findings)) == (None, UNKNOWN)
        assert found.cg_x is not None
    found = balance(**WHEELS, masses=[*VEHICLE, Mass("arm", 1.2)])
    assert (found.cg_x, found.left_deg) == (None, None)
    assert found.findings[0].missing == "place of arm"


def test_nonsense_is_refused():
    for wrong in ({"layout": "six"}, {"track_m": 0}, {"wheelbase_m": 60}, {"steepest_slope_deg": 60}):
        with pytest.raises(EngineeringError):
            balance(**{**WHEELS, **wrong}, masses=VEHICLE)


def test_more_than_anything_weighs_is_refused():
    heap = [Mass(f"block {at}", 1000) for at in range(201)]
    with pytest.raises(EngineeringError, match="Total mass must be 200000 kg or less, not 201000 kg."):
        positive_total(heap)
