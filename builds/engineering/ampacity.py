"""What a wire may carry below 50 V, by gauge, insulation and how many loaded conductors lie together."""

from builds.engineering import copper
from builds.engineering.guards import number, whole

# 1. 33 CFR 183.425, Table 5: stranded insulated copper, 30 °C around it, outside engine spaces [A].
#    Every row read in a reprint of the regulation; gauges 18, 16, 14, 10, 8 and 6 read in two.
INSULATION_RATINGS_C = (60, 75, 80, 90, 105, 125, 200)
TABLE_5_A = {
    18: (10, 10, 15, 20, 20, 25, 25),
    16: (15, 15, 20, 25, 25, 30, 35),
    14: (20, 20, 25, 30, 35, 40, 45),
    12: (25, 25, 35, 40, 45, 50, 55),
    10: (40, 40, 50, 55, 60, 70, 70),
    8: (55, 65, 70, 70, 80, 90, 100),
    6: (80, 95, 100, 100, 120, 125, 135),
    4: (105, 125, 130, 135, 160, 170, 180),
    3: (120, 145, 150, 155, 180, 195, 210),
    2: (140, 170, 175, 180, 210, 225, 240),
    1: (165, 195, 210, 210, 245, 265, 280),
    0: (195, 230, 245, 245, 285, 305, 325),
    -1: (225, 265, 285, 285, 330, 355, 370),
    -2: (260, 310, 330, 330, 385, 410, 430),
    -3: (300, 360, 385, 385, 445, 475, 510),
}

# 2. Note 2 of that table, as reprinted from the Coast Guard compliance guideline: (this many or more, factor).
#    The law asks for it from 50 V on; using it below is stricter, and ours.
BUNDLE_FACTORS = ((25, 0.40), (7, 0.50), (4, 0.60), (3, 0.70), (1, 1.00))

SOURCE = "33 CFR 183.425 Table 5 (30 \u00b0C) and its note 2, which is used below 50 V too"
HIGHEST_INSULATION_C = 300
LARGEST_BUNDLE = 500


def bundle_factor(loaded_conductors):
    """The share of its current a wire keeps among other loaded wires.

    Parameters: loaded conductors in the bundle, this one included [-]. Returns [-].
    From 1 to 500; for wires loaded together. Raises EngineeringError. Source 2.

    >>> [bundle_factor(n) for n in (1, 3, 4, 7, 25)]
    [1.0, 0.7, 0.6, 0.5, 0.4]
    """
    count = whole("Loaded conductors in the bundle", loaded_conductors, "", minimum=1, maximum=LARGEST_BUNDLE)
    return next(factor for least, factor in BUNDLE_FACTORS if count >= least)


def table_current(gauge, insulation_c):
    """The current of Table 5 for one wire alone.

    The column is the highest at or below the insulation's rating; a metric section takes the row of the next
    thinner gauge. Parameters: gauge: a Gauge [-]; insulation rating, above 0 to 300 [°C].
    Returns [A], or None where the table has no row or column. Not for engine spaces. Raises EngineeringError. Source 1.

    >>> from builds.engineering.gauges import parse_gauge
    >>> table_current(parse_gauge("14 AWG"), 105), table_current(parse_gauge("14 AWG"), 85)
    (35, 25)
    >>> table_current(parse_gauge("2.5 mm^2"), 105), table_current(parse_gauge("13 AWG"), 105)
    (35, None)
    """
    insulation_c = number("Insulation rating", insulation_c, "\u00b0C", above=0, maximum=HIGHEST_INSULATION_C)
    row = TABLE_5_A.get(_row_gauge(gauge))
    columns = [at for at, rating in enumerate(INSULATION_RATINGS_C) if rating <= insulation_c]
    return row[columns[-1]] if row and columns else None


def ampacity(gauge, insulation_c, loaded_conductors):
    """What one wire among others may carry all the time.

    Parameters: gauge: a Gauge; insulation rating [°C]; loaded conductors in the bundle [-].
    Returns [A], or None where the table says nothing. Raises EngineeringError. Sources 1 and 2.

    >>> from builds.engineering.gauges import parse_gauge
    >>> ampacity(parse_gauge("14 AWG"), 105, 3)
    24.5
    """
    alone = table_current(gauge, insulation_c)
    factor = bundle_factor(loaded_conductors)
    return None if alone is None else alone * factor


def _row_gauge(gauge):
    if gauge.kind == "awg":
        return gauge.number
    thinner = (awg for awg in sorted(TABLE_5_A) if copper.awg_area_mm2(awg) <= gauge.area_mm2)
    return next(thinner, None)
