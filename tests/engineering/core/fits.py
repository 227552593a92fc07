"""Invented sticks and configurations that differ as much as they may."""

from dataclasses import replace

from builds.engineering.drive_settings import EXAMPLE

FITS = {
    "straight": EXAMPLE,
    "turned": replace(
        EXAMPLE, centre_x=498.4, centre_y=531.7, rotation_deg=37, throw_forward=331.5, throw_back=200.25,
        throw_left=290, throw_right=310, band_low=40, band_high=985,
    ),
    "mirrored": replace(
        EXAMPLE, rotation_deg=-121.3, mirrored=True, deadband=33.3, expo=0, cutoff_hz=None,
        ceilings=(1, 0.2, 0.45, 0.7, 0.07),
    ),
    "short throw": replace(
        EXAMPLE, centre_x=700, centre_y=300.5, rotation_deg=180, deadband=10, throw_forward=61.4, throw_back=70,
        throw_left=61.4, throw_right=62, ceilings=(0.25, 0.5),
    ),
    "noisy": replace(EXAMPLE, rotation_deg=5.5, deadband=150, throw_forward=301, cutoff_hz=0.5, ceilings=(0.4, 0.8)),
    "trimmed": replace(
        EXAMPLE, has_selector=False, neutral_left_us=1478, neutral_right_us=1533, span_us=401, turn_gain=1,
        reverse_gain=1, expo=0, slew_up_per_s=50, slew_down_per_s=50, ceilings=(0.6, 0.3),
    ),
    "inverted": replace(
        EXAMPLE, rotation_deg=90, inverted_left=True, turn_gain=2, reverse_gain=0, expo=1, span_us=1000,
        slew_up_per_s=0.1, slew_down_per_s=1, ceilings=(1,),
    ),
}  # fmt: skip
TWELVE_BITS = replace(
    EXAMPLE, adc_bits=12, centre_x=2011.3, centre_y=2100, rotation_deg=-63.5, mirrored=True, deadband=61,
    throw_forward=1400, throw_back=900, throw_left=1300.5, throw_right=1250, band_low=205, band_high=3890,
    inverted_right=True, ceilings=(0.5,),
)  # fmt: skip
EIGHT_BITS = replace(
    EXAMPLE, adc_bits=8, centre_x=127.5, centre_y=125, rotation_deg=-12, deadband=4, throw_forward=90, throw_back=88,
    throw_left=60, throw_right=70, band_low=1, band_high=254,
)  # fmt: skip
# The largest products: readings 16 bits wide, turned by an eighth, one throw as long and three as short as may be.
SIXTEEN_BITS = replace(
    TWELVE_BITS, adc_bits=16, centre_x=62000, centre_y=62000.4, rotation_deg=45, mirrored=False,
    deadband=1966, throw_forward=3933, throw_back=65535, throw_left=3933, throw_right=3933, band_low=1, band_high=65534,
    turn_gain=2, span_us=1000, ceilings=(1,), neutral_left_us=1500, neutral_right_us=1500,
)  # fmt: skip
