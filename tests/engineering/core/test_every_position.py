"""The settled map: the model and the compiled core agree on every position of the stick, bit for bit."""

from math import cos, radians, sin

import numpy
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builds.engineering.drive_core import NO_POSITION, DriveCore
from builds.engineering.drive_map import drive_output, stick_push
from builds.engineering.drive_numbers import FULL, POSITION_BITS, SLACK, drive_numbers
from tests.engineering.core.compiled import compiled
from tests.engineering.core.every_position import pushes, settled
from tests.engineering.core.fits import EIGHT_BITS, FITS, SIXTEEN_BITS, TWELVE_BITS

ALL = FITS | {"8 bits": EIGHT_BITS, "12 bits": TWELVE_BITS, "16 bits": SIXTEEN_BITS}
WHOLE_STICK, SLICE = 2**20, 2**20
EVERY_FIT = pytest.mark.parametrize("fit", list(FITS.values()), ids=list(FITS))


def differing(fit, first, count):
    """Positions on which the two differ, over every place of the selector and none."""
    core, model = compiled(fit), DriveCore(drive_numbers(fit))
    selectors = [*range(len(fit.ceilings)), NO_POSITION]
    lefts, rights, kinds = settled(core.numbers, [model.ceiling_at(place) for place in selectors], first, count)
    wrong = 0
    for selector, left, right in zip(selectors, lefts, rights, strict=True):
        told = core.settle(selector, first, count)
        wrong += int(((told[0] != left) | (told[1] != right) | (told[2] != kinds)).sum())
    return wrong


@EVERY_FIT
def test_the_core_and_the_model_agree_on_every_position_and_ceiling(fit):
    assert differing(fit, 0, WHOLE_STICK) == 0


def test_they_agree_on_every_position_of_a_stick_of_8_bits():
    assert differing(EIGHT_BITS, 0, 2**16) == 0


@pytest.mark.parametrize("quarter", range(4))
def test_they_agree_on_every_position_of_a_stick_of_12_bits(quarter):
    for part in range(4):
        assert differing(TWELVE_BITS, (4 * quarter + part) * SLICE, SLICE) == 0


def test_they_agree_on_slices_of_a_stick_of_16_bits():
    for part in range(0, 2**32, 2**26):
        assert differing(SIXTEEN_BITS, part + 12345, 2**14) == 0


@st.composite
def places(draw):
    fit = draw(st.sampled_from(list(ALL.values())))
    reading = st.integers(0, fit.full_scale)
    return fit, draw(reading), draw(reading), draw(st.integers(0, 255))


@settings(max_examples=300, deadline=None)
@given(places())
def test_the_model_over_arrays_is_the_model(place):
    fit, x, y, selector = place
    model = DriveCore(drive_numbers(fit))
    left, right, kinds = settled(model.numbers, [model.ceiling_at(selector)], x + (y << fit.adc_bits), 1)
    assert (left[0][0], right[0][0]) == model.settled(x, y, selector)
    assert kinds[0] == model.read_push(x, y).at_rest + 2 * model.is_possible(x, y)


def turned_counts(fit):
    """How far right and forward every position lies, as floats [counts]."""
    place = numpy.arange(WHOLE_STICK)
    x, y = (place & fit.full_scale) - fit.centre_x, (place >> fit.adc_bits) - fit.centre_y
    turn = radians(fit.rotation_deg)
    right = (x * cos(turn) - y * sin(turn)) * (-1 if fit.mirrored else 1)
    return right, x * sin(turn) + y * cos(turn)


@EVERY_FIT
def test_within_the_recorded_deadband_it_is_exactly_neutral_and_at_the_throw_exactly_full(fit):
    numbers = drive_numbers(fit)
    turn, drive, kinds = pushes(numbers, 0, WHOLE_STICK)
    right, forward = turned_counts(fit)
    quiet_right, quiet_forward = abs(right) <= fit.deadband, abs(forward) <= fit.deadband
    assert quiet_right.any() and quiet_forward.any()
    assert not turn[quiet_right].any()
    assert not drive[quiet_forward].any()
    resting = quiet_right & quiet_forward
    assert (kinds[resting] & 1).all()
    left_us, right_us, _ = compiled(fit).settle(0, 0, WHOLE_STICK)
    assert (left_us[resting] == fit.neutral_left_us).all() and (right_us[resting] == fit.neutral_right_us).all()
    assert (turn[right >= fit.throw_right] == numbers.turn_gain).all()
    assert (turn[right <= -fit.throw_left] == -numbers.turn_gain).all()
    assert (drive[forward >= fit.throw_forward] == FULL).all()
    assert (drive[forward <= -fit.throw_back] == -numbers.reverse_gain).all()


@EVERY_FIT
def test_outside_twice_the_slack_of_the_deadband_it_is_not_at_rest(fit):
    right, forward = turned_counts(fit)
    _, _, kinds = pushes(drive_numbers(fit), 0, WHOLE_STICK)
    away = numpy.maximum(abs(right), abs(forward)) > fit.deadband + (2 * SLACK + 1) / 2 ** (POSITION_BITS - 10)
    assert not (kinds[away] & 1).any()


@EVERY_FIT
def test_no_command_falls_along_a_push(fit):
    numbers = drive_numbers(fit)
    turn, drive, _ = (array.reshape(1024, 1024) for array in pushes(numbers, 0, WHOLE_STICK))
    for command, name in ((turn, "right"), (drive, "forward")):
        along_y, along_x = numpy.diff(command, axis=0), numpy.diff(command, axis=1)
        assert (along_x * numpy.sign(getattr(numbers, f"{name}_from_x")) >= 0).all()
        assert (along_y * numpy.sign(getattr(numbers, f"{name}_from_y")) >= 0).all()


@EVERY_FIT
def test_no_wheel_passes_the_ceiling(fit):
    for position in range(len(fit.ceilings)):
        ceiling = fit.ceilings[position] if fit.has_selector else min(fit.ceilings)
        left_us, right_us, _ = compiled(fit).settle(position, 0, WHOLE_STICK)
        for pulse, neutral in ((left_us, fit.neutral_left_us), (right_us, fit.neutral_right_us)):
            assert abs(pulse.astype(int) - neutral).max() <= ceiling * fit.span_us + 0.5


def bound_us(fit):
    """How far whole numbers may be from floats, derived: half a µs of rounding and half for steps of 2^-14, and what
    the slack of deadband and throw makes of a push, times the steepest slope of the shape, on both axes, twice for
    the bringing down."""
    scale = 2 ** (POSITION_BITS - fit.adc_bits)
    short = min(fit.throw_left, fit.throw_right), min(fit.throw_forward, fit.throw_back)
    slopes = [gain * (1 + 2 * fit.expo) / ((throw - fit.deadband) * scale)
              for throw, gain in zip(short, (fit.turn_gain, 1), strict=True)]  # fmt: skip
    return 1 + fit.span_us * 2 * sum(slopes) * 2 * (SLACK + 1)


@pytest.mark.parametrize("fit", list(ALL.values()), ids=list(ALL))
def test_the_core_stays_beside_the_drive_map_in_floats(fit):
    model, bound = DriveCore(drive_numbers(fit)), bound_us(fit)
    for x in range(3, fit.full_scale, fit.full_scale // 19):
        for y in range(1, fit.full_scale, fit.full_scale // 19):
            right, forward = stick_push(fit, x_counts=x, y_counts=y)
            wanted = drive_output(
                x=right, y=forward, ceiling=fit.ceilings[0] if fit.has_selector else min(fit.ceilings),
                turn_gain=fit.turn_gain, reverse_gain=fit.reverse_gain, neutral_us=1500, span_us=fit.span_us,
            )  # fmt: skip
            left_us, right_us = model.settled(x, y, 0)
            left = (left_us - fit.neutral_left_us) * (-1 if fit.inverted_left else 1)
            right = (right_us - fit.neutral_right_us) * (-1 if fit.inverted_right else 1)
            assert abs(left - (wanted.left_us - 1500)) <= bound
            assert abs(right - (wanted.right_us - 1500)) <= bound
