"""Findings say what they know and what is missing."""

import pytest

from builds.engineering import guards
from builds.engineering.finding import CHECK, FITS, STOP, UNKNOWN, EngineeringError, Finding, unknown, worst


def finding(verdict, **fields):
    missing = "something" if verdict == UNKNOWN else ""
    known = {"name": "x", "value": 1.0, "unit": "A", "limit": 2.0, "formula": "f", "source": "s", "missing": missing}
    return Finding(**{**known, "verdict": verdict, **fields})


def test_the_worst_verdict_wins_and_unknown_outweighs_check():
    assert worst([finding(FITS), finding(CHECK)]) == CHECK
    assert worst([finding(CHECK), finding(UNKNOWN)]) == UNKNOWN
    assert worst([finding(UNKNOWN), finding(STOP), finding(FITS)]) == STOP


def test_no_finding_at_all_is_unknown():
    assert worst([]) == UNKNOWN


def test_unknown_has_to_say_what_is_missing():
    with pytest.raises(ValueError, match="missing"):
        finding(UNKNOWN, missing="")
    assert unknown("x", ["a", "b"]).missing == "a, b"


def test_only_four_verdicts():
    with pytest.raises(ValueError, match="not a verdict"):
        finding("ok")


def test_as_a_dictionary():
    keys = ["name", "value", "unit", "limit", "verdict", "formula", "source", "inputs", "missing"]
    assert list(finding(FITS).as_dict()) == keys


def test_rounding_for_reading_never_reaches_the_limit():
    assert finding(CHECK, value=3.0004, limit=3.0).shown == "3.0004"
    assert finding(FITS, value=9.99999, limit=10.0).shown == "9.99999"
    assert finding(FITS, value=5.9876, limit=10.0).shown == "5.99"
    assert unknown("x", "y").shown == "unknown"


@pytest.mark.parametrize("value", [float("nan"), float("inf"), "5", True, [], 1e400, 10**400])
def test_nonsense_numbers_are_refused(value):
    with pytest.raises(EngineeringError, match="^Length must be"):
        guards.number("Length", value, "m")


def test_the_error_names_quantity_value_unit_and_limit():
    with pytest.raises(EngineeringError, match=r"^Length must be 1000 m or less, not 1001 m\.$"):
        guards.number("Length", 1001, "m", maximum=1000)


@pytest.mark.parametrize(
    ("value", "told"),
    [
        (1000.0001, "Length must be 1000 m or less, not 1000.0001 m."),
        (1000.0000001, "Length must be 1000 m or less, not 1000.0000001 m."),
        (1000.0000000000001, "Length must be 1000 m or less, not 1000.0000000000001 m."),
        (1234.5678901, "Length must be 1000 m or less, not 1234.57 m."),
        (1e300, "Length must be 1000 m or less, not 1e+300 m."),
        (-5e-324, "Length must be 0 m or more, not -4.94066e-324 m."),
    ],
)
def test_a_number_beyond_its_limit_is_never_told_as_the_limit(value, told):
    with pytest.raises(EngineeringError) as refused:
        guards.number("Length", value, "m", minimum=0, maximum=1000)
    assert str(refused.value) == told


def test_a_number_that_is_nearly_whole_is_told_as_it_is():
    with pytest.raises(EngineeringError, match=r"from 1 to 5, not 2\.0000001\.$"):
        guards.whole("Runs", 2.0000001, "", minimum=1, maximum=5)


def test_a_long_word_is_quoted_as_far_as_it_goes_and_shows_that_it_goes_on():
    for count, told in ((40, "x" * 40), (41, "x" * 40 + "…")):
        with pytest.raises(EngineeringError, match=f"not “{told}”"):
            guards.choice("Sex", "x" * count, ("male", "female"))


@pytest.mark.parametrize(
    ("said", "meant"), [("yes", True), ("no", False), ("unknown", None), ("", None), (True, True), (None, None)]
)
def test_yes_no_and_unknown(said, meant):
    assert guards.answer("Sheathed", said) is meant


@pytest.mark.parametrize("said", ["No", "false", "maybe", [], 2])
def test_a_word_is_never_true_because_it_is_not_empty(said):
    with pytest.raises(EngineeringError):
        guards.answer("Sheathed", said)
