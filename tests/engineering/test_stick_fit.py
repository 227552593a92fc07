"""The fit of a stick: known truth comes back within stated bounds, and a bad capture says how to take it again."""

import math

import numpy
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.linalg import orthogonal_procrustes
from scipy.stats import median_abs_deviation

from builds.demo.sticks import MadeStick, log_of, readings_of
from builds.engineering.capture import PUSHES, read_capture
from builds.engineering.finding import CHECK, FITS, STOP, UNKNOWN, EngineeringError
from builds.engineering.stick_fit import NAMES, StickFit, fit_of, fit_stick
from builds.engineering.stick_maths import lag_of, medians_of, sigma_of, tremor_peak, turn_and_mirror
from builds.engineering.stick_words import at_the_bench, differences

RESTS = MadeStick().order
HOLD = (*RESTS, "hold", "rest")
PLACES = {"rest": (512, 500), "forward": (512, 800), "back": (512, 200), "left": (212, 500), "right": (812, 500)}


def fitted(stick):
    return fit_stick(read_capture(log_of(stick), stick.bits))


def steady(*marks, count=30, **places):
    """A log without noise: each mark with so many equal readings."""
    where = PLACES | places
    return "".join(f"# {mark}\n" + "{},{}\n".format(*where[mark]) * count for mark in marks)


def finding(fit, name):
    return next(one for one in fit.findings if one.name == name)


def refused(log, bits=10):
    with pytest.raises(EngineeringError) as told:
        fit_stick(read_capture(log, bits))
    assert len(str(told.value).splitlines()) == 1
    return str(told.value)


def apart(one, other):
    """The angle between two turns, the short way."""
    return abs((one - other + 180) % 360 - 180)


sticks = st.builds(
    MadeStick,
    bits=st.sampled_from([8, 10, 12, 16]),
    turn_deg=st.floats(-180, 180),
    mirrored=st.booleans(),
    throws=st.tuples(*[st.floats(0.12, 0.85)] * 4),
    rate_hz=st.sampled_from([50.0, 100.0, 200.0]),
    times=st.booleans(),
    seed=st.integers(0, 10_000),
    seconds=st.sampled_from([1.5, 2.0]),
)


@settings(max_examples=150, deadline=None)
@given(sticks, st.floats(0.0, 0.008), st.floats(0.0, 0.02), st.tuples(*[st.floats(-0.1, 0.1)] * 2))
def test_known_truth_comes_back(stick, noise, drift, off):
    half = stick.half_range
    stick = stick.but(noise=noise * half, drift=drift * half, centre=(half * (1 + off[0]), half * (1 + off[1])))
    fit = fitted(stick)
    # What rounding to whole counts, a median of noise, and the drift from the middle of the log can do.
    bound = 1.0 + 0.5 * noise * half + 0.75 * drift * half
    assert fit.centre_x == pytest.approx(stick.centre[0] + 0.3 * stick.drift, abs=bound)
    assert fit.centre_y == pytest.approx(stick.centre[1] + 0.4 * stick.drift, abs=bound)
    assert fit.mirrored is stick.mirrored
    smallest = min(stick.throw(mark) for mark in PUSHES)
    assert apart(fit.rotation_deg, stick.turn_deg) < 0.5 + math.degrees(bound / smallest)
    for mark in PUSHES:
        assert getattr(fit, f"throw_{mark}") == pytest.approx(stick.throw(mark), abs=1.0 + 2 * bound)
    # The deviation of whole counts is whole, so the noise is known within a count's worth; a fifth for few readings.
    assert abs(fit.noise - stick.noise) < 1.5 + 0.2 * stick.noise + 0.1 * stick.drift
    assert fit.return_spread < 1.5 + 1.5 * noise * half + 1.1 * stick.drift
    assert finding(fit, "neutral at rest").verdict == FITS
    assert fit.deadband >= 0.02 * half
    assert fit.deadband >= 5 * fit.noise + fit.return_spread
    assert fit.tremor_hz is None


@settings(max_examples=60, deadline=None)
@given(st.floats(2.0, 12.0), st.floats(0.01, 0.08), st.sampled_from([50.0, 200.0, 1000.0]), st.integers(0, 1000),
       st.floats(0.0, 0.006), st.floats(-180, 180), st.sampled_from([10, 12]))  # fmt: skip
def test_a_tremor_of_2_to_12_hz_is_found_and_priced(hz, size, rate, seed, noise, turn, bits):
    half = (2**bits - 1) / 2
    stick = MadeStick(bits=bits, centre=(half, half), tremor_hz=hz, tremor=max(size * half, 3 * noise * half),
                      noise=noise * half, rate_hz=rate, seed=seed, turn_deg=turn, order=HOLD, hold_s=6.0)  # fmt: skip
    fit = fitted(stick)
    assert fit.tremor_hz == pytest.approx(hz, abs=0.1)
    assert fit.cutoff_hz == pytest.approx(fit.tremor_hz / 2)
    assert fit.lag_ms == pytest.approx(1000 / (2 * math.pi * fit.cutoff_hz))
    assert finding(fit, "lag of the smoothing").verdict == (FITS if fit.lag_ms <= 100 else CHECK)


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 1000), st.sampled_from([50.0, 200.0]), st.floats(0.5, 6.0))
def test_a_steady_hand_has_no_tremor(seed, rate, noise):
    """The floor is reached by white noise once in some hundred holds; no tremor of that size is larger than noise."""
    fit = fitted(MadeStick(order=HOLD, seed=seed, rate_hz=rate, noise=noise))
    assert fit.tremor_hz is None or finding(fit, "tremor").value
    if fit.tremor_hz is None:
        assert finding(fit, "tremor").verdict == FITS
        assert (fit.cutoff_hz, fit.lag_ms) == (None, None)


def test_white_noise_is_hardly_ever_taken_for_a_tremor():
    chance = numpy.random.default_rng(3)
    found = [tremor_peak(chance.normal(0, 20, (1200, 2)), 200, 0.1) for _ in range(400)]
    assert len([one for one in found if one is not None]) <= 4


def test_a_hand_that_drifts_slowly_or_wanders_has_no_tremor():
    times = numpy.arange(1200) / 200
    drifting = numpy.stack([100 * times / 6, 40 * numpy.sin(2 * math.pi * 0.4 * times)], axis=1)
    assert tremor_peak(drifting, 200, 2) is None


@pytest.mark.parametrize("quarter", [0, 90, 180, -90])
def test_the_turn_is_how_far_the_base_stands_anticlockwise(quarter):
    assert apart(fitted(MadeStick(turn_deg=quarter)).rotation_deg, quarter) < 0.3


def test_at_90_degrees_a_forward_push_reads_as_plus_x():
    fit = fit_stick(read_capture(steady("rest", *PUSHES, "rest", forward=(812, 500), back=(212, 500), left=(512, 800),
                                        right=(512, 200))))  # fmt: skip
    assert (fit.rotation_deg, fit.mirrored) == (90.0, False)


@pytest.mark.parametrize(
    ("changed", "turn"),
    [
        ({"left": (812, 500), "right": (212, 500)}, 0.0),  # x reversed, or the marks of left and right swapped
        ({"forward": (512, 200), "back": (512, 800)}, 180.0),  # y reversed
        ({"forward": (812, 500), "back": (212, 500), "left": (512, 200), "right": (512, 800)}, 90.0),  # axes swapped
    ],
)
def test_one_crossing_is_a_mirror_and_is_never_cured_silently(changed, turn):
    fit = fit_stick(read_capture(steady("rest", *PUSHES, "rest", **changed)))
    assert (fit.rotation_deg, fit.mirrored) == (turn, True)
    told = finding(fit, "mirrored")
    assert (told.value, told.verdict) == ("yes", CHECK)
    assert "wires are crossed or marks swapped" in told.formula
    assert "turning a mount never mirrors" in told.formula
    assert "wheels-up run decides" in told.formula


@settings(deadline=None)
@given(st.lists(st.tuples(st.floats(-400, 400), st.floats(-400, 400)), min_size=4, max_size=4))
def test_turn_and_mirror_are_what_scipy_finds(pushes):
    lengths = [math.hypot(*push) for push in pushes]
    if min(lengths) < 1:
        return
    directions = numpy.array([[x / far, y / far] for (x, y), far in zip(pushes, lengths, strict=True)])
    aims = numpy.array([(0, 1), (0, -1), (-1, 0), (1, 0)])
    witness, _ = orthogonal_procrustes(aims, directions)  # aims @ witness = directions
    if min(numpy.linalg.svd(directions.T @ aims)[1]) < 1e-3:
        return  # no turn is best
    turn, mirrored = turn_and_mirror(pushes, aims.tolist())
    assert mirrored is bool(numpy.linalg.det(witness) < 0)
    assert apart(turn, math.degrees(math.atan2(*((0, 1) @ witness)))) < 1e-6


@given(st.lists(st.integers(0, 1023), min_size=1, max_size=50))
def test_noise_is_what_scipy_makes_of_the_median_deviation(readings):
    values = numpy.array(readings, dtype=float)
    witness = median_abs_deviation(values, scale="normal")
    assert sigma_of((values - numpy.median(values))[:, None]) == pytest.approx(witness, rel=1e-9)


@given(st.lists(st.tuples(st.integers(0, 65535), st.integers(0, 65535)), min_size=1, max_size=60))
def test_medians_are_what_numpy_makes_of_them(readings):
    values = numpy.array(readings, dtype=float)
    assert medians_of(values).tolist() == numpy.median(values, axis=0).tolist()


def test_the_noise_is_of_the_larger_axis():
    lines = "".join(f"512,{500 + 4 * (-1) ** at}\n" for at in range(40))
    fit = fit_stick(read_capture("# rest\n" + lines + steady(*PUSHES)))
    assert fit.noise == pytest.approx(4 * 1.482602, abs=1e-4)


def test_a_throw_is_from_the_rest_to_the_median_of_the_held_push():
    wavering = "# forward\n" + "512,700\n" * 40 + "512,790\n" * 30 + "512,800\n" * 31 + "512,810\n" * 30
    fit = fit_stick(read_capture(steady("rest", "back", "left", "right", "rest") + wavering))
    assert fit.throw_forward == 290  # the median of 131 readings; the deadband is not taken off
    assert fit.throw_back == 300


def test_what_comes_before_the_push_is_held_does_not_shorten_the_throw():
    late = "# forward\n" + "512,500\n" * 60 + "512,800\n" * 40
    assert fit_stick(read_capture(steady("rest", "back", "left", "right") + late)).throw_forward == 300


def test_the_return_spread_is_between_the_rests_furthest_apart():
    log = steady("rest", "forward") + steady("rest", rest=(515, 504)) + steady("back", "left", "right")
    fit = fit_stick(read_capture(log))
    assert fit.return_spread == 5.0
    assert fit.deadband == max(0.02 * 511.5, 5 * 0.7413011 + 5)
    wider = fit_stick(read_capture(log.replace("515,504", "521,512")))
    assert wider.deadband == pytest.approx(5 * 0.7413011 + 15, abs=1e-4)
    assert finding(wider, "neutral at rest").verdict == FITS


def test_a_stick_that_was_never_seen_to_come_back_is_unknown_there():
    fit = fit_stick(read_capture(steady("rest", *PUSHES)))
    assert fit.return_spread is None
    assert finding(fit, "return to rest").verdict == UNKNOWN
    assert finding(fit, "neutral at rest").verdict == UNKNOWN
    assert "a rest after a push" in finding(fit, "neutral at rest").missing


def test_a_spike_at_rest_stops_the_proof_that_rest_is_neutral():
    log = steady("rest", *PUSHES) + "# rest\n" + "512,500\n" * 50 + "512,540\n" + "512,500\n" * 5
    told = finding(fit_stick(read_capture(log)), "neutral at rest")
    assert (told.value, told.verdict) == (1, STOP)


def test_the_way_back_after_a_push_is_no_unrest():
    back = "# rest\n" + "".join(f"512,{800 - 30 * at}\n" for at in range(10)) + "512,500\n" * 40
    fit = fit_stick(read_capture(steady("rest", *PUSHES) + back))
    assert (finding(fit, "neutral at rest").value, fit.noise, fit.return_spread) == (0, 0.0, 0.0)


def test_a_deadband_of_more_than_half_the_smallest_throw_stops():
    noisy = MadeStick(throws=(0.13, 0.8, 0.8, 0.8), noise=6.0)
    assert finding(fitted(noisy), "deadband").verdict == STOP
    assert finding(fitted(noisy.but(noise=1.0)), "deadband").verdict == FITS


@pytest.mark.parametrize(
    ("change", "name"),
    [
        ({"noise": 8.0}, "noise at rest"),
        ({"drift": 40.0}, "return to rest"),
        ({"centre": (340.0, 512.0), "throws": (0.3,) * 4}, "rest centre x"),
        ({"throws": (0.2, 0.8, 0.8, 0.8)}, "throw forward"),
        ({"tremor_hz": 3.0, "order": HOLD}, "lag of the smoothing"),
    ],
)
def test_what_is_worth_a_second_look_says_so(change, name):
    assert finding(fitted(MadeStick()), name).verdict == FITS if name != "lag of the smoothing" else True
    told = finding(fitted(MadeStick().but(**change)), name)
    assert told.verdict == CHECK
    assert told.limit is not None


def test_a_push_askew_is_worth_a_second_look():
    fit = fit_stick(read_capture(steady("rest", *PUSHES, "rest", forward=(660, 790))))
    assert finding(fit, "pushes askew").verdict == CHECK
    assert 20 < finding(fit, "pushes askew").value < 35


def test_without_a_hold_the_tremor_is_unknown_and_nothing_is_smoothed():
    fit = fitted(MadeStick())
    assert (fit.tremor_hz, fit.cutoff_hz, fit.lag_ms) == (None, None, None)
    assert finding(fit, "tremor").missing == "a part of the capture after # hold"
    assert finding(fit, "smoothing").verdict == UNKNOWN


@pytest.mark.parametrize(
    ("change", "missing"),
    [
        ({"times": False}, "times in the capture (ms,x,y)"),
        ({"hold_s": 1.0}, "a hold of 2 s or more"),
        ({"rate_hz": 20.0}, "30 readings a second or more in the hold"),
    ],
)
def test_a_hold_that_cannot_tell_says_what_is_missing(change, missing):
    fit = fitted(MadeStick(order=HOLD, tremor_hz=5.0).but(**change))
    assert fit.tremor_hz is None
    assert finding(fit, "tremor").missing == missing


def test_a_hole_in_the_hold_leaves_the_tremor_unknown_and_is_told():
    lines = log_of(MadeStick(order=HOLD, tremor_hz=5.0)).splitlines()
    at = lines.index("# hold") + 400
    fit = fit_stick(read_capture("\n".join(lines[:at] + lines[at + 100 :])))
    assert finding(fit, "tremor").missing == "a hold without gaps of more than 0.25 s"
    assert finding(fit, "gap in the log").verdict == CHECK


def test_a_pause_between_two_marks_is_no_hole():
    lines = log_of(MadeStick()).splitlines()
    at = lines.index("# back")
    later = [f"{int(one.split(',')[0]) + 5000},{one.split(',', 1)[1]}" if one[0] != "#" else one for one in lines[at:]]
    fit = fit_stick(read_capture("\n".join(["# hold", *lines[:at], *later])))
    assert finding(fit, "gap in the log").value == 0.005


def test_a_logger_that_stutters_finds_the_same_tremor():
    stick = MadeStick(order=HOLD, tremor_hz=6.3, noise=1.0)
    chance = numpy.random.default_rng(5)
    lines, keep = [], 0
    for line in log_of(stick).splitlines():
        keep = keep - 1 if keep else 0
        if line.startswith("#") or not keep:
            lines.append(line)
            keep = int(chance.integers(1, 5)) if chance.random() < 0.2 else 0
    assert fit_stick(read_capture("\n".join(lines))).tremor_hz == pytest.approx(6.3, abs=0.1)


@pytest.mark.parametrize(
    ("log", "says"),
    [
        (steady("forward", "back", "left", "right"), "nothing after # rest. Take the capture again: hands off"),
        (steady("rest", "forward", "back", "right"), "nothing after # left."),
        (steady("rest"), "nothing after # forward, # back, # left, # right."),
        ("# rest\n512,510\n", "nothing after # forward"),
        (steady("rest", *PUSHES, count=1), "too short: 1 reading after # rest, and 20 or more are needed"),
        (steady("rest", *PUSHES, count=19), "too short: 19 readings after # rest"),
        (steady("rest", "rest", *PUSHES, count=9).replace("# rest\n", "# rest\n" + "512,500\n" * 11, 1),
         "too short: 9 readings after # forward, and 10 or more"),
        (steady("rest", *PUSHES, forward=(512, 1023)), "y reads 1023 after # forward, the rail of the converter."),
        (steady("rest", *PUSHES, left=(0, 500)), "x reads 0 after # left, the rail of the converter."),
        (steady("rest", *PUSHES, rest=(1023, 500)), "x reads 1023 after # rest"),
        (steady("rest", *PUSHES, left=(512, 501), right=(512, 499)), "x does not move: 0 counts at the most"),
        (steady("rest", *PUSHES, forward=(512, 500), back=(512, 500)), "y does not move"),
        (steady("rest", *PUSHES, forward=(512, 558)), "# forward goes 58 counts and must go 61.38 or more"),
        (steady("rest", *PUSHES, right=(532, 500)), "# right goes 20 counts"),
        (steady("rest", *PUSHES, back=(512, 700)), "after # forward and # back go to one side"),
        (steady("rest", *PUSHES, left=(700, 520)), "after # left and # right go to one side"),
        (steady("rest", *PUSHES, forward=(212, 500), left=(512, 800)), "No turn and no mirror of the stick explains"),
        (steady("rest", *PUSHES, rest=(512, 800), forward=(512, 500)), "go to one side"),
        (steady("rest", *PUSHES) + steady("rest", rest=(512, 600)), "The stick did not come back: its rests lie 100"),
        (steady("rest", *PUSHES) + steady("rest", rest=(512, 800)), "The stick did not come back"),
    ],
)
def test_a_bad_capture_says_what_is_wrong_and_how_to_take_it_again(log, says):
    told = refused(log)
    assert says in told
    assert "ake the capture again" in told


def test_too_short_a_time_is_told_in_seconds():
    quick = "".join(
        f"# {mark}\n" + "".join(f"{at + place * 40},{x},{y}\n" for at in range(40))
        for place, (mark, (x, y)) in enumerate(PLACES.items())
    )
    assert "too short: 0.039 s after # rest, and 0.5 s or more are needed" in refused(quick)


def test_a_rest_too_restless_for_the_push_is_refused():
    stick = MadeStick(throws=(0.13, 0.8, 0.8, 0.8), noise=15.0)
    told = refused(log_of(stick))
    assert "The rest is too restless" in told
    assert "# forward" in told


@pytest.mark.parametrize("share", [0.05, 0.09, 0.11])
def test_a_throw_below_12_percent_is_refused(share):
    assert "must go 61.38 or more" in refused(log_of(MadeStick(throws=(share, 0.8, 0.8, 0.8))))


@settings(deadline=None, max_examples=30)
@given(st.integers(0, 1000), st.floats(-180, 180), st.floats(0, 4))
def test_a_throw_of_just_12_percent_is_fitted(seed, turn, noise):
    stick = MadeStick(throws=(0.12,) * 4, seed=seed, turn_deg=turn, noise=noise)
    assert fitted(stick).throw_forward == pytest.approx(0.12 * 511.5, abs=2 + noise)


def test_a_stuck_push_is_no_return_even_when_it_creeps_back():
    told = refused(steady("rest", "forward") + steady("rest", rest=(512, 570)) + steady("back", "left", "right"))
    assert "its rests lie 70 counts apart, and 51.15 or less is needed" in told


def test_nothing_is_fitted_of_no_capture():
    with pytest.raises(EngineeringError, match="Enter the capture"):
        fit_stick(None)


def test_as_dict_tells_every_result_and_comes_back_whole():
    fit = fitted(MadeStick(order=HOLD, tremor_hz=4.0))
    told = fit.as_dict()
    assert list(told) == [*NAMES, "findings"]
    assert list(StickFit.__dataclass_fields__) == [*NAMES, "findings"]
    assert fit_of(told) == fit
    assert all(isinstance(told[name], (int, float, bool, type(None))) for name in NAMES)


@pytest.mark.parametrize(
    "stick",
    [
        MadeStick(),
        MadeStick(order=HOLD, tremor_hz=3.0, mirrored=True, noise=8.0, drift=40.0, throws=(0.2, 0.3, 0.2, 0.8)),
        MadeStick(order=HOLD, turn_deg=-60),
        MadeStick(order=("rest", *PUSHES), times=False, turn_deg=60),
        MadeStick(throws=(0.13, 0.8, 0.8, 0.8), noise=6.0, centre=(340.0, 512.0)),
    ],
)
def test_every_finding_has_its_sentence_for_the_bench(stick):
    stick = stick if stick.centre[0] > 400 else stick.but(throws=(0.13, 0.3, 0.3, 0.3))
    fit = fitted(stick)
    told = at_the_bench(fit)
    assert list(told) == [one.name for one in fit.findings]
    assert len({*told}) == len(fit.findings)
    for sentence in told.values():
        assert sentence[0].isupper() and sentence.endswith((".", "?"))


def test_the_sentences_say_which_way_and_how_much():
    told = at_the_bench(fitted(MadeStick(order=HOLD, turn_deg=-60, tremor_hz=5.0)))
    assert "turned 60\u00b0 clockwise" in told["turn of the stick"]
    assert told["tremor"] == "While holding, the hand trembles about 5 times a second."
    assert told["smoothing"] == "Smoothing lets 45 % of the trembling through to the wheels."
    assert "A stop is never delayed" in told["lag of the smoothing"]


def test_a_capture_against_itself_has_moved_nowhere():
    fit = fitted(MadeStick(order=HOLD, tremor_hz=5.0))
    assert [one for one in differences(fit, fit) if one.moved] == []


def test_two_captures_of_one_stick_are_the_same():
    stick = MadeStick(order=HOLD, tremor_hz=5.0)
    assert [one.words for one in differences(fitted(stick), fitted(stick.but(seed=9))) if one.moved] == []


def test_as_found_against_as_left_says_what_moved_and_which_way():
    found = fitted(MadeStick(turn_deg=170, throws=(0.5, 0.75, 0.7, 0.78)))
    left = fitted(MadeStick(turn_deg=-170, throws=(0.8, 0.75, 0.7, 0.78), order=HOLD, tremor_hz=5.0, mirrored=True))
    told = {one.name: one for one in differences(found, left)}
    assert {name for name, one in told.items() if one.moved} == {
        "throw forward", "turn of the stick", "mirrored", "tremor", "smoothing", "lag of the smoothing",
    }  # fmt: skip
    assert told["throw forward"].words == "throw forward is 153 counts more"
    assert told["turn of the stick"].change == pytest.approx(20, abs=0.3)  # the short way round
    assert told["mirrored"].words == "mirrored was no and is yes"
    assert told["tremor"].words == "tremor was unknown and is 5 Hz"
    back = {one.name: one.words for one in differences(left, found)}
    assert back["tremor"] == "tremor is unknown now and was 5 Hz"


def test_converters_of_different_bits_are_compared_in_shares():
    told = differences(fitted(MadeStick()), fitted(MadeStick(bits=12, centre=(2034.0, 2086.0), noise=4.8)))
    assert {one.unit for one in told if one.name.startswith("throw")} == {"% of half range"}
    assert [one.name for one in told if one.moved] == []


def test_the_lag_is_the_delay_of_a_ramp_through_the_filter():
    """A witness in steps: y += (x - y) dt / (RC + dt) follows a ramp late by RC."""
    cutoff, dt = 2.0, 0.0005
    rc, y = 1 / (2 * math.pi * cutoff), 0.0
    for at in range(10_000):
        x = at * dt
        y += (x - y) * dt / (rc + dt)
    assert (x - y) * 1000 == pytest.approx(lag_of(cutoff), rel=0.01)


def test_the_made_sticks_are_made_of_the_definition():
    """A stick whose base is turned 90 degrees anticlockwise has its x where forward was."""
    parts = dict(readings_of(MadeStick(turn_deg=90, noise=0.0, centre=(0.0, 0.0), order=("rest", "forward"))))
    assert parts["forward"][-1].tolist() == pytest.approx([0.8 * 511.5, 0], abs=1e-9)
