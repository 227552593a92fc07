"""Fuses (F) against published rules and ratings."""

from builds.engineering.fuse import (
    BARE_WIRE_M,
    BLADE_COLOURS,
    BLADE_RATINGS_A,
    SHEATHED_WIRE_M,
    fuse,
    fuse_protects,
    smallest_blade,
)
from builds.engineering.limits import FUSE_SHARE
from tests.published.rows import DERIVED, MEMORY, REPRINT, SEEN, Row, checked

PLACE = "33 CFR 183.455 (b)"
SIZING = "notes on continuous load of fuses (80 %, the same as 125 %)"
BLADES = "ISO 8820-3"
COLOURS = "blade fuse colour notes"
NOTE_75 = "fuse glossary on a commercial page: 75 %, which is not our rule"

ROWS = [
    Row("F-01 bare", PLACE, SEEN, BARE_WIRE_M * 1000, 177.8, 1),
    Row("F-01 sheathed", PLACE, SEEN, SHEATHED_WIRE_M * 1000, 1016, 1),
    *(Row(f"F-08 {load}", SIZING, DERIVED, fuse(continuous_a=load, ampacity_a=40).rating_a, rating)
      for load, rating in ((8, 10), (12, 15), (16.5, 25))),
    Row("F-07", "notes on continuous load of fuses: 75 % in one, 80 % in others", REPRINT, FUSE_SHARE.value, 0.80),
    Row("F-09", NOTE_75, DERIVED, smallest_blade(12, share=0.75), 20),
    Row("F-10", "house rule", DERIVED, fuse(continuous_a=18, ampacity_a=20).rating_a, None),
    Row("F-11", BLADES, MEMORY, BLADE_RATINGS_A, (1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40)),
    *(Row(f"F-12 {rating}", COLOURS, REPRINT, BLADE_COLOURS[rating], colour)
      for rating, colour in ((2, "grey"), (3, "violet"), (7.5, "brown"), (10, "red"), (15, "blue"), (20, "yellow"),
                             (30, "green"))),
    # F-13: one page says black, another tan, so we name none.
    Row("F-13", COLOURS, REPRINT, BLADE_COLOURS[1.0], None),
]  # fmt: skip


@checked(ROWS)
def test_published_value(row):
    row.check()


def test_the_law_would_allow_half_as_much_again_and_we_do_not():
    """F-02, 33 CFR 183.455 (c)(1): 30 A for a wire of 20 A is legal below 50 V. Ours is the stricter rule of F-04."""
    assert fuse_protects(30, [20]).verdict == "stop"
    assert fuse_protects(20, [20]).verdict == "fits"
    assert fuse(continuous_a=18, ampacity_a=20).findings[0].verdict == "stop"
