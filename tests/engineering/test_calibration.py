"""After calibration rest means stop, whatever the readings were."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from builds.engineering.calibration import command, fit_axis
from builds.engineering.finding import CHECK, FITS, EngineeringError

TAKEN = {"name": "Sideways", "rest": 512, "lowest": 100, "highest": 900, "full_scale": 1023, "spread": 2}


@st.composite
def fits(draw):
    full_scale = draw(st.sampled_from([255, 1023, 4095, 65535]))
    counts = st.floats(1, full_scale - 1, allow_nan=False) | st.integers(1, full_scale - 1)
    lowest, rest, highest = sorted(draw(st.tuples(counts, counts, counts)))
    least = 0.12 * full_scale / 2
    assume(rest - lowest >= least and highest - rest >= least)
    largest = 0.5 * min(rest - lowest, highest - rest) / 3
    spread = draw(st.none() | st.floats(0, largest * 0.99))
    reversed_ = draw(st.booleans())
    return (rest, lowest, highest), fit_axis(
        name="Axis", rest=rest, lowest=lowest, highest=highest, full_scale=full_scale, spread=spread, reversed=reversed_
    )


@given(fits())
def test_rest_is_exactly_nothing(taken):
    (rest, _, _), fit = taken
    assert command(fit, rest) == 0.0
    assert str(command(fit, rest)) == "0.0"


@given(fits(), st.floats(-1, 1))
def test_the_deadband_is_exactly_nothing(taken, share):
    (rest, _, _), fit = taken
    reading = min(max(rest + share * fit.deadband * 0.999, 0), fit.full_scale)
    assert command(fit, reading) == 0.0


@given(fits())
def test_the_ends_reach_full_command(taken):
    (_, lowest, highest), fit = taken
    ends = {command(fit, lowest), command(fit, highest)}
    assert ends == {-1.0, 1.0}
    assert command(fit, highest) == (-1.0 if fit.reversed else 1.0)


@given(fits(), st.floats(0, 1), st.floats(0, 1))
def test_the_command_never_turns_back(taken, one, other):
    _, fit = taken
    low, high = sorted((one * fit.full_scale, other * fit.full_scale))
    first, second = command(fit, low), command(fit, high)
    assert first >= second if fit.reversed else first <= second
    assert -1 <= first <= 1


@given(fits(), st.floats(0.05, 0.95))
def test_between_deadband_and_end_it_moves_in_proportion(taken, share):
    (rest, _, highest), fit = taken
    start = rest + fit.deadband
    reading = start + share * (highest - start)
    assert abs(command(fit, reading)) == pytest.approx(share, rel=1e-6)


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"rest": 50}, "rest of 50 is outside 100 to 900.*read the rest again"),
        ({"rest": 950}, "outside 100 to 900"),
        ({"lowest": 0}, "at the rail of the converter.*read again"),
        ({"highest": 1023}, "at the rail of the converter"),
        ({"lowest": 452}, "throw to the lower side is 60 counts and must be 61.38 or more.*read again"),
        ({"highest": 512}, "throw to the upper side is 0 counts"),
        ({"lowest": 512, "highest": 512}, "axis does not move"),
        ({"highest": 1100}, "must be 1023 counts or less"),
        ({"rest": -1}, "must be 0 counts or more"),
        ({"rest": float("nan")}, "finite"),
        ({"rest": None}, "enter the rest"),
        ({"spread": 70}, "spread at rest is 70 counts and must be 64.67 or less.*read the rest again"),
        ({"spread": -1}, "spread at rest"),
        ({"full_scale": 0}, "Full scale"),
    ],
)
def test_readings_that_cannot_be_say_how_to_take_them_again(wrong, says):
    with pytest.raises(EngineeringError, match=says) as refused:
        fit_axis(**{**TAKEN, **wrong})
    assert len(str(refused.value).splitlines()) == 1


def test_a_throw_of_twelve_percent_is_fitted():
    least = 0.12 * 1023 / 2
    fit = fit_axis(**{**TAKEN, "spread": None, "lowest": 512 - least, "highest": 512 + least})
    assert command(fit, 512 + least) == 1.0


def test_noise_widens_the_deadband():
    assert fit_axis(**TAKEN).deadband == pytest.approx(0.02 * 1023 / 2)
    assert fit_axis(**{**TAKEN, "spread": 10}).deadband == 30


def test_a_spread_that_was_not_measured_is_a_check():
    assert fit_axis(**{**TAKEN, "spread": None}).findings[0].verdict == CHECK
    assert fit_axis(**TAKEN).findings[0].verdict == FITS


@pytest.mark.parametrize("reading", [-1, 1024, float("nan"), None, "512"])
def test_a_reading_no_converter_gives_is_refused(reading):
    with pytest.raises(EngineeringError):
        command(fit_axis(**TAKEN), reading)
