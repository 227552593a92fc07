"""Arming, latching, lateness, rise and fall, smoothing: generated sequences, the model against the compiled core."""

from dataclasses import replace
from math import ceil, exp, pi
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builds.engineering.drive_core import ARMED, LATCHED, NO_POSITION, WAITING, DriveCore
from builds.engineering.drive_numbers import drive_numbers
from builds.engineering.drive_settings import EXAMPLE
from tests.engineering.core.compiled import compiled
from tests.engineering.core.fits import FITS, SIXTEEN_BITS, TWELVE_BITS

CASES = [*FITS.values(), TWELVE_BITS, SIXTEEN_BITS]
# Times about the limits of the fits: a frame, late, rest.
TIMES = st.sampled_from([20] * 30 + [0, 1, 19, 21, 39, 40, 100, 101, 120, 500, 65535])
KINDS = ["rest"] * 4 + ["held"] * 6 + ["eased"] * 4 + ["wandering"] * 2 + ["missing", "broken"]
FRAME = 20


def centre(fit):
    return round(fit.centre_x), round(fit.centre_y)


@st.composite
def parts(draw, fit):
    """Some steps of one kind: resting, held, held and then eased, wandering, no reading, a broken wire."""
    kind = draw(st.sampled_from(KINDS))
    selector = draw(st.sampled_from([*range(len(fit.ceilings)), len(fit.ceilings), NO_POSITION]))
    length = {"broken": 1, "missing": draw(st.integers(1, 7))}.get(kind, draw(st.integers(1, 40)))
    possible = st.integers(int(fit.band_low) + 1, int(fit.band_high))
    x, y = centre(fit) if kind == "rest" else (draw(possible), draw(possible))
    if kind == "broken":
        bad = draw(st.sampled_from([0, int(fit.band_low) - 1, int(fit.band_high) + 1, 65535]))
        x, y = draw(st.sampled_from([(bad, y), (x, bad)]))
    drift = draw(st.integers(-9, 9)) if kind == "wandering" else 0
    places = [(min(max(x + drift * at, 0), fit.full_scale) if drift else x, y) for at in range(length)]
    if kind == "eased":
        places += [tuple((2 * mid + way) // 3 for mid, way in zip(centre(fit), (x, y), strict=True))] * length
    times = [draw(TIMES), *[FRAME] * (len(places) - 1)]
    return [(*place, time, selector, kind != "missing") for place, time in zip(places, times, strict=True)]


@st.composite
def sequences(draw):
    fit = draw(st.sampled_from(CASES))
    resting = [(*centre(fit), FRAME, 0, True)] * draw(st.sampled_from([0, 20, 30, 30, 30]))
    return fit, resting + sum(draw(st.lists(parts(fit), min_size=1, max_size=12)), [])


@pytest.mark.parametrize("fit", CASES)
def test_the_core_and_the_model_agree_over_minutes_of_driving(fit):
    """Rested, pushed, eased, pushed elsewhere, released: no fault, so that it stays armed for all of them."""
    chance, steps = Random(2026), [(*centre(fit), FRAME, 0, True)] * 40
    while len(steps) < 3000:
        selector, low, high = chance.randrange(6), int(fit.band_low) + 1, int(fit.band_high)
        x, y = chance.randint(low, high), chance.randint(low, high)
        for share in (1, chance.random(), 0):
            place = tuple(round(mid + share * (way - mid)) for mid, way in zip(centre(fit), (x, y), strict=True))
            steps += [(*place, FRAME, selector, True)] * chance.randrange(1, 60)
    told, model = compiled(fit).run(steps), DriveCore(drive_numbers(fit))
    for (x, y, elapsed, selector, fresh), core in zip(steps, told.tolist(), strict=True):
        pulses = model.step(x, y, selector=selector, fresh=fresh, elapsed_ms=elapsed)
        assert core == (model.turn, model.drive, *pulses, model.ceiling, model.stage, model.resting)
    assert model.stage == ARMED
    assert ((told["turn"] != 0) | (told["drive"] != 0)).sum() > 1000


@settings(max_examples=250, deadline=None)
@given(sequences())
def test_the_core_and_the_model_agree_at_every_step(sequence):
    fit, steps = sequence
    told, model = compiled(fit).run(steps), DriveCore(drive_numbers(fit))
    for (x, y, elapsed, selector, fresh), core in zip(steps, told.tolist(), strict=True):
        pulses = model.step(x, y, selector=selector, fresh=fresh, elapsed_ms=elapsed)
        assert core == (model.turn, model.drive, *pulses, model.ceiling, model.stage, model.resting)


@settings(max_examples=150, deadline=None)
@given(sequences())
def test_whatever_comes_it_keeps_its_promises(sequence):
    """An own account of time, rest and faults, from what was given alone."""
    fit, steps = sequence
    told, numbers = compiled(fit).run(steps), drive_numbers(fit)
    look, broken, silent_ms, rested_ms, was_resting, may_move = DriveCore(numbers), False, 0, 0, False, False
    neutral = (fit.neutral_left_us, fit.neutral_right_us)
    for (x, y, elapsed, _, fresh), core in zip(steps, told, strict=True):
        silent_ms = silent_ms + elapsed
        if silent_ms > fit.late_ms:
            may_move, rested_ms, was_resting = False, 0, False
        if fresh:
            broken = broken or not look.is_possible(x, y)
            resting = look.read_push(x, y).at_rest
            rested_ms = rested_ms + elapsed if resting and was_resting else 0
            may_move, was_resting, silent_ms = may_move or rested_ms >= fit.rest_ms, resting, 0
        if broken or not may_move or (fresh and resting):
            assert (core["left_us"], core["right_us"]) == neutral
        assert (core["stage"] == LATCHED) == broken
        assert broken or (core["stage"] == ARMED) == may_move


@settings(max_examples=150, deadline=None)
@given(sequences())
def test_a_command_never_rises_faster_than_set_nor_past_the_stick(sequence):
    fit, steps = sequence
    numbers, told, look = drive_numbers(fit), compiled(fit).run(steps), DriveCore(drive_numbers(fit))
    before = {"turn": 0, "drive": 0}
    for (x, y, _, _, fresh), core in zip(steps, told, strict=True):
        push = look.read_push(x, y) if fresh and look.is_possible(x, y) else None
        for axis in before:
            now, was = int(core[axis]), before[axis]
            same_way = was if was * now > 0 else 0
            assert abs(now) - abs(same_way) <= numbers.rise
            if push is not None:
                assert now * getattr(push, axis) >= 0  # never against the stick
                assert abs(now) <= max(abs(same_way), abs(getattr(push, axis)))
            before[axis] = now


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(CASES), st.data())
def test_a_held_stick_settles_on_the_map_within_the_time_of_rise_and_smoothing(fit, data):
    core, model = compiled(fit), DriveCore(drive_numbers(fit))
    possible = st.integers(int(fit.band_low) + 1, int(fit.band_high))
    x, y, selector = data.draw(possible), data.draw(possible), data.draw(st.integers(0, 5))
    rest = [(round(fit.centre_x), round(fit.centre_y), FRAME, selector, True)] * 27
    # The rise to twice full, and as many time constants as bring 2^16 below a step.
    lasts_s = 2 / fit.slew_up_per_s + (0 if fit.cutoff_hz is None else 20 / (2 * pi * fit.cutoff_hz))
    frames = ceil(lasts_s * 1000 / FRAME) + 65536 // core.numbers.smoothing
    told = core.run(rest + [(x, y, FRAME, selector, True)] * frames)
    assert (told[-1]["left_us"], told[-1]["right_us"]) == model.settled(x, y, selector)
    assert told[-1]["stage"] == ARMED


REST, FAR, BACK = (512, 508), (512, 908), (512, 118)
TWINS = []


class Twin(DriveCore):
    """A model that remembers what it was given, so that the compiled core can be asked the same."""

    def __init__(self, fit):
        super().__init__(drive_numbers(fit))
        self.fit, self.given, self.told = fit, [], []
        TWINS.append(self)

    def step(self, x, y, *, selector, fresh, elapsed_ms):
        pulses = super().step(x, y, selector=selector, fresh=fresh, elapsed_ms=elapsed_ms)
        self.given.append((x, y, elapsed_ms, selector, fresh))
        self.told.append((self.turn, self.drive, *pulses, self.ceiling, self.stage, self.resting))
        return pulses


@pytest.fixture(autouse=True)
def the_compiled_core_does_the_same():
    """After each test below: every example holds for both."""
    TWINS.clear()
    yield
    for twin in TWINS:
        assert compiled(twin.fit).run(twin.given).tolist() == twin.told


def ready(fit=EXAMPLE, selector=2):
    """A model that is armed."""
    model = Twin(fit)
    for _ in range(1 + ceil(fit.rest_ms / FRAME)):
        step(model, REST, selector=selector)
    assert model.stage == ARMED
    return model


def step(model, place, *, selector=2, fresh=True, elapsed_ms=FRAME):
    return model.step(*place, selector=selector, fresh=fresh, elapsed_ms=elapsed_ms)


def test_switched_on_with_the_stick_held_over_it_does_not_move():
    model = Twin(EXAMPLE)
    assert {step(model, FAR) for _ in range(500)} == {(1500, 1500)}
    assert model.stage == WAITING


def test_it_is_armed_after_the_time_of_rest_and_no_sooner():
    model = Twin(EXAMPLE)
    stages = [step(model, REST) and model.stage for _ in range(27)]
    assert stages == [WAITING] * 25 + [ARMED] * 2  # the first reading starts the time, 25 frames of 20 ms end it


def test_a_push_starts_the_rest_anew():
    model = Twin(EXAMPLE)
    for place in [REST] * 25 + [FAR] + [REST] * 25:
        step(model, place)
    assert model.stage == WAITING
    step(model, REST)
    assert model.stage == ARMED


def test_time_without_a_reading_is_no_rest():
    model = Twin(EXAMPLE)
    for place in range(26):
        step(model, REST, fresh=place not in (10, 11, 12))
    assert model.stage == WAITING
    for _ in range(3):
        assert model.stage == WAITING
        step(model, REST)
    assert model.stage == ARMED


def test_a_clock_that_stands_never_arms_it():
    model = Twin(EXAMPLE)
    for _ in range(1000):
        step(model, REST, elapsed_ms=0)
    assert model.stage == WAITING


@pytest.mark.parametrize("broken", [(0, 508), (512, 0), (1023, 508), (512, 1023), (50, 508), (512, 973), (65535, 508)])
def test_one_impossible_reading_stops_it_until_power_is_cycled(broken):
    model = ready()
    for _ in range(100):
        step(model, FAR)
    assert step(model, FAR) == (2000, 2000)
    assert step(model, broken) == (1500, 1500)
    assert {step(model, place) for place in [REST] * 100 + [FAR] * 100} == {(1500, 1500)}
    assert model.stage == LATCHED
    told = compiled(EXAMPLE).run([(*REST, FRAME, 2, 1)] * 30)
    assert told[-1]["stage"] == ARMED  # started anew


def test_an_impossible_reading_before_it_is_armed_latches_too():
    model = Twin(EXAMPLE)
    step(model, (0, 508))
    for _ in range(100):
        step(model, REST)
    assert model.stage == LATCHED


@pytest.mark.parametrize("late_ms", [40, 100, 250])
def test_without_readings_it_is_neutral_within_the_stated_time(late_ms):
    fit = replace(EXAMPLE, late_ms=late_ms)
    model = ready(fit)
    for _ in range(100):
        step(model, FAR)
    passed = 0
    while step(model, FAR, fresh=False) != (1500, 1500):
        passed += FRAME
        assert passed <= 1000
    assert passed <= late_ms < passed + FRAME <= fit.neutral_within_ms
    for _ in range(100):
        assert step(model, FAR) == (1500, 1500)  # readings alone do not move it again
    for _ in range(26):
        step(model, REST)
    assert step(model, FAR) > (1500, 1500)


def test_a_late_step_is_neutral_although_it_brings_a_reading():
    for elapsed, stands in ((100, False), (101, True), (65535, True)):
        model = ready()
        for _ in range(100):
            step(model, FAR)
        assert (step(model, FAR, elapsed_ms=elapsed) == (1500, 1500)) is stands


def test_a_release_is_neutral_at_once_however_slow_the_fall_and_the_smoothing():
    fit = replace(EXAMPLE, cutoff_hz=0.2, slew_down_per_s=1)
    model = ready(fit)
    for _ in range(400):
        step(model, FAR)
    assert step(model, FAR) == (2000, 2000)
    assert step(model, REST, elapsed_ms=0) == (1500, 1500)  # even within a frame


def test_each_axis_stops_at_once_when_it_is_released():
    model = ready(replace(EXAMPLE, cutoff_hz=0.2, slew_down_per_s=1))
    for _ in range(400):
        step(model, (912, 908))
    step(model, (912, 508))
    assert (model.turn > 0, model.drive) == (True, 0)


def test_pulling_back_stops_before_it_reverses():
    model = ready(replace(EXAMPLE, cutoff_hz=None))
    for _ in range(100):
        step(model, FAR)
    left_us, right_us = step(model, BACK)
    rise_us = 500 * EXAMPLE.slew_up_per_s * FRAME / 1000
    assert left_us == right_us
    assert 1500 - rise_us - 1 <= left_us < 1500


def test_easing_falls_no_faster_than_set_and_within_a_second():
    fit = replace(EXAMPLE, cutoff_hz=None, slew_down_per_s=1)
    model = ready(fit)
    for _ in range(100):
        step(model, FAR)
    pulses = [step(model, (512, 530))[0] for _ in range(51)]
    falls = [before - after for before, after in zip([2000, *pulses], pulses, strict=False)]
    assert max(falls) <= 500 * FRAME / 1000 + 1
    assert pulses[-1] == model.settled(512, 530, 2)[0]


@pytest.mark.parametrize(("elapsed_ms", "fresh_every"), [(40, 1), (70, 1), (99, 1), (20, 4), (33, 3), (7, 2)])
def test_easing_is_within_a_second_also_where_steps_or_readings_come_late(elapsed_ms, fresh_every):
    """A frame more, and the readings that are still awaited."""
    model = ready(replace(EXAMPLE, cutoff_hz=None, slew_down_per_s=1, slew_up_per_s=50))
    for _ in range(100):
        step(model, FAR)
    eased = 0
    for count in range(1, 1 + ceil((1000 + FRAME) / elapsed_ms) + fresh_every):
        step(model, (512, 530), fresh=count % fresh_every == 0, elapsed_ms=elapsed_ms)
        eased = model.drive
    assert eased == model.read_push(512, 530).drive


def test_a_late_step_makes_up_for_no_rise():
    model = ready(replace(EXAMPLE, cutoff_hz=None, slew_up_per_s=0.5))
    for _ in range(5):
        step(model, FAR, elapsed_ms=99)
    assert model.drive == 5 * model.numbers.rise


def test_full_speed_takes_the_time_of_the_rise():
    model = ready(replace(EXAMPLE, cutoff_hz=None, slew_up_per_s=0.5))
    pulses = [step(model, FAR)[0] for _ in range(110)]
    reached = (1 + pulses.index(2000)) * FRAME / 1000
    assert reached == pytest.approx(1 / 0.5, abs=2 * FRAME / 1000)


def test_steps_between_frames_do_not_speed_up_the_rise():
    model = ready(replace(EXAMPLE, cutoff_hz=None, slew_up_per_s=0.5))
    for _ in range(500):
        step(model, FAR, elapsed_ms=1)
    assert model.drive == pytest.approx(0.25 * 2**15, abs=2 * model.numbers.rise)


def test_smoothing_is_the_first_order_low_pass_of_its_cut_off():
    """Against the exact-pole form 1 - exp(-2 pi fc t); within one step of 2^-16 a frame."""
    fit = replace(EXAMPLE, cutoff_hz=1, slew_up_per_s=50, expo=0)
    model = ready(fit)
    for frame in range(1, 60):
        step(model, FAR)
        wanted = 1 - exp(-2 * pi * 1 * frame * FRAME / 1000)
        assert model.drive / 2**15 == pytest.approx(wanted, abs=0.003)


def test_a_slower_ceiling_counts_at_once_and_a_faster_one_from_the_next_rest():
    model = ready(selector=0)
    for _ in range(100):
        step(model, FAR, selector=0)
    assert step(model, FAR, selector=2) == (1665, 1665)
    step(model, REST, selector=2)
    for _ in range(100):
        step(model, FAR, selector=2)
    assert step(model, FAR, selector=2) == (2000, 2000)
    assert step(model, FAR, selector=1) == (1800, 1800)
    assert step(model, FAR, selector=NO_POSITION) == (1665, 1665)


@pytest.mark.parametrize(("fitted", "selector", "ceiling"), [
    (True, 0, 0.6), (True, 1, 0.3), (True, 2, 0.3), (True, NO_POSITION, 0.3), (False, 0, 0.3), (False, 1, 0.3),
])  # fmt: skip
def test_without_a_position_the_slowest_ceiling_holds(fitted, selector, ceiling):
    fit = replace(EXAMPLE, ceilings=(0.6, 0.3), has_selector=fitted)
    assert DriveCore(drive_numbers(fit)).settled(512, 908, selector)[0] == 1500 + 500 * ceiling
