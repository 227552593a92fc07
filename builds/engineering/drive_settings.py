"""Everything the controller of a two-motor drive needs to know, and what each number may be.

The fit of the stick and the configuration say it in numbers that people read; `drive_numbers` makes of them the whole
numbers that the controller works with.
"""

from dataclasses import dataclass, fields
from math import floor

from builds.engineering import guards
from builds.engineering.finding import EngineeringError
from builds.engineering.finding import plain as rounded
from builds.engineering.stick_maths import reading_of

# Common practice, no source: shares of half the converter's range, and of the shortest throw.
LEAST_THROW = 0.12
LARGEST_DEADBAND_OF_THROW = 0.5
MOST_CEILINGS = 5
PULSE_LEAST_US, PULSE_MOST_US = 500, 2500
# A command that falls because the stick is eased reaches nothing within a second; a release never waits for it.
SLOWEST_FALL_PER_S = 1.0
MOST_LATE_MS = 250

# label, unit, least, most, whole
RANGES = {
    "adc_bits": ("Bits of the converter", "bit", 8, 16, True),
    "rotation_deg": ("Turn of the stick's base", "\u00b0", -180, 180, False),
    "cutoff_hz": ("Cut-off of the smoothing", "Hz", 0.2, 25, False),
    "turn_gain": ("Turn gain", "", 0, 2, False),
    "reverse_gain": ("Reverse gain", "", 0, 1, False),
    "expo": ("Expo shape", "", 0, 1, False),
    "slew_up_per_s": ("Rise of the command", "per second", 0.1, 50, False),
    "slew_down_per_s": ("Fall of the command", "per second", SLOWEST_FALL_PER_S, 50, False),
    "neutral_left_us": ("Neutral pulse, left", "\u00b5s", 1000, 2000, True),
    "neutral_right_us": ("Neutral pulse, right", "\u00b5s", 1000, 2000, True),
    "span_us": ("Span of the pulse", "\u00b5s", 50, 1000, True),
    "frame_ms": ("Frame", "ms", 5, 25, True),
    "rest_ms": ("Rest before it is armed", "ms", 200, 5000, True),
    "late_ms": ("Longest time without a reading", "ms", 20, MOST_LATE_MS, True),
}
COUNTS = {
    "centre_x": "Rest of the sideways axis",
    "centre_y": "Rest of the forward axis",
    "deadband": "Deadband",
    "throw_forward": "Throw forward",
    "throw_back": "Throw back",
    "throw_left": "Throw left",
    "throw_right": "Throw right",
    "band_low": "Lowest possible reading",
    "band_high": "Highest possible reading",
}
FROM_FIT = (
    "adc_bits", "centre_x", "centre_y", "rotation_deg", "mirrored", "deadband", "throw_forward", "throw_back",
    "throw_left", "throw_right", "cutoff_hz",
)  # fmt: skip
THROWS = ("throw_forward", "throw_back", "throw_left", "throw_right")
ANSWERS = {
    "mirrored": "Mirrored",
    "has_selector": "Speed selector fitted",
    "inverted_left": "Left motor controller inverted",
    "inverted_right": "Right motor controller inverted",
}


@dataclass(frozen=True, kw_only=True)
class DriveSettings:
    """What one cart's controller runs. Every field must be known; EngineeringError says which is not, or is wrong.

    From the fit of the stick (counts are readings of the converter, of `adc_bits` bits, 8 to 16):
    `centre_x`, `centre_y`: reading at rest. `rotation_deg`: how far the stick's base is turned anticlockwise seen from
    above, -180 to 180; at +90 a forward push reads as +x. `mirrored`: True where a push right reads on the other side
    of the turned forward push than on a stick that is not mirrored; the forward push alone says the turn.
    `deadband`: up to half of the shortest throw, on each axis after the turn.
    `throw_forward`, `throw_back`, `throw_left`, `throw_right`: from the centre to full command, deadband not taken
    off; from 12 % of half range. `cutoff_hz`: cut-off of the smoothing, 0.2 to 25, or None for no smoothing.
    `band_low`, `band_high`: the least and the largest reading that the whole stick can give; beyond them a wire is
    broken. Both rails of the converter always lie outside. Every push of the fit must lie inside.

    From the configuration:
    `ceilings`: 1 to 5 shares of the full command, above 0 to 1, in the order of the selector's positions.
    `has_selector`: False where none is fitted; then the slowest ceiling holds.
    `turn_gain`: 0 to 2. `reverse_gain`: 0 to 1. `expo`: 0 is straight, 1 is wholly cubed.
    `slew_up_per_s`: most that an axis command, as a share of full, may rise in a second; 0.1 to 50.
    `slew_down_per_s`: most that it may fall while the stick is eased but still pushed; 1 to 50, so that easing never
    lags by more than a second. A release, a reversal, a broken wire and a late reading never wait for it.
    `neutral_left_us`, `neutral_right_us`: trimmed neutral pulse of each motor controller, 1000 to 2000.
    `span_us`: from neutral to full command, 50 to 1000; neutral less and plus span within 500 to 2500.
    `inverted_left`, `inverted_right`: True where a longer pulse turns that wheel backward.
    `frame_ms`: time between pulses, 5 to 25. `rest_ms`: how long the stick must rest before the drive is armed, 200
    to 5000. `late_ms`: longest time without a reading, from two frames to 250; the pulses are neutral within this and
    one frame more.
    """

    adc_bits: int
    centre_x: float
    centre_y: float
    rotation_deg: float
    mirrored: bool
    deadband: float
    throw_forward: float
    throw_back: float
    throw_left: float
    throw_right: float
    cutoff_hz: float | None
    band_low: float
    band_high: float
    ceilings: tuple
    has_selector: bool
    turn_gain: float
    reverse_gain: float
    expo: float
    slew_up_per_s: float
    slew_down_per_s: float
    neutral_left_us: int
    neutral_right_us: int
    span_us: int
    inverted_left: bool
    inverted_right: bool
    frame_ms: int = 20
    rest_ms: int = 500
    late_ms: int = 100

    def __post_init__(self):
        for field in fields(self):
            object.__setattr__(self, field.name, self._read(field.name, getattr(self, field.name)))
        self._refuse_rails()
        self._refuse_throws()
        self._refuse_pulses()
        if self.late_ms < 2 * self.frame_ms:
            least = 2 * self.frame_ms
            raise _refusal("late_ms", f"must be two frames, {least} ms, or more, not {self.late_ms} ms")

    @classmethod
    def from_fit(cls, fit, **rest):
        """The settings of a StickFit, or of anything with its names, and of the configuration's in `rest`."""
        return cls(**{name: getattr(fit, name) for name in FROM_FIT}, **rest)

    @property
    def full_scale(self):
        return 2**self.adc_bits - 1

    @property
    def neutral_within_ms(self):
        """The longest time from the last reading to neutral pulses, when readings stop."""
        return self.late_ms + self.frame_ms

    def _read(self, name, value):
        if name == "ceilings":
            return _read_ceilings(value)
        if name in ANSWERS:
            return _known(name, guards.answer(ANSWERS[name], value))
        if name in COUNTS:
            return _known(name, guards.number(COUNTS[name], value, "counts", minimum=0, maximum=self.full_scale))
        if name == "cutoff_hz" and value is None:
            return None
        label, unit, least, most, is_whole = RANGES[name]
        read = guards.whole if is_whole else guards.number
        return _known(name, read(label, value, unit, minimum=least, maximum=most))

    def _refuse_rails(self):
        if not 0 < self.band_low < self.band_high < self.full_scale:
            raise EngineeringError(
                f"Possible readings must lie between the rails, from 1 to {self.full_scale - 1} counts, lowest before "
                f"highest, not {_plain(self.band_low)} to {_plain(self.band_high)} counts."
            )

    def _refuse_throws(self):
        least, most = LEAST_THROW * (self.full_scale / 2), LARGEST_DEADBAND_OF_THROW
        for name in THROWS:
            throw = getattr(self, name)
            if throw < least:
                raise _refusal(name, f"must be {_plain(least)} counts or more, not {_plain(throw)} counts")
            if self.deadband > most * throw:
                told = f"must be {_plain(most * throw)} counts, half of the {_label(name).lower()}, or less"
                raise _refusal("deadband", f"{told}, not {_plain(self.deadband)} counts")
            for axis, reading in zip("xy", self.reading_of(name), strict=True):
                if not self.band_low <= reading <= self.band_high:
                    told = f"reads {_plain(reading)} counts on the {axis} axis, which must lie within the possible"
                    raise _refusal(name, f"{told} {_plain(self.band_low)} to {_plain(self.band_high)} counts")

    def reading_of(self, throw):
        """Where the end of one of THROWS reads on the x and the y axis [counts]."""
        size = getattr(self, throw)
        right, forward = {
            "throw_forward": (0, size), "throw_back": (0, -size), "throw_left": (-size, 0), "throw_right": (size, 0),
        }[throw]  # fmt: skip
        x, y = reading_of(right, forward, self.rotation_deg, self.mirrored)
        return self.centre_x + x, self.centre_y + y

    def _refuse_pulses(self):
        for name in ("neutral_left_us", "neutral_right_us"):
            neutral = getattr(self, name)
            if neutral - self.span_us < PULSE_LEAST_US or neutral + self.span_us > PULSE_MOST_US:
                raise _refusal(
                    name,
                    f"less and plus the span must be within {PULSE_LEAST_US} to {PULSE_MOST_US} \u00b5s, "
                    f"not {neutral} \u00b5s with a span of {self.span_us} \u00b5s",
                )


def usual_band(adc_bits):
    """The least and the largest reading that a stick on the converter's own supply usually can give.

    From 5 to 95 % of the supply, as 0.25 to 4.75 V of 5 V. Parameters: adc_bits: bits of the converter, 8 to 16 [bit].
    Returns lowest and highest reading [counts]. Only where the stick itself stays within 10 to 90 %; a stick that
    reaches further needs its own band. Raises EngineeringError. Common practice, no source.

    >>> usual_band(10)
    (52, 972)
    """
    bits = _known("adc_bits", guards.whole("Bits of the converter", adc_bits, "bit", minimum=8, maximum=16))
    return floor(0.05 * 2**bits) + 1, floor(0.95 * 2**bits)


def _read_ceilings(value):
    try:
        shares = tuple(value)
    except TypeError:
        shares = ()
    if isinstance(value, str) or not 1 <= len(shares) <= MOST_CEILINGS:
        raise EngineeringError(f"Speed ceilings must be 1 to {MOST_CEILINGS} shares of the full command.")
    read = [guards.number("Speed ceiling", share, "", above=0, maximum=1) for share in shares]
    if None in read:
        raise EngineeringError("Speed ceiling must be known: enter its share of the full command, above 0 to 1.")
    return tuple(read)


def _plain(number):
    return rounded(number, 6)


def _label(name):
    return RANGES[name][0] if name in RANGES else COUNTS.get(name) or ANSWERS[name]


def _known(name, value):
    if value is None:
        raise _refusal(name, "must be known before the controller can run it")
    return value


def _refusal(name, told):
    return EngineeringError(f"{_label(name)} {told}.")


# An invented stick, for examples: 10 bits, on the x axis from 112 to 912 counts.
EXAMPLE = DriveSettings(
    adc_bits=10, centre_x=512, centre_y=508, rotation_deg=0, mirrored=False, deadband=20, throw_forward=400,
    throw_back=390, throw_left=400, throw_right=400, cutoff_hz=3, band_low=51, band_high=972, ceilings=(0.33, 0.6, 1),
    has_selector=True, turn_gain=0.7, reverse_gain=0.5, expo=0.3, slew_up_per_s=1, slew_down_per_s=4,
    neutral_left_us=1500, neutral_right_us=1500, span_us=500, inverted_left=False, inverted_right=False,
)  # fmt: skip
