"""Ampacity below 50 V and bundling (A) against the law's table."""

import pytest

from builds.engineering import smallest_wire
from builds.engineering.ampacity import SOURCE, ampacity, bundle_factor, table_current
from builds.engineering.copper import resistance_per_m
from builds.engineering.quantities import parse_gauge
from builds.engineering.wiring import wire_run
from tests.published.rows import REPRINT, SEEN, Row, checked

TABLE_5 = "33 CFR 183.425, Table 5"
NOTE_2 = "33 CFR 183.425, Table 5 note 2, from a reprint of the Coast Guard compliance guideline"
COLUMNS = (60, 75, 80, 90, 105)
PUBLISHED = [
    ("A-01", 18, (10, 10, 15, 20, 20)),
    ("A-02", 16, (15, 15, 20, 25, 25)),
    ("A-03", 14, (20, 20, 25, 30, 35)),
    ("A-04", 10, (40, 40, 50, 55, 60)),
    ("A-05", 8, (55, 65, 70, 70, 80)),
    ("A-06", 6, (80, 95, 100, 100, 120)),
]
# The other rows and the columns of 125 and 200 °C, read in a reprint of the regulation (federal.elaws.us).
REST_OF_TABLE = [
    ("12 AWG", (25, 25, 35, 40, 45, 50, 55)),
    ("4 AWG", (105, 125, 130, 135, 160, 170, 180)),
    ("3 AWG", (120, 145, 150, 155, 180, 195, 210)),
    ("2 AWG", (140, 170, 175, 180, 210, 225, 240)),
    ("1 AWG", (165, 195, 210, 210, 245, 265, 280)),
    ("1/0 AWG", (195, 230, 245, 245, 285, 305, 325)),
    ("2/0 AWG", (225, 265, 285, 285, 330, 355, 370)),
    ("3/0 AWG", (260, 310, 330, 330, 385, 410, 430)),
    ("4/0 AWG", (300, 360, 385, 385, 445, 475, 510)),
]


def table_rows():
    for key, awg, row in PUBLISHED:
        gauge = parse_gauge(f"{awg} AWG")
        for insulation, amperes in zip(COLUMNS, row, strict=True):
            yield Row(f"{key} {insulation}", TABLE_5, SEEN, table_current(gauge, insulation), amperes)


ROWS = [
    *table_rows(),
    *(Row(f"A-09 {n}", NOTE_2, REPRINT, bundle_factor(n), factor)
      for n, factor in ((1, 1.0), (2, 1.0), (3, 0.70), (4, 0.60), (6, 0.60), (7, 0.50), (24, 0.50), (25, 0.40))),
    Row("A-13 alone", "33 CFR 183.425 (e)", SEEN, smallest_wire.ALONE_AWG, 16),
    Row("A-13 in a sheath", "33 CFR 183.425 (d)", SEEN, smallest_wire.IN_SHEATH_AWG, 18),
    Row("A-11", NOTE_2, REPRINT, ampacity(parse_gauge("14 AWG"), 105, 3), 24.5, 0.05),
    Row("A-12 alone", NOTE_2, REPRINT, ampacity(parse_gauge("12 AWG"), 105, 1), 45),
    Row("A-12", NOTE_2, REPRINT, ampacity(parse_gauge("12 AWG"), 105, 5), 27, 0.05),
]  # fmt: skip


@checked(ROWS)
def test_published_value(row):
    row.check()


@pytest.mark.parametrize(("gauge", "row"), REST_OF_TABLE)
def test_the_rest_of_table_5(gauge, row):
    for insulation, amperes in zip((60, 75, 80, 90, 105, 125, 200), row, strict=True):
        assert table_current(parse_gauge(gauge), insulation) == amperes


@pytest.mark.parametrize(
    ("gauge", "at_125", "at_200"), [(18, 25, 25), (16, 30, 35), (14, 40, 45), (10, 70, 70), (8, 90, 100), (6, 125, 135)]
)
def test_the_hot_columns_of_table_5(gauge, at_125, at_200):
    wire = parse_gauge(f"{gauge} AWG")
    assert (table_current(wire, 125), table_current(wire, 200)) == (at_125, at_200)


def test_the_aircraft_table_is_never_above_ours():
    """A-16, FAA AC 43.13-1B table 11-9: wires in bundles at 70 °C, so a lower bound."""
    for awg, amperes in ((18, 6), (16, 7), (14, 10)):
        assert amperes < ampacity(parse_gauge(f"{awg} AWG"), 105, 25)


def test_the_bundling_factor_is_used_below_the_volts_for_which_the_law_asks_for_it():
    """A-10, 33 CFR 183.435: from 50 V on, three or more loaded conductors. Below, it is our stricter choice."""
    run = wire_run(
        gauge=parse_gauge("14 AWG"), length_m=1, current_a=5, supply_v=12, conductor_c=20, insulation_c=105, bundle=3,
        role="power",
    )  # fmt: skip
    assert run.ampacity_a == pytest.approx(24.5)
    assert "used below 50 V too" in run.findings[1].source


def test_the_table_is_for_thirty_degrees_and_says_so():
    """A-07, reprint of the Coast Guard compliance guideline."""
    assert "30 \u00b0C" in SOURCE


@pytest.mark.parametrize(
    ("awg", "most"), [(20, 9.88), (18, 6.23), (16, 4.81), (14, 3.06), (12, 2.02), (10, 1.26)]
)
def test_tin_plated_aircraft_wire_may_resist_more_than_nominal_copper(awg, most):
    """A-18, FAA AC 43.13-1B table 11-9, maximum in ohm per 1000 ft. 20 and 18 AWG are thicker than AWG."""
    nominal = resistance_per_m(parse_gauge(f"{awg} AWG"), 20) * 304.8
    assert (nominal < most) is (awg not in (18, 20))
    assert nominal == pytest.approx(most, rel=0.30)
