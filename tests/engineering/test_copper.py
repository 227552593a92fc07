"""Copper refuses a gauge, a diameter and a temperature that no wire has, in words."""

import pytest

from builds.engineering import copper
from builds.engineering.finding import EngineeringError


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: copper.awg_diameter_mm(-4), "Gauge must be -3 AWG or more, not -4 AWG."),
        (lambda: copper.awg_diameter_mm(37), "Gauge must be 36 AWG or less, not 37 AWG."),
        (lambda: copper.awg_diameter_mm(14.5), "Gauge must be a whole number from -3 to 36, not 14.5."),
        (lambda: copper.awg_from_diameter(0.049), "Diameter must be 0.05 mm or more, not 0.049 mm."),
        (lambda: copper.awg_from_diameter(12.1), "Diameter must be 12 mm or less, not 12.1 mm."),
        (lambda: copper.thinnest_awg_not_thinner_than(0), "Section must be more than 0 mm², not 0 mm²."),
        (lambda: copper.thinnest_awg_not_thinner_than(108), "Section must be 107.2 mm² or less, not 108 mm²."),
        (lambda: copper.temperature_factor(-61), "Conductor temperature must be -60 \u00b0C or more, not -61 \u00b0C."),
        (lambda: copper.temperature_factor(251), "Conductor temperature must be 250 \u00b0C or less, not 251 \u00b0C."),
    ],
)
def test_it_is_refused_with_quantity_value_unit_and_limit(call, words):
    with pytest.raises(EngineeringError) as refused:
        call()
    assert str(refused.value) == words


@pytest.mark.parametrize(("awg", "label"), [(-3, "4/0 AWG"), (0, "1/0 AWG"), (1, "1 AWG"), (14, "14 AWG")])
def test_how_a_gauge_is_written(awg, label):
    assert copper.awg_label(awg) == label
