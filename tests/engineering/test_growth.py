"""The growth outlook: what is unknown, what is refused, and that it never flatters."""

from datetime import date, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builds.engineering.finding import CHECK, FITS, STOP, UNKNOWN, EngineeringError
from builds.engineering.growth import DAYS_A_MONTH, growth, weight_along
from builds.engineering.growth_table import Lms, lms_at

BORN = date(2020, 1, 1)
ON = date(2025, 1, 15)
KNOWN = {"sex": "male", "birth_date": BORN, "weight_kg": 18.5, "on": ON, "limit_kg": 25.0}


def outlook(**changed):
    return growth(**{**KNOWN, **changed})


def verdicts(found):
    return [finding.verdict for finding in found.findings]


def test_the_day_is_the_first_on_which_the_curve_reaches_the_limit():
    found = outlook()
    days = (found.outgrown_on - BORN).days
    assert weight_along("male", days / DAYS_A_MONTH, found.z) >= 25.0
    assert weight_along("male", (days - 1) / DAYS_A_MONTH, found.z) < 25.0
    assert found.outgrown_on == date(2027, 10, 3)


def test_a_median_child_reaches_the_printed_median_when_the_table_says_so():
    """A boy at the median of 60.5 months reaches 25.75256528 kg, the median of 96.5 months, at 96.5 months."""
    on = BORN + timedelta(days=round(60.5 * DAYS_A_MONTH))
    found = outlook(weight_kg=18.48592413, on=on, limit_kg=25.75256528)
    months = (found.outgrown_on - BORN).days / DAYS_A_MONTH
    assert months == pytest.approx(96.5, abs=0.1)


def test_one_centile_line_up_is_earlier():
    """A child on the median who climbs to the 75th centile line."""
    found = outlook()
    assert ON < found.outgrown_early_on < found.outgrown_on
    days = (found.outgrown_early_on - BORN).days
    assert weight_along("male", days / DAYS_A_MONTH, found.z + 0.67449) == pytest.approx(25.0, abs=0.01)


def test_the_age_is_days_over_the_mean_month():
    assert outlook().age_months == 1841 / 30.4375


@pytest.mark.parametrize(
    ("on", "known"),
    [
        (BORN + timedelta(days=730), False),
        (BORN + timedelta(days=731), True),
        (BORN + timedelta(days=7305), True),
        (BORN + timedelta(days=7306), False),
        (BORN, False),
    ],
)
def test_outside_two_to_twenty_years_only_the_age_is_known(on, known):
    found = outlook(on=on, limit_kg=90)
    assert found.age_months == (on - BORN).days / 30.4375
    assert (found.z is None, found.centile is None) == (not known, not known)
    if not known:
        assert (found.outgrown_on, found.outgrown_early_on) == (None, None)
        assert verdicts(found) == [UNKNOWN, UNKNOWN]
        assert "24 to 240 months" in found.findings[0].missing


@pytest.mark.parametrize("name", ["sex", "birth_date", "weight_kg", "on"])
def test_what_is_unknown_leaves_everything_unknown_and_is_named(name):
    found = outlook(**{name: None})
    assert (found.z, found.centile, found.outgrown_on) == (None, None, None)
    assert verdicts(found) == [UNKNOWN, UNKNOWN]
    words = {"sex": "sex", "birth_date": "birth date", "weight_kg": "weight", "on": "day of weighing"}
    assert all(finding.missing == words[name] for finding in found.findings)


def test_a_sex_recorded_as_unknown_is_unknown():
    assert outlook(sex="unknown").findings[0].missing == "sex"


def test_without_a_limit_the_centile_is_still_known():
    found = outlook(limit_kg=None)
    assert found.centile == outlook().centile
    assert verdicts(found) == [FITS, UNKNOWN]
    assert (found.outgrown_on, found.findings[1].missing) == (None, "limit")


def test_too_heavy_already_is_stop_on_the_day_of_weighing():
    found = outlook(limit_kg=18.4)
    assert (found.outgrown_on, found.outgrown_early_on, verdicts(found)[1]) == (ON, ON, STOP)


def test_too_heavy_already_needs_no_table():
    found = outlook(birth_date=None, limit_kg=18.4)
    assert (found.outgrown_on, verdicts(found)) == (None, [UNKNOWN, STOP])


def test_just_at_the_limit_is_no_stop_but_asks():
    found = outlook(limit_kg=18.5)
    assert (found.outgrown_on, verdicts(found)[1]) == (ON, CHECK)


def test_a_limit_beyond_the_curve_is_never_and_says_so():
    found = outlook(limit_kg=200)
    assert (found.outgrown_on, verdicts(found)[1]) == (None, FITS)
    assert found.findings[1].value == "not by the age of 20"


def test_it_asks_half_a_year_before_a_climbing_child_outgrows_it():
    """Whichever limit puts the earlier date 183 days ahead still asks; a day later no more."""
    first = outlook().outgrown_early_on
    at_the_edge = outlook(on=ON)
    assert verdicts(at_the_edge)[1] == FITS
    limit = weight_along("male", ((ON - BORN).days + 183) / DAYS_A_MONTH, outlook().z + 0.6744897501960817)
    later = weight_along("male", ((ON - BORN).days + 184) / DAYS_A_MONTH, outlook().z + 0.6744897501960817)
    assert verdicts(outlook(limit_kg=limit))[1] == CHECK
    assert verdicts(outlook(limit_kg=later))[1] == FITS
    assert outlook(limit_kg=limit).outgrown_early_on < first


@pytest.mark.parametrize(("weight", "verdict"), [(9.0, CHECK), (18.5, FITS), (40.0, CHECK)])
def test_a_weight_beyond_the_drawn_centiles_asks_for_a_second_look(weight, verdict):
    assert verdicts(outlook(weight_kg=weight, limit_kg=100))[0] == verdict


def test_the_birth_date_is_not_in_what_builders_may_read():
    told = str([finding.as_dict() for finding in outlook().findings])
    assert "60 months" in told
    assert "2020" not in told
    assert "60.48" not in told


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"on": date(2019, 12, 31)}, "Day of weighing must be the birth date 2020-01-01 or later"),
        ({"birth_date": date(1899, 12, 31)}, "Birth date must be from 1900-01-01"),
        ({"on": date(2200, 1, 1)}, "to 2199-12-31"),
        ({"birth_date": date(1900, 1, 1), "on": date(2199, 1, 1)}, "130 years"),
        ({"on": datetime(2025, 1, 15, 12)}, "Day of weighing must be a date like"),
        ({"birth_date": "2020-01-01"}, "Birth date must be a date like"),
        ({"sex": "boy"}, "Sex must be one of male, female"),
        ({"weight_kg": 0}, "Weight must be more than 0 kg"),
        ({"weight_kg": 501}, "Weight must be 500 kg or less"),
        ({"limit_kg": 0}, "Limit must be more than 0 kg"),
        ({"limit_kg": 1001}, "Limit must be 1000 kg or less"),
        ({"weight_kg": float("nan")}, "Weight must be a finite number"),
    ],
)
def test_nonsense_is_refused(wrong, words):
    with pytest.raises(EngineeringError, match=words):
        outlook(**wrong)


def test_a_curve_too_far_out_to_have_a_weight_counts_as_beyond_any_limit():
    assert Lms(-2, 15.0, 0.2).weight_at(3) == float("inf")
    assert Lms(2, 15.0, 0.2).weight_at(-3) == 0.0


def test_between_rows_the_table_is_a_straight_line():
    low, middle, high = lms_at("female", 48.5), lms_at("female", 48.75), lms_at("female", 49.5)
    for a, b, c in zip(low, middle, high, strict=True):
        assert b == pytest.approx(0.75 * a + 0.25 * c)


def test_the_first_and_last_rows_of_the_table_lie_half_a_month_apart():
    low, middle, high = lms_at("male", 24), lms_at("male", 24.125), lms_at("male", 24.5)
    for a, b, c in zip(low, middle, high, strict=True):
        assert b == pytest.approx(0.75 * a + 0.25 * c)


WEIGHTS = st.floats(8, 60)
LIMITS = st.floats(8, 120)


@settings(max_examples=30, deadline=None)
@given(st.sampled_from(["male", "female"]), st.integers(731, 7300), WEIGHTS, LIMITS, LIMITS)
def test_it_is_never_outgrown_earlier_when_the_limit_rises(sex, days, weight, one, other):
    never = date.max
    low, high = (
        growth(sex=sex, birth_date=BORN, weight_kg=weight, on=BORN + timedelta(days=days), limit_kg=limit)
        for limit in sorted((one, other))
    )
    assert (low.outgrown_on or never) <= (high.outgrown_on or never)
    assert (low.outgrown_early_on or never) <= (high.outgrown_early_on or never)


@settings(max_examples=30, deadline=None)
@given(st.sampled_from(["male", "female"]), st.integers(731, 7300), WEIGHTS, WEIGHTS)
def test_a_heavier_child_outgrows_it_no_later(sex, days, one, other):
    never = date.max
    light, heavy = (
        growth(sex=sex, birth_date=BORN, weight_kg=weight, on=BORN + timedelta(days=days), limit_kg=50)
        for weight in sorted((one, other))
    )
    assert (heavy.outgrown_on or never) <= (light.outgrown_on or never)
    assert heavy.z >= light.z


def test_half_a_year_counts_from_today_not_from_an_old_weighing():
    """An old weight flatters when the half year is counted from it."""
    early = outlook().outgrown_early_on
    for today, verdict in ((early - timedelta(days=184), FITS), (early - timedelta(days=183), CHECK),
                           (early + timedelta(days=900), CHECK)):  # fmt: skip
        found = outlook(today=today)
        assert (found.findings[1].verdict, found.outgrown_early_on) == (verdict, early)
        assert found.findings[1].limit == f"later than {today + timedelta(days=183)}"


def test_today_before_the_weighing_is_refused():
    with pytest.raises(EngineeringError, match=r"^Today must be the day of weighing 2025-01-15 or later, not 2025"):
        outlook(today=ON - timedelta(days=1))
