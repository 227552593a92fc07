"""Within the stated margin of a limit a finding asks for a look; past the limit it stops."""

import pytest

from builds.engineering.finding import CHECK, COMMON_PRACTICE, FITS, STOP
from builds.engineering.margins import CLEARED_SPEED, MARGINS, TIP, judged
from builds.engineering.speed import ceiling_against_clearance

LIMIT = 20.0


@pytest.mark.parametrize("margin", MARGINS, ids=lambda one: one.why)
@pytest.mark.parametrize("at_least", [False, True])
def test_outside_the_margin_fits_inside_asks_and_past_the_limit_stops(margin, at_least):
    way = 1 if at_least else -1
    room = margin.of(LIMIT)
    assert room > 0
    assert judged(LIMIT + way * room * 1.01, LIMIT, margin, at_least) == FITS
    assert judged(LIMIT + way * room * 0.99, LIMIT, margin, at_least) == CHECK
    assert judged(LIMIT, LIMIT, margin, at_least) == CHECK
    assert judged(LIMIT - way * 0.001, LIMIT, margin, at_least) == STOP


@pytest.mark.parametrize("margin", MARGINS, ids=lambda one: one.why)
def test_each_margin_says_how_much_why_and_on_whose_word(margin):
    assert margin.source == COMMON_PRACTICE
    assert ("%" in margin.words) is (margin.share is not None)
    assert margin.why in margin.beside("a rule") and margin.beside("a rule").startswith("a rule; within ")


def test_a_hair_of_rounding_is_not_past_the_limit():
    assert judged(0.1 + 0.2, 0.3, None) == FITS
    assert judged(0.3001, 0.3, None) == STOP


def test_a_fixed_amount_does_not_grow_with_the_limit():
    assert TIP.of(15) == TIP.of(40) == 2.0


def test_a_run_timed_close_to_the_clearance_asks_and_a_ceiling_set_to_it_does_not():
    """A ceiling is set and has no scatter; a run is timed by hand."""
    run, ceiling, *_ = ceiling_against_clearance(
        fastest_m_s=0.98, ceiling_m_s=1.0, clearance_m_s=1.0, walking_pace_m_s=None
    )
    assert (run.verdict, ceiling.verdict) == (CHECK, FITS)
    assert CLEARED_SPEED.words in run.formula and "within" not in ceiling.formula
