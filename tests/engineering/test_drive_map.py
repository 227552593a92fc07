"""The drive map: mixing, bringing down, gains, ceilings and pulses of a push."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builds.engineering.drive_map import drive_output, motion, stick_push
from builds.engineering.drive_settings import EXAMPLE
from builds.engineering.finding import CHECK, FITS, UNKNOWN, EngineeringError

PUSH = st.floats(-1, 1)
SHARE = st.floats(0, 1)
# Pushes with the hand, from the definition: left = y + x, right = y - x.
EIGHT = {
    (0, 0): (0, 0), (0, 1): (1, 1), (0, -1): (-1, -1), (1, 0): (1, -1), (-1, 0): (-1, 1), (1, 1): (1, 0),
    (-1, 1): (0, 1), (1, -1): (0, -1), (-1, -1): (-1, 0),
}  # fmt: skip


def wheels(**push):
    found = drive_output(**push)
    return found.left, found.right


@pytest.mark.parametrize(("push", "commands"), EIGHT.items())
def test_the_eight_directions_and_rest(push, commands):
    assert wheels(x=push[0], y=push[1]) == commands


@pytest.mark.parametrize(("given", "commands"), [
    ({"x": 0.5, "y": 0.25}, (0.75, -0.25)),
    ({"x": 0.5, "y": 1}, (1, 1 / 3)),
    ({"x": 0.5, "y": 1, "ceiling": 0.6}, (0.6, 0.2)),
    ({"x": 1, "y": 0, "turn_gain": 0.5}, (0.5, -0.5)),
    ({"x": 1, "y": 1, "turn_gain": 0}, (1, 1)),
    ({"x": 0.25, "y": 0, "turn_gain": 2}, (0.5, -0.5)),
    ({"x": 0, "y": -1, "reverse_gain": 0.4}, (-0.4, -0.4)),
    ({"x": 0, "y": 1, "reverse_gain": 0.4}, (1, 1)),
    ({"x": 1, "y": 1, "ceiling": 0}, (0, 0)),
])  # fmt: skip
def test_gains_ceiling_and_bringing_down(given, commands):
    """Derived by hand from the definition."""
    assert wheels(**given) == pytest.approx(commands)


def test_the_pulse_is_the_neutral_plus_the_span_times_the_command():
    found = drive_output(x=0, y=-0.5, neutral_us=1520, span_us=400)
    assert (found.left_us, found.right_us) == (1320, 1320)


@given(PUSH, PUSH, SHARE, st.floats(0, 2), SHARE)
def test_no_wheel_passes_the_ceiling_and_mirrored_pushes_mirror(x, y, ceiling, turn_gain, reverse_gain):
    gains = {"ceiling": ceiling, "turn_gain": turn_gain, "reverse_gain": reverse_gain}
    left, right = wheels(x=x, y=y, **gains)
    assert max(abs(left), abs(right)) <= ceiling
    assert wheels(x=-x, y=y, **gains) == (right, left)


@given(PUSH, PUSH)
def test_bringing_down_keeps_the_direction(x, y):
    left, right = wheels(x=x, y=y)
    assert left * (y - x) == pytest.approx(right * (y + x), abs=1e-12)


def test_no_number_is_a_negative_zero():
    for push in ({"x": 0, "y": -0.5, "ceiling": 0}, {"x": -0.0, "y": -0.0}, {"x": 0, "y": -1, "reverse_gain": 0}):
        assert [str(command) for command in wheels(**push)] == ["0.0", "0.0"]


@pytest.mark.parametrize(("given", "word"), [
    ({"x": 1.001}, "Push to the right must be 1 or less"), ({"y": -1.001}, "Push forward must be -1 or more"),
    ({"ceiling": 1.001}, "Ceiling must be 1 or less"), ({"ceiling": -0.001}, "Ceiling must be 0 or more"),
    ({"turn_gain": 2.001}, "Turn gain"), ({"turn_gain": -0.001}, "Turn gain"),
    ({"reverse_gain": 1.001}, "Reverse gain"), ({"reverse_gain": -0.001}, "Reverse gain"),
    ({"span_us": 0}, "Span"), ({"span_us": 1001}, "Span"),
    ({"neutral_us": 999}, "within 500 to 2500"), ({"neutral_us": 2001}, "within 500 to 2500"),
    ({"neutral_us": 499, "span_us": 1}, "Neutral pulse"), ({"x": float("nan")}, "finite"),
])  # fmt: skip
def test_what_cannot_be_is_refused(given, word):
    with pytest.raises(EngineeringError, match=word):
        drive_output(**{"x": 0, "y": 0, **given})


def test_the_ends_of_what_can_be_are_taken():
    for most in ({"neutral_us": 1000}, {"neutral_us": 2000}, {"span_us": 1000}, {"turn_gain": 2}):
        assert drive_output(x=0, y=0, **most).left_us == most.get("neutral_us", 1500)


@pytest.mark.parametrize("name", ["x", "y", "ceiling", "turn_gain", "reverse_gain"])
def test_what_is_unknown_stays_unknown(name):
    found = drive_output(**{"x": 0.5, "y": 0.5, name: None})
    assert (found.left, found.right, found.left_us, found.right_us) == (None,) * 4
    assert {finding.verdict for finding in found.findings} == {UNKNOWN}


@pytest.mark.parametrize("name", ["neutral_us", "span_us"])
def test_without_a_pulse_the_command_is_known(name):
    found = drive_output(**{"x": 0, "y": 1, name: None})
    assert (found.left, found.left_us) == (1, None)
    assert [finding.verdict for finding in found.findings] == [FITS] * 3 + [UNKNOWN] * 2


def test_a_pulse_beyond_the_usual_asks_for_a_look():
    found = drive_output(x=0, y=1, span_us=600)
    assert [finding.verdict for finding in found.findings[3:]] == [CHECK, CHECK]
    assert drive_output(x=0, y=1, span_us=500).findings[3].verdict == FITS


@pytest.mark.parametrize(("left", "right", "told"), [
    (0, 0, "stands"), (1, 1, "forward"), (-1, -1, "backward"), (1, -1, "spins right"), (-1, 1, "spins left"),
    (1, 0, "forward, nose to the right"), (0, 1, "forward, nose to the left"), (0, -1, "backward, nose to the right"),
    (-1, 0, "backward, nose to the left"),
])  # fmt: skip
def test_what_the_unit_does(left, right, told):
    """D-01 in words: with the left wheel faster the unit turns clockwise, its nose to the right."""
    assert motion(left, right) == told


@given(st.integers(0, 1023), st.integers(0, 1023))
def test_a_push_lies_within_one_and_is_nothing_within_the_deadband(x, y):
    right, forward = stick_push(EXAMPLE, x_counts=x, y_counts=y)
    assert abs(right) <= 1 and abs(forward) <= 1
    assert (right == 0) == (abs(x - 512) <= 20)
    assert (forward == 0) == (abs(y - 508) <= 20)


@pytest.mark.parametrize("given", [{"x_counts": None}, {"y_counts": None}, {"x_counts": -1}, {"y_counts": 1024}])
def test_a_reading_that_no_converter_gives_is_refused(given):
    with pytest.raises(EngineeringError, match="Reading"):
        stick_push(EXAMPLE, **{"x_counts": 512, "y_counts": 508, **given})
