"""Body segments (AN): shares of stature and of mass, and what follows from them."""

from builds.engineering.proportions import (
    FORMULA,
    HEIGHT_SHARES,
    LENGTH_SHARES,
    MASS_SHARES,
    proportion_flags,
    segment_length,
    segment_mass,
)
from tests.published.rows import DERIVED, MEMORY, PRACTICE, REPRINT, SEEN, Row, checked

DRILLIS = "Drillis & Contini 1966 as given in Winter, read in a design note"
FIGURE = "Winter, figure 4.1"
WINTER = "handout adapted from Winter, 3rd edition, 2005"
LENGTHS = {"upper arm": 0.186, "forearm": 0.146, "thigh": 0.245, "shank": 0.246}
HEIGHTS = {"shoulder": 0.818, "hip": 0.530, "knee": 0.285}
ARM = {"hand": 0.006, "forearm": 0.016, "upper arm": 0.028, "whole arm": 0.050}
REST = {"thigh": 0.100, "lower leg": 0.0465, "foot": 0.0145, "head and neck": 0.081, "trunk": 0.497}
WHOLE = 2 * (MASS_SHARES["whole arm"] + MASS_SHARES["whole leg"]) + MASS_SHARES["head and neck"] + MASS_SHARES["trunk"]

ROWS = [
    *(Row(f"AN-01 {name}", DRILLIS, REPRINT, LENGTH_SHARES[name], share) for name, share in LENGTHS.items()),
    *(Row(f"AN-02 {name}", DRILLIS, REPRINT, HEIGHT_SHARES[name], share) for name, share in HEIGHTS.items()),
    Row("AN-03 hand", FIGURE, MEMORY, LENGTH_SHARES["hand"], 0.108),
    Row("AN-03 foot", FIGURE, MEMORY, LENGTH_SHARES["foot"], 0.152),
    Row("AN-04 upper arm", DRILLIS, DERIVED, segment_length("upper arm", 1.10), 0.2046, 1e-4),
    Row("AN-04 forearm", DRILLIS, DERIVED, segment_length("forearm", 1.10), 0.1606, 1e-4),
    Row("AN-04 to the wrist", DRILLIS, DERIVED,
        segment_length("upper arm", 1.10) + segment_length("forearm", 1.10), 0.3652, 1e-4),
    Row("AN-05", "no source", PRACTICE, "small children differ" in FORMULA, True),
    *(Row(f"AN-06 {name}", WINTER, SEEN, MASS_SHARES[name], share) for name, share in ARM.items()),
    *(Row(f"AN-07 {name}", WINTER, SEEN, MASS_SHARES[name], share) for name, share in REST.items()),
    Row("AN-08", WINTER, DERIVED, WHOLE, 1.0, 1e-9),
    Row("AN-09", WINTER, DERIVED, segment_mass("whole arm", 20), 1.0, 1e-12),
    Row("LMS-25", "CDC 2000 stature of a median boy of 60.5 months, 109.175 cm", DERIVED,
        segment_length("upper arm", 1.09175) * 100, 20.307, 0.01),
]  # fmt: skip


@checked(ROWS)
def test_published_value(row):
    row.check()


def test_the_parts_make_the_whole_arm_and_leg():
    """AN-06 and AN-07 against each other."""
    assert round(sum(MASS_SHARES[part] for part in ("hand", "forearm", "upper arm")), 6) == MASS_SHARES["whole arm"]
    assert round(sum(MASS_SHARES[part] for part in ("thigh", "lower leg", "foot")), 6) == MASS_SHARES["whole leg"]


def test_a_median_child_of_public_tables_is_not_flagged():
    """CDC stature file: 1.0918 m at 60.5 months, with the shares of AN-01 and AN-02."""
    stature = 1.091751
    measures = {"reach": 0.332 * stature, "lower_leg": 0.285 * stature, "seat_depth": 0.245 * stature}
    assert {flag.verdict for flag in proportion_flags(stature_m=stature, measures=measures)} == {"fits"}
