"""The settings of a drive: what is refused, how numbers are rounded, and the digest."""

from dataclasses import fields, replace
from math import floor

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builds.engineering.capture import read_capture
from builds.engineering.drive_core import DriveCore
from builds.engineering.drive_map import stick_push
from builds.engineering.drive_numbers import FULL, drive_numbers, settings_digest, typed_digest
from builds.engineering.drive_settings import EXAMPLE, FROM_FIT, DriveSettings
from builds.engineering.finding import EngineeringError
from builds.engineering.stick_fit import fit_stick
from tests.engineering.core.fits import FITS, SIXTEEN_BITS, TWELVE_BITS

WRONG = [
    ("adc_bits", 7), ("adc_bits", 17), ("adc_bits", 10.5), ("adc_bits", True), ("centre_x", -1), ("centre_y", 1024),
    ("centre_x", float("nan")), ("rotation_deg", 181), ("rotation_deg", "45"), ("mirrored", "perhaps"),
    ("deadband", -1), ("deadband", 195.1), ("throw_forward", 61), ("throw_left", 1024), ("throw_back", 460),
    ("throw_right", 461), ("cutoff_hz", 0.1), ("cutoff_hz", 26), ("band_low", 0), ("band_high", 1023),
    ("band_low", 980), ("band_low", 120), ("ceilings", ()), ("ceilings", (0.5,) * 6), ("ceilings", (0,)),
    ("ceilings", (1.01,)), ("ceilings", 0.5), ("ceilings", "0.5"), ("ceilings", (None,)), ("ceilings", (0.5, "1")),
    ("turn_gain", 2.1), ("reverse_gain", 1.1), ("expo", 1.1), ("expo", -0.1), ("slew_up_per_s", 0.05),
    ("slew_up_per_s", 51), ("slew_down_per_s", 0.9), ("neutral_left_us", 999), ("neutral_right_us", 1500.5),
    ("span_us", 49), ("span_us", 1001), ("inverted_left", 2), ("frame_ms", 4), ("frame_ms", 26), ("rest_ms", 199),
    ("rest_ms", 5001), ("late_ms", 39), ("late_ms", 251), ("has_selector", "one"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "value"), WRONG)
def test_what_cannot_be_is_refused_in_one_line(name, value):
    with pytest.raises(EngineeringError) as refused:
        replace(EXAMPLE, **{name: value})
    assert len(str(refused.value).splitlines()) == 1
    assert "must" in str(refused.value)


@pytest.mark.parametrize("name", [field.name for field in fields(DriveSettings) if field.name != "cutoff_hz"])
def test_what_is_unknown_is_asked_for(name):
    with pytest.raises(EngineeringError, match="must"):
        replace(EXAMPLE, **{name: None})


def test_pulses_stay_within_what_motor_controllers_can_take():
    assert replace(EXAMPLE, span_us=1000)
    with pytest.raises(EngineeringError, match="right less and plus the span must be within 500 to 2500"):
        replace(EXAMPLE, span_us=1000, neutral_right_us=1501)


@pytest.mark.parametrize("turn", [0, 45, 90, -90, 180])
@pytest.mark.parametrize("mirrored", [True, False])
def test_a_push_that_would_read_as_a_broken_wire_is_refused(turn, mirrored):
    """Whichever way the stick is turned, the end of each push must lie within the possible readings."""
    inside = replace(EXAMPLE, rotation_deg=turn, mirrored=mirrored)
    for throw in ("throw_forward", "throw_back", "throw_left", "throw_right"):
        x, y = inside.reading_of(throw)
        assert 51 <= x <= 972 and 51 <= y <= 972
        with pytest.raises(EngineeringError, match="which must lie within the possible"):
            replace(inside, **{throw: 700})


@pytest.mark.parametrize(("turn", "mirrored", "forward", "right"), [
    (0, False, (512, 908), (912, 508)), (90, False, (912, 508), (512, 108)), (180, False, (512, 108), (112, 508)),
    (-90, False, (112, 508), (512, 908)), (0, True, (512, 908), (112, 508)), (90, True, (912, 508), (512, 908)),
])  # fmt: skip
def test_a_turned_stick_reads_as_its_base_says(turn, mirrored, forward, right):
    """At +90, the base turned anticlockwise seen from above, a forward push reads as +x."""
    fit = replace(EXAMPLE, rotation_deg=turn, mirrored=mirrored)
    assert fit.reading_of("throw_forward") == pytest.approx(forward)
    assert fit.reading_of("throw_right") == pytest.approx(right)


def test_a_fit_of_a_capture_gives_the_settings_of_the_stick():
    """The fit and the settings mean the same turn and mirror: each held push of the capture is full that way."""
    held = {"rest": "512 500", "forward": "812 440", "back": "212 560", "left": "452 200", "right": "572 800"}
    log = "".join(f"# {mark}\n" + f"{reading}\n" * 30 for mark, reading in held.items())
    fit = fit_stick(read_capture(log + "# rest\n" + "512 500\n" * 30))
    rest = {field.name: getattr(EXAMPLE, field.name) for field in fields(EXAMPLE) if field.name not in FROM_FIT}
    made = DriveSettings.from_fit(fit, **rest)
    assert made.mirrored and made.deadband == fit.deadband
    wanted = {"rest": (0, 0), "forward": (0, 1), "back": (0, -1), "left": (-1, 0), "right": (1, 0)}
    for mark, reading in held.items():
        x, y = map(int, reading.split())
        assert stick_push(made, x_counts=x, y_counts=y) == pytest.approx(wanted[mark], abs=1e-9)
        push = DriveCore(drive_numbers(made)).read_push(x, y)
        assert (push.turn, push.drive) == (wanted[mark][0] * drive_numbers(made).turn_gain, {
            "forward": FULL, "back": -drive_numbers(made).reverse_gain}.get(mark, 0))  # fmt: skip


def test_nothing_is_rounded_to_the_faster_side():
    for fit in (*FITS.values(), TWELVE_BITS, SIXTEEN_BITS):
        numbers = drive_numbers(fit)
        for own, share in zip(numbers.ceilings, fit.ceilings, strict=False):
            assert FULL * share - 1 < own <= FULL * share
        assert numbers.turn_gain <= fit.turn_gain * FULL and numbers.reverse_gain <= fit.reverse_gain * FULL
        assert numbers.rise == floor(fit.slew_up_per_s * fit.frame_ms / 1000 * FULL)
        assert numbers.deadband > fit.deadband * 2 ** (15 - fit.adc_bits)
        assert numbers.ceiling_slowest == min(numbers.ceilings[: len(fit.ceilings)])


CHANGED = {
    "adc_bits": 11, "centre_x": 513, "centre_y": 509, "rotation_deg": 1, "mirrored": True, "deadband": 21,
    "throw_forward": 401, "throw_back": 391, "throw_left": 399, "throw_right": 399, "cutoff_hz": None, "band_low": 52,
    "band_high": 971, "ceilings": (0.33, 0.6), "has_selector": False, "turn_gain": 0.71, "reverse_gain": 0.51,
    "expo": 0.31, "slew_up_per_s": 1.1, "slew_down_per_s": 4.1, "neutral_left_us": 1501, "neutral_right_us": 1501,
    "span_us": 499, "inverted_left": True, "inverted_right": True, "frame_ms": 19, "rest_ms": 501, "late_ms": 101,
}  # fmt: skip


def test_every_field_changes_the_digest():
    assert set(CHANGED) == {field.name for field in fields(DriveSettings)}
    digests = {settings_digest(replace(EXAMPLE, **{name: value})) for name, value in CHANGED.items()}
    assert len(digests | {settings_digest(EXAMPLE)}) == len(CHANGED) + 1


def test_the_same_settings_have_the_same_digest():
    assert settings_digest(replace(EXAMPLE)) == settings_digest(EXAMPLE)
    assert settings_digest(replace(EXAMPLE, ceilings=[0.33, 0.6, 1])) == settings_digest(EXAMPLE)


@given(st.sampled_from([*FITS.values()]), st.sampled_from(["{}", " {} ", "{0}\n"]), st.booleans())
def test_a_digest_typed_back_is_the_same(fit, around, small):
    digest = settings_digest(fit)
    typed = around.format(digest.replace("-", " ").lower() if small else digest.replace("-", ""))
    assert typed_digest(typed) == digest


@pytest.mark.parametrize(
    "typed", ["", None, "4F3A-9C2", "4F3A-9C211", "4F3A-9C2G", "4F3A_9C21", "\uff11234-5678", "x" * 999]
)
def test_what_is_no_digest_is_refused(typed):
    with pytest.raises(EngineeringError, match="Digest must be the 8 digits"):
        typed_digest(typed)
