"""The settings of a drive as whole numbers on power-of-two scales, as the controller has them, and their digest.

Rounding never flatters: a ceiling, a gain and a rise are rounded down, a deadband is rounded up.
"""

import re
from dataclasses import dataclass, fields
from hashlib import sha256
from math import ceil, cos, exp, floor, pi, radians, sin

from builds.engineering.drive_settings import MOST_CEILINGS, THROWS
from builds.engineering.finding import EngineeringError

# Scales of the core, all powers of two.
CORE_VERSION = 1
POSITION_BITS = 15  # every reading is brought to 15 bits
FULL_BITS = 15  # a full command is 2^15
FULL = 1 << FULL_BITS
TURN_BITS = 14
GAIN_BITS = 16
SHARE_BITS = 16  # share of the way that smoothing goes in a frame
LARGEST_GAIN = 2**16 - 1
# What a turned reading may be off on the scale of positions: centre and, of 16 bits, the reading (half a unit on two
# axes each), the turn (half of 2^-14 of two full axes) and the result (half) come to less than this.
SLACK = 4


@dataclass(frozen=True)
class DriveNumbers:
    """The settings as the core has them: whole numbers only, each in the unit that the header tells."""

    core_version: int
    adc_bits: int
    centre_x: int
    centre_y: int
    right_from_x: int
    right_from_y: int
    forward_from_x: int
    forward_from_y: int
    deadband: int
    throw_forward: int
    throw_back: int
    throw_left: int
    throw_right: int
    gain_forward: int
    gain_back: int
    gain_left: int
    gain_right: int
    band_low: int
    band_high: int
    expo: int
    turn_gain: int
    reverse_gain: int
    smoothing: int
    rise: int
    fall: int
    ceiling_0: int
    ceiling_1: int
    ceiling_2: int
    ceiling_3: int
    ceiling_4: int
    ceiling_count: int
    ceiling_slowest: int
    has_selector: int
    neutral_left_us: int
    neutral_right_us: int
    span_us: int
    inverted_left: int
    inverted_right: int
    frame_ms: int
    rest_ms: int
    late_ms: int

    @property
    def ceilings(self):
        return (self.ceiling_0, self.ceiling_1, self.ceiling_2, self.ceiling_3, self.ceiling_4)

    @property
    def text(self):
        """Every number by name, one a line, always in the same order: what the digest is made of."""
        return "".join(f"{field.name} {getattr(self, field.name)}\n" for field in fields(self))


def drive_numbers(settings):
    """The settings in whole numbers, as the core has them.

    Readings are brought to 15 bits; a full command is 2^15; a gain is 2^31 over the way from deadband to throw.
    Parameters: settings: a DriveSettings [-]. Returns DriveNumbers [-]. The deadband is rounded up and the throws
    down by what the core may lose in rounding, so that a reading within the recorded deadband is exactly neutral and
    one at the recorded throw is exactly full; ceilings, gains and rise are rounded down. Source: definition.

    >>> from builds.engineering.drive_settings import EXAMPLE
    >>> numbers = drive_numbers(EXAMPLE)
    >>> numbers.centre_x, numbers.deadband, numbers.throw_right, numbers.gain_right, numbers.ceiling_0
    (16384, 644, 12796, 176719, 10813)
    """
    scale = 2 ** (POSITION_BITS - settings.adc_bits)
    deadband = ceil(settings.deadband * scale) + SLACK
    throws = {name: floor(getattr(settings, name) * scale) - SLACK for name in THROWS}
    gains = {
        name.replace("throw", "gain"): round(2 ** (FULL_BITS + GAIN_BITS) / (throw - deadband))
        for name, throw in throws.items()
    }
    return DriveNumbers(
        core_version=CORE_VERSION,
        adc_bits=settings.adc_bits,
        centre_x=round(settings.centre_x * scale),
        centre_y=round(settings.centre_y * scale),
        **_turn(settings),
        deadband=deadband,
        **throws,
        **gains,
        band_low=ceil(settings.band_low),
        band_high=floor(settings.band_high),
        expo=round(settings.expo * FULL),
        turn_gain=min(floor(settings.turn_gain * FULL), LARGEST_GAIN),
        reverse_gain=floor(settings.reverse_gain * FULL),
        **_pace(settings),
        **_ceilings(settings),
        **{name: int(getattr(settings, name)) for name in _AS_THEY_ARE},
    )


_AS_THEY_ARE = (
    "has_selector", "neutral_left_us", "neutral_right_us", "span_us", "inverted_left", "inverted_right", "frame_ms",
    "rest_ms", "late_ms",
)  # fmt: skip


def _turn(settings):
    """What the two readings give to the pushes right and forward."""
    turn = radians(settings.rotation_deg)
    one = 1 << TURN_BITS
    side = -1 if settings.mirrored else 1
    return {
        "right_from_x": round(side * cos(turn) * one),
        "right_from_y": round(-side * sin(turn) * one),
        "forward_from_x": round(sin(turn) * one),
        "forward_from_y": round(cos(turn) * one),
    }


def _pace(settings):
    """What a frame may change: the share of the way that smoothing goes, the most it may rise and fall."""
    frame_s, whole = settings.frame_ms / 1000, 1 << SHARE_BITS
    share = 1 if settings.cutoff_hz is None else 1 - exp(-2 * pi * settings.cutoff_hz * frame_s)
    return {
        "smoothing": min(ceil(share * whole), whole),
        "rise": max(floor(settings.slew_up_per_s * frame_s * FULL), 1),
        "fall": min(ceil(settings.slew_down_per_s * frame_s * FULL), LARGEST_GAIN),
    }


def _ceilings(settings):
    shares = [max(floor(share * FULL), 1) for share in settings.ceilings]
    padded = shares + [min(shares)] * (MOST_CEILINGS - len(shares))
    return {
        **{f"ceiling_{position}": share for position, share in enumerate(padded)},
        "ceiling_count": len(shares),
        "ceiling_slowest": min(shares),
    }


DIGEST_SIGNS = 8


def settings_digest(settings):
    """The digest of the settings, short enough to be typed back at the bench.

    The first eight hexadecimal digits of SHA-256 over the text of the numbers that the controller runs, in two groups.
    Parameters: settings: a DriveSettings [-]. Returns text [-]. It tells apart settings that were mixed up or
    are out of date; it does not stop anybody who means to deceive. Source: FIPS 180-4; the length: common practice.

    >>> from builds.engineering.drive_settings import EXAMPLE
    >>> settings_digest(EXAMPLE)
    '2BAD-1EF0'
    """
    return _grouped(sha256(drive_numbers(settings).text.encode("ascii")).hexdigest()[:DIGEST_SIGNS])


def typed_digest(text):
    """A digest as somebody typed it from the controller's screen, in the form of `settings_digest`.

    Parameters: text: eight hexadecimal digits [-]; case, spaces and dashes do not matter. Returns text [-]. Raises
    EngineeringError. Source: definition.

    >>> typed_digest(" 4f3a 9c21")
    '4F3A-9C21'
    """
    signs = re.sub(r"[\s\-\u2010-\u2015]+", "", str(text or "")[:60])
    if not re.fullmatch(r"[0-9A-Fa-f]{8}", signs):
        raise EngineeringError("Digest must be the 8 digits and letters A to F that the controller prints at start.")
    return _grouped(signs)


def _grouped(signs):
    return f"{signs[:4]}-{signs[4:]}".upper()
