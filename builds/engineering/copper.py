"""Copper wire: section, and resistance at 20 °C and warm.

AWG is the nominal solid conductor of ASTM B258; a metric section is the flexible class 5 conductor of
IEC 60228, whose tabulated maximum is more than its section alone would give.
"""

from math import log, pi

from builds.engineering.guards import number as checked
from builds.engineering.guards import whole

# 1. Annealed copper, 100 % IACS, at 20 °C: NBS Handbook 100 (1966), as quoted in engineering notes.
RESISTIVITY_OHM_MM2_PER_M = 0.017241
TEMPERATURE_COEFFICIENT_PER_K = 0.00393
REFERENCE_C = 20.0

# 2. ASTM B258-02, standard nominal diameters: 36 AWG is 0.127 mm, 39 steps to 4/0 make a factor of 92.
THINNEST_NAMED_DIAMETER_MM = 0.127
STEPS = 39
FACTOR_OVER_STEPS = 92
THICKEST_AWG = -3
THINNEST_AWG = 30

# 3. IEC 60228, class 5, plain copper: maximum resistance at 20 °C [ohm/km] by nominal section [mm²].
#    Two reprints agree on every row; the standard itself was not read.
CLASS_5_PLAIN_OHM_PER_KM = {
    0.5: 39.0,
    0.75: 26.0,
    1.0: 19.5,
    1.5: 13.3,
    2.5: 7.98,
    4.0: 4.95,
    6.0: 3.30,
    10.0: 1.91,
    16.0: 1.21,
    25.0: 0.780,
    35.0: 0.554,
    50.0: 0.386,
    70.0: 0.272,
    95.0: 0.206,
    120.0: 0.161,
}

AWG_SOURCE = "ASTM B258 nominal diameter; copper 0.017241 \u03a9\u00b7mm\u00b2/m at 20 \u00b0C (NBS Handbook 100)"
METRIC_SOURCE = "IEC 60228 class 5, plain copper, maximum at 20 \u00b0C (reprint)"

COLDEST_C = -60.0
HOTTEST_C = 250.0


def awg_diameter_mm(awg):
    """Nominal diameter of a solid AWG conductor.

    Parameters: awg: gauge, -3 for 4/0 [-]. Returns the diameter [mm]. From 4/0 to 36 AWG; not for wire of
    another gauge system. Raises EngineeringError. Source 2.

    >>> round(awg_diameter_mm(36), 3), round(awg_diameter_mm(-3), 3)
    (0.127, 11.684)
    """
    awg = whole("Gauge", awg, "AWG", minimum=THICKEST_AWG, maximum=36)
    return THINNEST_NAMED_DIAMETER_MM * FACTOR_OVER_STEPS ** ((36 - awg) / STEPS)


def awg_area_mm2(awg):
    """Nominal section of a solid AWG conductor.

    Parameters: awg: gauge, -3 for 4/0 [-]. Returns the section [mm²]. Source 2; limits as `awg_diameter_mm`.

    >>> round(awg_area_mm2(14), 4)
    2.0809
    """
    return pi / 4 * awg_diameter_mm(awg) ** 2


def awg_from_diameter(diameter_mm):
    """Gauge, as a decimal, of a solid conductor of this diameter.

    Parameters: diameter [mm]. Returns the gauge [AWG]. For telling an unmarked wire; round to thinner, never
    to thicker. Raises EngineeringError below 0.05 mm or above 12 mm. Source 2.

    >>> round(awg_from_diameter(2.05), 3)
    12.011
    """
    diameter_mm = checked("Diameter", diameter_mm, "mm", minimum=0.05, maximum=12)
    return 36 - STEPS * log(diameter_mm / THINNEST_NAMED_DIAMETER_MM, FACTOR_OVER_STEPS)


def thinnest_awg_not_thinner_than(area_mm2, even_only=False):
    """The thinnest AWG with at least this section.

    Parameters: area, above 0 to that of 4/0, 107.219303 [mm²]; even_only: only the even gauges that are sold [-].
    Returns the gauge [AWG]. Raises EngineeringError. Source 2.

    >>> thinnest_awg_not_thinner_than(2.5), thinnest_awg_not_thinner_than(2.5, even_only=True)
    (13, 12)
    """
    area_mm2 = checked("Section", area_mm2, "mm\u00b2", above=0, maximum=awg_area_mm2(THICKEST_AWG))
    gauges = (n for n in range(THINNEST_AWG, THICKEST_AWG - 1, -1) if not even_only or n % 2 == 0)
    return next(n for n in gauges if awg_area_mm2(n) >= area_mm2)


def awg_label(awg):
    """How a gauge is written: 4/0 AWG for -3."""
    return f"{1 - awg}/0 AWG" if awg < 1 else f"{awg} AWG"


def resistance_per_m(gauge, conductor_c):
    """Resistance of one metre of conductor at its own temperature.

    R = R20 x (1 + 0.00393 x (T - 20)).
    Parameters: gauge: a Gauge [-]; conductor temperature [°C]. Returns [ohm/m]. From -60 to 250 °C; one way, not
    out and back; direct current only. Raises EngineeringError. Sources 1, 2, 3.

    >>> from builds.engineering.gauges import parse_gauge
    >>> round(resistance_per_m(parse_gauge("14 AWG"), 20) * 1000, 3)
    8.285
    >>> round(resistance_per_m(parse_gauge("2.5 mm^2"), 20) * 1000, 3)
    7.98
    """
    return resistance_per_m_at_20(gauge) * temperature_factor(conductor_c)


def resistance_per_m_at_20(gauge):
    """Resistance of one metre of conductor at 20 °C [ohm/m], from its gauge [-]. Sources 1, 2, 3.

    >>> from builds.engineering.gauges import parse_gauge
    >>> round(resistance_per_m_at_20(parse_gauge("2.5 mm^2")), 5)
    0.00798
    """
    if gauge.kind == "mm2":
        return CLASS_5_PLAIN_OHM_PER_KM[gauge.number] / 1000
    return RESISTIVITY_OHM_MM2_PER_M / gauge.area_mm2


def temperature_factor(conductor_c):
    """How much more a conductor resists at this temperature than at 20 °C.

    Parameters: conductor temperature, -60 to 250 [°C]. Returns [-]. Raises EngineeringError. Source 1.

    >>> round(temperature_factor(50), 4)
    1.1179
    """
    conductor_c = checked(
        "Conductor temperature", conductor_c, "\u00b0C", minimum=COLDEST_C, maximum=HOTTEST_C
    )
    return 1 + TEMPERATURE_COEFFICIENT_PER_K * (conductor_c - REFERENCE_C)


def source_of(gauge):
    return METRIC_SOURCE if gauge.kind == "mm2" else AWG_SOURCE
