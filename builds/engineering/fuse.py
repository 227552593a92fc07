"""Fuses: which blade fits the load and the wire, where it sits, and that it protects the thinnest wire."""

from dataclasses import dataclass

from builds.engineering import guards, limits
from builds.engineering.finding import CHECK, COMMON_PRACTICE, FITS, STOP, Finding, plain, shown_inputs, unknown

# 1. Blade fuses, ISO 8820-3: ratings from memory. Colours of 2, 3, 7.5, 10, 15, 20 and 30 A read in two
#    reprints; 4, 5, 25 and 40 A from memory. Sources differ for 1 A and 35 A, so those name no colour.
BLADE_COLOURS = {
    1.0: None,
    2.0: "grey",
    3.0: "violet",
    4.0: "pink",
    5.0: "tan",
    7.5: "brown",
    10.0: "red",
    15.0: "blue",
    20.0: "yellow",
    25.0: "clear",
    30.0: "green",
    35.0: None,
    40.0: "orange",
}
BLADE_RATINGS_A = tuple(BLADE_COLOURS)
# 2. A continuous load takes at most 80 % of the rating (the 125 % rule), as printed in fuse sizing notes.
CONTINUOUS_SHARE = limits.FUSE_SHARE.value
# 3. 33 CFR 183.455 (b): within 7 in of the source, within 40 in when sheathed or enclosed all the way.
BARE_WIRE_M = 0.178
SHEATHED_WIRE_M = 1.016

SIZING_SOURCE = "blade ratings of ISO 8820-3 (from memory); 80 % continuous load; rating no more than the wire carries"
PLACE_SOURCE = "33 CFR 183.455 (b): 7 in, or 40 in when sheathed all the way"
PROTECT_SOURCE = (
    "rating no more than the thinnest wire carries; stricter than the 150 % of 33 CFR 183.455 (c)(1)"
)
ROUNDING = 1e-9
LARGEST_CURRENT_A = 10_000.0


@dataclass(frozen=True)
class Fuse:
    rating_a: float | None
    colour: str | None
    findings: tuple


def fuse(*, continuous_a, ampacity_a, peak_a=None, continuous_share=None):
    """The smallest standard blade fuse that carries the load without blowing and still protects the wire.

    Parameters: continuous load, ampacity of the thinnest wire downstream, each above 0 to 10,000 [A] or None; peak
    load, at least the continuous one [A], or None where none is named; continuous_share: the most of a rating that
    the lab loads, 0.1 to 0.8 [-], or None for 0.8. Returns rating [A], colour [-], findings; rating and colour are
    None where no blade does both. A peak never raises the rating. Not for the time a fuse takes to blow. Raises
    EngineeringError. Sources 1, 2.

    >>> fuse(continuous_a=12, ampacity_a=20).rating_a, fuse(continuous_a=12, ampacity_a=20).colour
    (15.0, 'blue')
    >>> fuse(continuous_a=18, ampacity_a=20).rating_a is None
    True
    """
    continuous = guards.number("Continuous load", continuous_a, "A", above=0, maximum=LARGEST_CURRENT_A)
    wire = guards.number("Ampacity", ampacity_a, "A", above=0, maximum=LARGEST_CURRENT_A)
    peak = guards.number("Peak load", peak_a, "A", above=0, maximum=LARGEST_CURRENT_A)
    if None not in (peak, continuous):
        guards.number("Peak load", peak, "A", minimum=continuous)
    share = limits.tightened(limits.FUSE_SHARE, continuous_share)
    needed = None if continuous is None else smallest_blade(continuous, share)
    sizing = _sizing_finding(continuous, wire, needed, share)
    if sizing.verdict != FITS:
        return Fuse(None, None, (sizing,))
    return Fuse(needed, BLADE_COLOURS[needed], (sizing, *_peak_finding(peak, needed), *_colour_finding(needed)))


def smallest_blade(continuous_a, share=CONTINUOUS_SHARE):
    """The smallest standard blade rating that carries this load at no more than that share of it.

    Parameters: continuous load [A]; share of the rating [-]. Returns [A], or None above the largest blade.
    Sources 1, 2.

    >>> [smallest_blade(load) for load in (8, 12, 16.5, 33)]
    [10.0, 15.0, 25.0, None]
    """
    needed = continuous_a / share - ROUNDING
    return next((rating for rating in BLADE_RATINGS_A if rating >= needed), None)


def fuse_position(distance_m, sheathed):
    """Whether the fuse sits close enough to the battery.

    Parameters: distance: wire from the battery's positive post to the fuse, 0 to 100 [m]; sheathed: whether that wire
    is sheathed all the way [-]; each may be unknown. Returns a Finding. Raises EngineeringError. Source 3.

    >>> fuse_position(0.15, None).verdict, fuse_position(0.5, None).verdict, fuse_position(0.5, "no").verdict
    ('fits', 'unknown', 'stop')
    """
    distance = guards.number("Wire to the fuse", distance_m, "m", minimum=0, maximum=100)
    sheathed = guards.answer("Sheathed all the way", sheathed)
    name = "wire from the battery to the fuse"
    formula = "at most 178 mm of wire, or 1016 mm when sheathed all the way"
    millimetres = None if distance is None else distance * 1000
    limit = (SHEATHED_WIRE_M if sheathed else BARE_WIRE_M) * 1000
    inputs = shown_inputs(wire_to_the_fuse=(millimetres, "mm"), sheathed=({True: "yes", False: "no"}.get(sheathed), ""))
    if distance is None:
        missing = "the length of wire to the fuse"
        return unknown(name, missing, unit="mm", limit=limit, formula=formula, source=PLACE_SOURCE, inputs=inputs)
    if sheathed is None and BARE_WIRE_M < distance <= SHEATHED_WIRE_M:
        missing = "whether that wire is sheathed all the way"
        return unknown(name, missing, unit="mm", limit=limit, formula=formula, source=PLACE_SOURCE, inputs=inputs)
    verdict = FITS if millimetres <= limit + ROUNDING else STOP
    return Finding(name, millimetres, "mm", limit, verdict, formula, PLACE_SOURCE, inputs)


def fuse_protects(rating_a, ampacities):
    """Whether a fuse blows before any wire behind it carries more than it may.

    Parameters: rating, above 0 to 10,000 [A]; ampacities of all wires downstream, each above 0 to 10,000 [A]; each
    may be None. Returns a Finding. Raises EngineeringError. Source: 33 CFR 183.455 (c)(1) allows 150 % of the table
    current below 50 V; this rule allows 100 %, stricter and ours.

    >>> fuse_protects(15, [35, 20]).verdict, fuse_protects(25, [35, 20]).verdict, fuse_protects(15, [35, None]).verdict
    ('fits', 'stop', 'unknown')
    """
    rating = guards.number("Fuse rating", rating_a, "A", above=0, maximum=LARGEST_CURRENT_A)
    wires = [guards.number("Ampacity", wire, "A", above=0, maximum=LARGEST_CURRENT_A) for wire in ampacities]
    known = [wire for wire in wires if wire is not None]
    thinnest = min(known, default=None)
    name, formula = "fuse against the thinnest wire", "rating no more than the smallest ampacity behind the fuse"
    inputs = shown_inputs(rating=(rating, "A"), smallest_known_ampacity=(thinnest, "A"), wires=(len(wires), ""))
    if None not in (rating, thinnest) and rating > thinnest + ROUNDING:
        return Finding(name, rating, "A", thinnest, STOP, formula, PROTECT_SOURCE, inputs)
    missing = ["the rating of the fuse"] if rating is None else []
    missing += [] if wires else ["the wires behind the fuse"]
    missing += ["the ampacity of every wire behind the fuse"] if len(known) < len(wires) else []
    if missing:
        return unknown(name, missing, unit="A", limit=thinnest, formula=formula, source=PROTECT_SOURCE, inputs=inputs)
    return Finding(name, rating, "A", thinnest, FITS, formula, PROTECT_SOURCE, inputs)


def _sizing_finding(continuous, wire, needed, share):
    name = "fuse rating"
    most_of_it = f"{plain(share * 100)} % or less"
    formula = f"smallest standard blade that carries the continuous load at {most_of_it}, no more than the wire carries"
    rule = limits.source_of(limits.FUSE_SHARE, share)
    source = f"blade ratings of ISO 8820-3 (from memory); {rule}; rating no more than the wire carries"
    inputs = shown_inputs(continuous_load=(continuous, "A"), ampacity=(wire, "A"))
    facts = {"continuous load": continuous, "ampacity of the thinnest wire": wire}
    missing = [label for label, fact in facts.items() if fact is None]
    if missing:
        return unknown(name, missing, unit="A", limit=wire, formula=formula, source=source, inputs=inputs)
    if needed is None:
        most = BLADE_RATINGS_A[-1]
        formula += f"; the load needs more than the largest blade of {plain(most)} A"
        return Finding(name, continuous / share, "A", min(most, wire), STOP, formula, source, inputs)
    verdict = FITS if needed <= wire + ROUNDING else STOP
    return Finding(name, needed, "A", wire, verdict, formula, source, inputs)


def _peak_finding(peak, rating):
    if peak is None:
        return ()
    formula = "a peak above the rating may blow the fuse; the rating is not raised for it"
    return (Finding("peak load", peak, "A", rating, FITS if peak <= rating else CHECK, formula, COMMON_PRACTICE),)


def _colour_finding(rating):
    if BLADE_COLOURS[rating] is not None:
        return ()
    formula = "sources differ on the colour of this rating, so the number on the fuse decides"
    return (Finding("fuse colour", "not agreed", "", None, CHECK, formula, "blade fuse colour notes that disagree"),)
