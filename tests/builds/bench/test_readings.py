import pytest

from builds.bench import readings


@pytest.mark.parametrize(
    ("typed", "unit", "value"),
    [
        ("12.4", "V", 12.4),
        ("12,5", "V", 12.5),
        ("12.4 V", "V", 12.4),
        ("12400 mV", "V", 12.4),
        ("0.25 A", "mA", 250),
        ("35 lb", "kg", 15.8757329),
        ("104 °F", "°C", 40),
        ("3.6 km/h", "m/s", 1),
        ("50 mohm", "Ω", 0.05),
        ("-12.6", "V", -12.6),
        ("62", "dB", 62),
        ("62 dB", "dB", 62),
        ("62 db", "dB", 62),
        ("3", "", 3),
    ],
)
def test_a_reading_is_kept_in_the_unit_of_its_step(typed, unit, value):
    # 1 lb = 0.45359237 kg (international pound, 1959); 104 °F = 40 °C by definition of the scales.
    assert readings.read(typed, label="Reading", unit=unit) == pytest.approx(value, rel=1e-8)


@pytest.mark.parametrize(
    ("typed", "unit"),
    [
        ("nan", "V"),
        ("inf", "V"),
        ("-inf", "V"),
        ("1e999", "V"),
        ("1e308", "V"),
        ("twelve", "V"),
        ("12 A", "V"),
        ("12 furlongs", "V"),
        ("62 V", "dB"),
        ("loud", "dB"),
        ("9" * 41, "V"),
        ("x" * 100_000, "V"),
        ("100001", "V"),
        ("-1 kg", "kg"),
        ("-0.1", "Ω"),
        ("12\x00", "V"),
    ],
)
def test_what_is_no_reading_is_refused_in_the_words_of_the_label(typed, unit):
    with pytest.raises(readings.ReadingError) as refused:
        readings.read(typed, label="Battery voltage", unit=unit)
    assert "attery voltage" in str(refused.value)
    assert "\n" not in str(refused.value)
    assert len(str(refused.value)) < 250


def test_a_comma_that_may_separate_thousands_is_refused():
    with pytest.raises(readings.ReadingError, match="two ways"):
        readings.read("1,234", label="Current", unit="mA")


@pytest.mark.parametrize(
    ("value", "low", "high", "passes"),
    [
        (12.4, 12.4, None, True),
        (12.399999, 12.4, None, False),
        (0.5, None, 0.5, True),
        (0.500001, None, 0.5, False),
        (1.0, None, None, True),
        (2.0, 1.0, 3.0, True),
        (3.0, 1.0, 3.0, True),
        (0.0, 0.0, 0.0, True),
    ],
)
def test_limits_themselves_pass(value, low, high, passes):
    assert readings.within(value, low, high) is passes


def test_a_converted_reading_meets_its_limit_exactly():
    """Converting must not carry a reading over its limit by a rounding of the machine."""
    for typed, unit, limit in (("12400 mV", "V", 12.4), ("104 °F", "°C", 40), ("1240 cm", "m", 12.4)):
        assert readings.read(typed, label="Reading", unit=unit) == limit


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        (12.4, None, "12.4 V or more"),
        (None, 13.0, "13 V or less"),
        (11.5, 13, "from 11.5 to 13 V"),
        (None, None, ""),
        (0, None, "0 V or more"),
    ],
)
def test_limits_in_words(low, high, words):
    assert readings.limits_in_words(low, high, "V") == words


@pytest.mark.parametrize(
    ("unit", "within", "beyond", "told"),
    [
        ("V", ["60", "-60", "60000 mV"], ["60.1", "-60.1", "9999"], "from -60 to 60 V: look at the meter's range"),
        ("A", ["1000", "-1000"], ["1000.1", "-1001"], "from -1000 to 1000 A: look at the meter's range"),
        ("mA", ["1000 A"], ["1000001", "1001 A"], "from -1000 to 1000 A: look at the meter's range"),
        ("Ω", ["0", "1e9", "60 Mohm"], ["-0.1", "1.1e9"], "from 0 Ω to 1 GΩ: look at the meter's range"),
        ("°C", ["-20", "400"], ["-20.1", "400.1"], "from -20 to 400 °C: look at the number and its unit"),
        ("kg", ["0", "200"], ["-0.1", "200.1", "9999"], "from 0 to 200 kg: look at the number and its unit"),
        ("m", ["0", "100"], ["-0.1", "100.1"], "from 0 to 100 m"),
        ("mm", ["178", "100 m"], ["100001", "-1"], "from 0 to 100 m"),
        ("s", ["0", "24 h"], ["86401", "-1"], "from 0 s to 24 h"),
        ("min", ["1440"], ["1441"], "from 0 to 1440 min"),
        ("m/s", ["0", "5", "18 km/h"], ["5.1", "-0.1"], "from 0 to 5 m/s"),
        ("N", ["1000", "-1000"], ["1001", "-1001"], "from -1000 to 1000 N"),
        ("°", ["90", "-90"], ["90.1", "-90.1"], "from -90 to 90 °"),
        ("N·m", ["200", "-200"], ["201", "-201"], "from -200 to 200 N·m"),
        ("Ah", ["0", "200"], ["-1", "201"], "from 0 to 200 Ah"),
        ("%", ["-100", "100"], ["-101", "101"], "from -100 to 100 %"),
        ("dB", ["100000"], ["100001"], "from -100000 to 100000 dB"),
    ],
)
def test_beyond_what_can_be_at_the_bench_a_reading_is_refused_with_the_bound(unit, within, beyond, told):
    for typed in within:
        readings.read(typed, label="Reading", unit=unit)
    for typed in beyond:
        with pytest.raises(readings.ReadingError) as refused:
            readings.read(typed, label="Reading", unit=unit)
        assert f"Reading must be {told}" in str(refused.value)


@pytest.mark.parametrize("typed", ["OL", "ol", "O.L", "0L", "over range", "overload"])
def test_what_a_meter_shows_over_its_range_is_told_how_to_be_written_down(typed):
    with pytest.raises(readings.ReadingError, match="Resistance is over the meter's range.*like 20 Mohm"):
        readings.read(typed, label="Resistance", unit="Ω")
    with pytest.raises(readings.ReadingError, match="record the step as failed, without a reading"):
        readings.read(typed, label="Current", unit="A")


@pytest.mark.parametrize(
    ("value", "low", "high", "unit", "passes"),
    [
        (0.4, None, 0.5, "A", True),
        (-12, None, 0.5, "A", False),  # the clamp was held the other way round: it draws 12 A
        (-12, None, None, "A", False),
        (0, None, 0.5, "A", True),
        (-0.2, -0.5, 0.5, "A", True),  # the step asks for what lies on both sides of zero
        (-0.6, None, -0.5, "A", True),
        (-5, None, 60, "°C", True),
        (9999, 11.0, None, "V", False),
        (60, 11.0, None, "V", True),
        (-9999, None, 60, "°C", False),
        (9999, 15, None, "°", False),
    ],
)
def test_what_passes_can_also_be(value, low, high, unit, passes):
    assert readings.passes(value, low, high, unit) is passes
