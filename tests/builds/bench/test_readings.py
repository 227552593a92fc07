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
