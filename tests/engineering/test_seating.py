"""Supports by level of sitting (common practice)."""

import pytest

from builds.engineering.finding import CHECK, FITS, STOP, UNKNOWN, EngineeringError
from builds.engineering.seating import chest_strap, suggested_supports, supports_against_level


@pytest.mark.parametrize(
    ("level", "supports", "verdict"),
    [
        (1, ("head", "trunk", "pelvis", "belt"), CHECK),
        (2, ("head", "trunk", "pelvis"), FITS),
        (3, ("trunk", "pelvis"), FITS),
        (4, ("pelvis",), FITS),
        (5, ("belt",), FITS),
        (8, ("belt",), FITS),
        (None, None, UNKNOWN),
    ],
)
def test_supports_by_level(level, supports, verdict):
    suggested = suggested_supports(level)
    assert (suggested.supports, suggested.findings[0].verdict) == (supports, verdict)


def test_a_clinician_decides_where_sitting_is_impossible_or_unknown():
    assert [suggested_supports(level).clinician_decides for level in (1, 2, None)] == [True, False, True]


@pytest.mark.parametrize("level", [0, 9, 2.5, "3"])
def test_a_level_that_is_not_on_the_scale_is_refused(level):
    with pytest.raises(EngineeringError, match="Level of sitting"):
        suggested_supports(level)


@pytest.mark.parametrize(
    ("level", "fitted", "verdict"),
    [
        (3, ["trunk", "pelvis"], FITS),
        (3, ["trunk"], STOP),
        (3, [], STOP),
        (2, ["head", "trunk", "pelvis", "belt"], FITS),
        (4, ["belt"], STOP),
        (6, ["pelvis"], FITS),
        (1, ["head", "trunk", "pelvis", "belt"], CHECK),
        (None, ["belt"], UNKNOWN),
        (5, None, UNKNOWN),
    ],
)
def test_fitted_supports_against_the_level(level, fitted, verdict):
    assert supports_against_level(level, fitted).verdict == verdict


@pytest.mark.parametrize(
    ("fitted", "verdict"), [(["trunk"], STOP), (["trunk", "belt"], FITS), (["belt"], FITS), ([], FITS), (None, UNKNOWN)]
)
def test_no_chest_strap_without_pelvic_support(fitted, verdict):
    assert chest_strap(fitted).verdict == verdict


def test_a_support_nobody_knows_is_refused():
    with pytest.raises(EngineeringError, match="Support"):
        supports_against_level(3, ["pillow"])
