"""Body proportions: whether a measure looks mistyped beside the stature. A flag, never a refusal."""

from builds.engineering import guards
from builds.engineering.finding import CHECK, FITS, Finding, shown_inputs, unknown

# 1. Segment lengths and standing heights as shares of the stature: Drillis and Contini 1966 as given in Winter, read
#    in a design note that did not read the original. Hand and foot: Winter, figure 4.1, from memory.
LENGTH_SHARES = {
    "upper arm": 0.186,
    "forearm": 0.146,
    "hand": 0.108,
    "thigh": 0.245,
    "shank": 0.246,
    "foot": 0.152,
}
HEIGHT_SHARES = {"shoulder": 0.818, "hip": 0.530, "knee": 0.285}
LENGTH_SOURCE = "Drillis & Contini 1966 as given in Winter (reprint; hand from memory), adult proportions"
# 2. Segment masses as shares of the body mass: handout adapted from Winter, 3rd edition, 2005.
MASS_SHARES = {
    "hand": 0.006,
    "forearm": 0.016,
    "upper arm": 0.028,
    "whole arm": 0.050,
    "thigh": 0.100,
    "lower leg": 0.0465,
    "foot": 0.0145,
    "whole leg": 0.161,
    "head and neck": 0.081,
    "trunk": 0.497,
}
# What each measure should be near, as a share of the stature.
MEASURE_SHARES = {
    "reach": LENGTH_SHARES["upper arm"] + LENGTH_SHARES["forearm"] + LENGTH_SHARES["hand"],
    "lower_leg": HEIGHT_SHARES["knee"],
    "seat_depth": LENGTH_SHARES["thigh"],
}
# Common practice, no source: small children have larger heads and shorter limbs, so the band is wide.
WIDE = 0.35
# An arm that does not stretch reaches less, and that is no slip: only too far a reach is flagged.
ONLY_ABOVE = {"reach"}
LEAST_STATURE_M, LARGEST_STATURE_M = 0.4, 2.3
FORMULA = (
    "near its share of the stature, 35 % more or less; adult proportions, and small children differ, as do some "
    "conditions: measure again, and keep what you measured"
)


def proportion_flags(*, stature_m, measures):
    """Measures that look mistyped beside the stature.

    Parameters: stature, 0.4 to 2.3 [m], or None; measures by name, of reach, lower_leg and seat_depth, each 0 to 2.3
    [m] or None. Returns findings: `check` outside a band of 35 % around the adult share (reach: above it only), never
    `stop`; a measure that is None is left out. Not for judging a body. Raises EngineeringError. Source 1; the width of
    the band: common practice.

    >>> [flag.verdict for flag in proportion_flags(stature_m=1.10, measures={"lower_leg": 0.30, "seat_depth": 0.12})]
    ['fits', 'check']
    """
    stature = guards.number("Stature", stature_m, "m", minimum=LEAST_STATURE_M, maximum=LARGEST_STATURE_M)
    for name in measures:
        guards.choice("Measure", name, tuple(MEASURE_SHARES))
    told = {name: guards.number(_label(name), value, "m", minimum=0, maximum=LARGEST_STATURE_M)
            for name, value in measures.items()}  # fmt: skip
    return tuple(_flag(name, value, stature) for name, value in told.items() if value is not None)


def proportion_band(*, name, stature_m):
    """The lengths between which a measure does not look mistyped.

    Parameters: name: reach, lower_leg or seat_depth [-]; stature, 0.4 to 2.3 [m]. Returns the least and the greatest
    [m], 35 % around the adult share; the least reach is 0. Raises EngineeringError. Source 1; the width of the band:
    common practice.

    >>> [round(length, 4) for length in proportion_band(name="seat_depth", stature_m=1.10)]
    [0.1752, 0.3638]
    """
    guards.choice("Measure", name, tuple(MEASURE_SHARES))
    stature = guards.number("Stature", stature_m, "m", minimum=LEAST_STATURE_M, maximum=LARGEST_STATURE_M)
    expected = MEASURE_SHARES[name] * stature
    return 0.0 if name in ONLY_ABOVE else (1 - WIDE) * expected, (1 + WIDE) * expected


def segment_length(segment, stature_m):
    """Length of a body segment of an adult of this stature; for a child a first guess only.

    Parameters: segment: a key of `LENGTH_SHARES` [-]; stature [m]. Returns [m]. Raises EngineeringError. Source 1.

    >>> round(segment_length("upper arm", 1.10), 4)
    0.2046
    """
    guards.choice("Segment", segment, tuple(LENGTH_SHARES))
    return LENGTH_SHARES[segment] * stature_m


def segment_mass(segment, body_kg):
    """Mass of a body segment: a whole arm that rests on a control, for example.

    Parameters: segment: a key of `MASS_SHARES` [-]; body mass [kg]. Returns [kg]. Raises EngineeringError. Source 2.

    >>> segment_mass("whole arm", 20)
    1.0
    """
    guards.choice("Segment", segment, tuple(MASS_SHARES))
    return MASS_SHARES[segment] * body_kg


def _label(name):
    return name.replace("_", " ").capitalize()


def _flag(name, value, stature):
    title = f"{_label(name).lower()} beside the stature"
    inputs = shown_inputs(stature=(stature, "m"), measure=(value, "m"))
    if stature is None:
        return unknown(title, "stature", unit="m", formula=FORMULA, source=LENGTH_SOURCE, inputs=inputs)
    least, most = proportion_band(name=name, stature_m=stature)
    band = f"{least:.2f} to {most:.2f}"
    verdict = FITS if least <= value <= most else CHECK
    return Finding(title, value, "m", band, verdict, FORMULA, LENGTH_SOURCE, inputs)
