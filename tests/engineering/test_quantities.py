"""Typed quantities: what is read, and what is refused in one line."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builds.engineering.quantities import QuantityError, format_quantity, parse_gauge, parse_number, parse_quantity

READ = [
    ("4 ft 2 in", "length", 1.27),
    ("4'2\"", "length", 1.27),
    ("4\u20192\u201d", "length", 1.27),
    ("1/2 in", "length", 0.0127),
    ("1 1/2 in", "length", 0.0381),
    ("1\u00bd in", "length", 0.0381),
    ("12,5 cm", "length", 0.125),
    ("0,125", "length", 0.125),
    ("1e3 mm", "length", 1.0),
    ("1 m 20 cm", "length", 1.2),
    ("-5 cm", "length", -0.05),
    ("35 lb", "mass", 15.87573295),
    ("35 lb 4 oz", "mass", 15.989131),
    ("18 A", "current", 18.0),
    ("250 mA", "current", 0.25),
    ("5 Amps", "current", 5.0),
    ("75 degC", "temperature", 75.0),
    ("75 \u00b0C", "temperature", 75.0),
    ("75", "temperature", 75.0),
    ("167 degF", "temperature", 75.0),
    ("-5 \u00b0C", "temperature", -5.0),
    ("12", "capacity", 12.0),
    ("7000 mAh", "capacity", 7.0),
    ("2 h 30 min", "time", 9000.0),
    ("20", "hours", 20.0),
    ("90 min", "hours", 1.5),
    ("4 km/h", "speed", 4 / 3.6),
    ("1.5 m/s^2", "acceleration", 1.5),
    ("1.5 m/s\u00b2", "acceleration", 1.5),
    ("50 %", "fraction", 0.5),
    ("0.5", "fraction", 0.5),
    ("3 %", "percent", 3.0),
    ("50 m\u03a9", "resistance", 0.05),
    ("120 rpm", "rotation", 120.0),
    ("12 deg", "angle", 12.0),
    ("4 N\u00b7m", "moment", 4.0),
    ("12 N", "force", 12.0),
]
REFUSED = [
    ("", "length"), ("   ", "length"), ("abc", "length"), ("nan", "length"), ("inf m", "length"),
    ("-inf", "length"), ("1e308 m", "length"), ("1e999 m", "length"), ("12 kg", "length"), ("12 V", "current"),
    ("5 MA", "current"), ("5 furlongs", "length"), ("4 ft 14 in", "length"), ("4 ft 2", "length"),
    ("4 2 in", "length"), ("1.5 ft 2 in", "length"), ("2 in 4 ft", "length"), ("1,200 mm", "length"),
    ("1/0 in", "length"), ("1 3/2 in", "length"), ("--5 m", "length"), ("5 m -2 cm", "length"), ("1-2 m", "length"),
    ("5 m; 6 m", "length"), ("5 m\n6 m", "length"), ("12.5.6 m", "length"), ("\u0661\u0662 m", "length"),
    ("\x00", "length"), ("m", "length"), ("5 m", "number"), ("1" * 61, "length"), ("__import__('os')", "length"),
    ("5**9 m", "length"), ("10\u00b2 m", "length"), ("75 coulomb", "temperature"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "dimension", "value"), READ)
def test_reads_what_people_type(text, dimension, value):
    assert parse_quantity(text, dimension, name="Value").value_si == pytest.approx(value, rel=1e-8)


@pytest.mark.parametrize(("text", "dimension"), REFUSED)
def test_refuses_in_one_line_that_names_the_quantity(text, dimension):
    with pytest.raises(QuantityError) as refused:
        parse_quantity(text, dimension, name="Seat width")
    message = str(refused.value)
    assert "seat width" in message.lower()
    assert message.splitlines() == [message]


def test_a_bare_number_takes_the_default_unit_and_says_so():
    reading = parse_quantity("38", "length", name="Seat width", default_unit="cm")
    assert (reading.value_si, reading.unit, reading.assumed) == (pytest.approx(0.38), "cm", True)
    assert not parse_quantity("38 mm", "length", name="Seat width", default_unit="cm").assumed


def test_the_limit_is_told_in_the_unit_that_was_typed():
    with pytest.raises(QuantityError, match="Seat width must be 100 cm or less, not \u201c120 cm\u201d"):
        parse_quantity("120 cm", "length", name="Seat width", maximum=1.0)
    with pytest.raises(QuantityError, match="Seat width must be 10 cm or more"):
        parse_quantity("9 cm", "length", name="Seat width", minimum=0.1)


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("-5e400 m", "Seat width must be -1e+12 or more, not “-5e400”."),
        ("5e400", "Seat width must be 1e+12 or less, not “5e400”."),
        ("-1e13 m", "Seat width must be -1e+12 or more, not “-1e13”."),
        ("-5,000 m", "Seat width “-5,000” can be read in two ways. Enter -5000 or -5.000."),
        ("5e-400 m", "Seat width “5e-400” is too close to 0 to be kept. Enter 0, or another number."),
        ("-" + "1" * 50, f"Seat width must be -1e+12 or more, not “-{'1' * 29}…”."),
    ],
)
def test_a_number_is_quoted_as_it_was_typed_with_the_limit_on_its_side(typed, told):
    with pytest.raises(QuantityError) as refused:
        parse_quantity(typed, "length", name="Seat width")
    assert str(refused.value) == told


@pytest.mark.parametrize("typed", ["0", "0.00", "0e5", "0,0 m"])
def test_nought_is_nought_however_it_is_typed(typed):
    assert parse_quantity(typed, "length", name="Seat width").value_si == 0


def test_an_empty_text_asks_for_the_quantity():
    with pytest.raises(QuantityError, match="^Enter the seat width\\.$"):
        parse_quantity("", "length", name="Seat width")


def test_a_wrong_kind_of_unit_is_named():
    with pytest.raises(QuantityError, match="kg is the unit of a mass"):
        parse_quantity("12 kg", "length", name="Length")


def test_anything_but_text_is_refused():
    for odd in (None, 5, b"5 m"):
        with pytest.raises(QuantityError):
            parse_quantity(odd, "length", name="Length")


@given(st.text(max_size=70))
def test_any_text_is_read_or_refused_and_never_breaks(text):
    for dimension in ("length", "temperature", "fraction"):
        try:
            reading = parse_quantity(text, dimension, name="Value")
        except QuantityError as refused:
            assert len(str(refused).splitlines()) == 1
        else:
            assert math.isfinite(reading.value_si)
    try:
        parse_gauge(text)
    except QuantityError as refused:
        assert len(str(refused).splitlines()) == 1


@given(st.floats(0.001, 1000))
def test_equal_lengths_read_equal_in_every_unit(metres):
    texts = (f"{metres!r} m", f"{metres * 100!r} cm", f"{metres / 0.3048!r} ft", f"{metres / 0.0254!r} in")
    for value in (parse_quantity(text, "length", name="Length").value_si for text in texts):
        assert value == pytest.approx(metres, rel=1e-9)


@pytest.mark.parametrize(
    ("value", "dimension", "system", "shown"),
    [
        (0.45, "length", "metric", "45 cm"),
        (0.0381, "length", "us", "1.5 in"),
        (3.2, "length", "metric", "3.2 m"),
        (16, "mass", "us", "35.3 lb"),
        (-3, "temperature", "metric", "-3 \u00b0C"),
        (40, "temperature", "us", "104 \u00b0F"),
        (12, "angle", "metric", "12\u00b0"),
        (0, "mass", "metric", "0 g"),
        (None, "mass", "metric", "unknown"),
    ],
)
def test_shows_a_value_in_the_units_of_the_lab(value, dimension, system, shown):
    assert format_quantity(value, dimension, system) == shown


@pytest.mark.parametrize(
    ("text", "kind", "number", "area"),
    [
        ("14 AWG", "awg", 14, 2.0809),
        ("AWG 14", "awg", 14, 2.0809),
        ("4/0 AWG", "awg", -3, 107.22),
        ("0000 awg", "awg", -3, 107.22),
        ("1/0 AWG", "awg", 0, 53.48),
        ("13 AWG", "awg", 13, 2.6240),
        ("2.5 mm^2", "mm2", 2.5, 2.5),
        ("2,5 mm\u00b2", "mm2", 2.5, 2.5),
    ],
)
def test_reads_gauges(text, kind, number, area):
    gauge = parse_gauge(text)
    assert (gauge.kind, gauge.number) == (kind, number)
    assert gauge.area_mm2 == pytest.approx(area, rel=1e-3)


@pytest.mark.parametrize(
    "text", ["14", "2.5", "", "31 AWG", "5/0 AWG", "-3 AWG", "14.5 AWG", "2 mm^2", "0 mm^2", "nan AWG", "14 gauge"]
)
def test_refuses_a_gauge_that_could_be_misread(text):
    with pytest.raises(QuantityError):
        parse_gauge(text)


def test_numbers_without_a_unit():
    assert parse_number("1,2", name="Factor") == pytest.approx(1.2)
    with pytest.raises(QuantityError):
        parse_number("1.2 A", name="Factor")


@pytest.mark.parametrize("text", ["-", "+", "..", "5 m !"])
def test_what_cannot_be_read_names_the_quantity(text):
    with pytest.raises(QuantityError, match="^Length must be a length. Enter it like 1.2 m or 4 ft 2 in, not"):
        parse_quantity(text, "length", name="Length")
