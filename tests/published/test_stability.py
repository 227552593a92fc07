"""Static stability (ST) against published sums and definitions."""

from math import atan, degrees

import pytest

from builds.engineering.limits import TIP_ANGLE
from builds.engineering.load import Mass
from builds.engineering.quantities import parse_quantity
from builds.engineering.stability import (
    balance,
    centre_of_mass,
    rear_axle_share,
    slope_deg,
    static_stability_factor,
    tip_angles,
    turn_tip_speed,
)
from tests.published.rows import DERIVED, SEEN, Row, checked

NHTSA = "NHTSA rollover ruling, chapter V: static stability factor"
TIP = "tip angle, arc tangent of half track over height"
FAA = "FAA AC 43.13-1B, figure 10-11"
VEHICLE = [
    Mass("unit", 16, (0.30, 0, 0.22)),
    Mass("rider", 18, (0.35, 0, 0.55)),
    Mass("battery", 5, (0.10, 0, 0.15)),
]
BALANCE = balance(layout="four", masses=VEHICLE, track_m=0.44, wheelbase_m=0.62, steepest_slope_deg=0)


def in_kg(pounds):
    return parse_quantity(f"{pounds} lb", "mass", name="Mass").value_si


def in_m(inches):
    return parse_quantity(f"{inches} in", "length", name="Arm").value_si


AIRCRAFT = [(1169, 10.6), (17, -49), (170, 16), (340, 48), (240, 22), (100, 75.5)]
AIRCRAFT_X = centre_of_mass([Mass(str(arm), in_kg(lb), (in_m(arm), 0, 1)) for lb, arm in AIRCRAFT])[0] / 0.0254


def sideways(track, height):
    return tip_angles("four", (0.3, 0, height), track, 0.6)["left"]


ROWS = [
    Row("ST-01", NHTSA, DERIVED, static_stability_factor(0.60, 0.50), 0.6, 1e-9),
    Row("ST-02", TIP, DERIVED, sideways(0.50, 0.45), 29.055, 0.01),
    Row("ST-03", TIP, DERIVED, sideways(0.60, 0.50), 30.964, 0.01),
    Row("ST-04", "v = sqrt(g R factor)", DERIVED, turn_tip_speed(1.5, 0.60), 2.971, 0.002),
    Row("ST-05 1:12", "definition", DERIVED, slope_deg(1, 12), 4.764, 0.001),
    Row("ST-05 1:20", "definition", DERIVED, slope_deg(1, 20), 2.862, 0.001),
    Row("ST-06", FAA, SEEN, AIRCRAFT_X, 21.33, 0.01),
    Row("ST-07 x", "definition", DERIVED, BALANCE.cg_x, 0.29744, 1e-4),
    Row("ST-07 y", "definition", DERIVED, BALANCE.cg_y, 0.0, 1e-12),
    Row("ST-07 z", "definition", DERIVED, BALANCE.cg_z, 0.36333, 1e-4),
    Row("ST-08 left", TIP, DERIVED, BALANCE.left_deg, 31.20, 0.02),
    Row("ST-08 right", TIP, DERIVED, BALANCE.right_deg, 31.20, 0.02),
    Row("ST-08 rear", TIP, DERIVED, BALANCE.rear_deg, 39.31, 0.02),
    Row("ST-08 front", TIP, DERIVED, BALANCE.front_deg, 41.60, 0.02),
    Row("ST-09", "definition", DERIVED, rear_axle_share(0.29744, 0.62), 0.5203, 1e-4),
]


@checked(ROWS)
def test_published_value(row):
    row.check()


def test_tip_angle_is_the_arc_tangent_of_the_stability_factor():
    """ST-01 and ST-03 are one relation."""
    assert sideways(0.60, 0.50) == pytest.approx(degrees(atan(static_stability_factor(0.60, 0.50))))


def test_the_smallest_tip_angle_is_no_less_than_the_steepest_published_test_slope():
    """T-09, restatement of a ride-on stability test on a commercial page: 10 degrees, some tests 15."""
    assert TIP_ANGLE.value >= 15
