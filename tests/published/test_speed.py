"""Speed and stopping (D), reach heights in units (AN, M, SW) against published values."""

import pytest

from builds.engineering.quantities import parse_quantity
from builds.engineering.speed import (
    SLOWEST_ADULT_WALK_M_S,
    braking_distance,
    drive_speed,
    kinetic_energy,
    timed_runs,
    wheel_speed,
)
from tests.published.rows import DERIVED, REPRINT, SEEN, Row, checked

TEXTBOOK = "open textbook example, restated; the sum was cut off"
SOLUTION = "solution to question 31 of chapter 2, Physics: Principles with Applications, 7th ed."
PROBLEM = "auto stopping distance problem of a university physics site"


def read(text, dimension):
    return parse_quantity(text, dimension, name="Value").value_si


def drive(diameter, rpm, deceleration=1.0, reaction=0.0):
    return drive_speed(
        wheel_diameter_m=diameter, wheel_rpm=rpm, command=1, deceleration_m_s2=deceleration, reaction_s=reaction
    )


def stopping(speed, deceleration, reaction):
    """Stopping way [m] through the calculator: a wheel that turns once a second goes its circumference."""
    from math import pi

    return drive(speed / pi, 60, deceleration, reaction).stopping_m


ROWS = [
    Row("D-08 m/s", "definition", DERIVED, drive(0.25, 120).speed_m_s, 1.5708, 1e-3),
    Row("D-08 km/h", "definition", DERIVED, drive(0.25, 120).speed_km_h, 5.6549, 1e-3),
    Row("D-09 m/s", "definition", DERIVED, drive(0.2, 100).speed_m_s, 1.0472, 1e-3),
    Row("D-09 km/h", "definition", DERIVED, drive(0.2, 100).speed_km_h, 3.7699, 1e-3),
    Row("D-09 mph", "definition", DERIVED, wheel_speed(0.2, 100) / read("1 mph", "speed"), 2.3425, 1e-3),
    Row("D-10", "definition", DERIVED, wheel_speed(0.25, 12000 / 100), 1.5708, 1e-3),
    Row("D-11 braking", TEXTBOOK, SEEN, braking_distance(30.0, 7.0), 64.29, 0.1),
    Row("D-11 together", TEXTBOOK, DERIVED, braking_distance(30.0, 7.0) + 30.0 * 0.5, 79.3, 0.1),
    Row("D-12", SOLUTION, SEEN, braking_distance(95 / 3.6, 3.0) + 95 / 3.6 * 0.40, 126.63, 0.05),
    Row("D-13", PROBLEM, DERIVED, braking_distance(24.6, 7.8), 38.8, 0.1),
    Row("D-14", "definition", DERIVED, stopping(5 / 3.6, 1.5, 0), 0.643, 0.002),
    Row("D-15", "definition", DERIVED, stopping(4 / 3.6, 1.0, 0.5), 1.173, 0.002),
    Row("D-16 55 kg", "definition", DERIVED, kinetic_energy(55, 5 / 3.6), 53.05, 0.01),
    Row("D-16 40 kg", "definition", DERIVED, kinetic_energy(40, 4 / 3.6), 24.69, 0.01),
    Row("D-19", "Bohannon 1997, abstract: women in their 70s", SEEN, SLOWEST_ADULT_WALK_M_S, 1.272),
    Row("D-20 m/s", "definition", DERIVED, timed_runs(distance_m=3, times_s=[3, 3, 3]).speed_km_h, 3.6, 1e-12),
    Row("D-20 mph", "definition", DERIVED, read("1 mph", "speed") * 3.6, 1.609344, 1e-12),
    Row("M-08 in", "definition", DERIVED, 1 / read("1 lbf*in", "moment"), 8.851, 1e-3),
    Row("M-08 ft", "definition", DERIVED, 1 / read("1 lbf*ft", "moment"), 0.7376, 1e-3),
    Row("SW-03", "definition", DERIVED, read("1/8 in", "length") * 1000, 3.175, 1e-12),
    Row("AN-10 in mm", "2010 ADA Standards, advisory 308.1, 36 in", REPRINT, read("36 in", "length") * 1000, 915, 1),
]


@checked(ROWS)
def test_published_value(row):
    row.check()


def test_every_group_mean_of_adults_walks_faster_than_the_pace_we_compare_with():
    """D-18, Bohannon and Andrews 2011, reprint: 1.34 to 1.43 m/s; D-19: up to 1.462 m/s."""
    assert all(SLOWEST_ADULT_WALK_M_S <= pace for pace in (1.36, 1.34, 1.43, 1.34, 1.462))


def test_energy_through_the_calculator():
    """D-16."""
    from math import pi

    found = drive_speed(
        wheel_diameter_m=5 / 3.6 / pi, wheel_rpm=60, command=1, deceleration_m_s2=1, reaction_s=0, mass_kg=55
    )
    assert found.energy_j == pytest.approx(53.05, abs=0.01)
