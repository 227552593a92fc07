"""Servo pulses (S), smoothing (J) and the band of a stick (J) against published values, through the drive map."""

from dataclasses import replace

from builds.engineering.drive_map import USUAL_LEAST_US, USUAL_MOST_US, drive_output
from builds.engineering.drive_numbers import drive_numbers
from builds.engineering.drive_settings import EXAMPLE, PULSE_LEAST_US, PULSE_MOST_US, RANGES, usual_band
from tests.published.rows import DERIVED, PRACTICE, SEEN, Row, checked

CONVENTION = "glossary of an open-source radio firmware community"
SERVO = "encyclopaedia copy on servo control"
LIBRARY = "header of the common open-source servo library, degrees to pulse, remainder cut off"
MAP = "language reference, function map"
PORT = "docs of a port of an open pin library, defaults"
LOW_PASS = "1 - exp(-2 pi fc / fs), a numerical forum's answer"


def pulse(push, **settings):
    return drive_output(x=0, y=push, **settings).left_us


def at_degrees(degrees):
    """0 to 180 degrees as a push of -1 to 1, between that library's own ends; it cuts the remainder off."""
    return int(pulse((degrees - 90) / 90, neutral_us=(544 + 2400) / 2, span_us=(2400 - 544) / 2))


def smoothing(cutoff_hz):
    """Share of the way in a frame of 20 ms, 50 a second."""
    return drive_numbers(replace(EXAMPLE, cutoff_hz=cutoff_hz, frame_ms=20)).smoothing / 2**16


ROWS = [
    Row("S-01", CONVENTION, SEEN, [pulse(push) for push in (-1, 0, 1)], [1000, 1500, 2000]),
    Row("S-01 usual", CONVENTION, SEEN, (USUAL_LEAST_US, USUAL_MOST_US), (1000, 2000)),
    Row("S-02", SERVO, SEEN, EXAMPLE.frame_ms, 20),
    Row("S-02 accepted", SERVO, SEEN, [1000 / RANGES["frame_ms"][end] for end in (3, 2)], [40, 200]),
    Row("S-03", "definition", DERIVED, pulse(0) / (EXAMPLE.frame_ms * 1000), 0.075, 1e-12),
    Row("S-06", LIBRARY, DERIVED, at_degrees(0), 544),
    Row("S-07", LIBRARY, DERIVED, at_degrees(1), 554),
    Row("S-08", LIBRARY, DERIVED, at_degrees(30), 853),
    Row("S-09", LIBRARY, DERIVED, at_degrees(45), 1008),
    Row("S-10", LIBRARY, DERIVED, at_degrees(90), 1472),
    Row("S-11", LIBRARY, DERIVED, at_degrees(120), 1781),
    Row("S-12", LIBRARY, DERIVED, at_degrees(180), 2400),
    Row("S-17", MAP, DERIVED, [round(pulse(push), 9) for push in (-1, -0.33, 0, 0.5)], [1000, 1335, 1500, 1750]),
    Row("S-18", PORT, DERIVED, pulse(0.4) / 1000, 1.7, 1e-6),
    Row("J-08 exact pole", LOW_PASS, DERIVED, smoothing(2), 0.22223, 2e-5),
    Row("J-09 exact pole", LOW_PASS, DERIVED, smoothing(1), 0.11809, 2e-5),
    Row("J-14 lowest", "0.25 V of 5 V", PRACTICE, usual_band(10)[0] / 1024 * 5, 0.25, 5 / 1024),
    Row("J-14 highest", "4.75 V of 5 V", PRACTICE, usual_band(10)[1] / 1024 * 5, 4.75, 5 / 1024),
]


@checked(ROWS)
def test_published_value(row):
    row.check()


def test_what_is_allowed_holds_the_ends_of_that_library():
    """S-04, seen: 544 to 2400, at rest 1500, every 20,000 microseconds."""
    assert PULSE_LEAST_US <= 544 and 2400 <= PULSE_MOST_US
    assert pulse(0) == 1500
    assert EXAMPLE.frame_ms * 1000 == 20000


def test_the_usual_band_keeps_the_ends_of_a_hall_stick_and_refuses_a_broken_wire():
    """J-14: ends at 0.5 and 4.5 V of 5 V; below 0.25 V or above 4.75 V a wire is broken."""
    for bits in (8, 10, 12, 16):
        low, high = usual_band(bits)
        assert low <= 0.5 / 5 * 2**bits and 4.5 / 5 * 2**bits <= high
        assert low - 1 <= 0.25 / 5 * 2**bits < low and high <= 4.75 / 5 * 2**bits < high + 1
