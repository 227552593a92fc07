"""Wire runs: what they drop and may carry, and the rules for splices, terminations and contacts."""

from dataclasses import dataclass

from builds.engineering import ampacity as table
from builds.engineering import copper, guards, limits, margins
from builds.engineering.finding import (
    CHECK,
    COMMON_PRACTICE,
    FITS,
    STOP,
    Finding,
    plain,
    shown_inputs,
    unknown,
)

# ABYC E-11 for 12 V, as quoted in a reprint of the Coast Guard compliance guideline [% of the supply].
DROP_RULES = {"power": limits.DROP_POWER, "control": limits.DROP_CONTROL}
DROP_LIMITS_PERCENT = {role: limit.value for role, limit in DROP_RULES.items()}
LONGEST_M = 1000.0
LARGEST_CURRENT_A = 1000.0
HIGHEST_SUPPLY_V = 50.0  # Table 5 of the ampacity is for less than 50 V

NASA_WORKMANSHIP = "NASA-STD-8739.4"
TERMINATIONS = {
    "crimp": (FITS, "crimped on bare strands"),
    "solder": (FITS, "soldered, relieved close by"),
    "screw": (FITS, "under a screw with a ferrule on bare strands"),
    "crimp_then_solder": (CHECK, "crimped, then soldered: the stiff spot needs its strain relief close by"),
    "crimp_on_tinned": (STOP, "crimped on strands tinned before: the solder creeps and the joint loosens"),
}


@dataclass(frozen=True)
class WireRun:
    resistance_ohm: float | None
    drop_v: float | None
    drop_percent: float | None
    loss_w: float | None
    ampacity_a: float | None
    findings: tuple


def wire_run(
    *, gauge, length_m, current_a, supply_v, conductor_c, insulation_c, bundle, role, drop_limit_percent=None
):
    """What a run of wire, out and back, drops, loses and may carry.

    R = resistance of a metre x 2 x length; drop = R x current; loss = R x current squared.

    Parameters: gauge: a Gauge [-]; length one way, above 0 to 1000 [m]; current, above 0 to 1000 [A]; supply, above 0
    to 50 [V]; conductor temperature, -60 to 250, insulation rating, above 0 to 300 [°C]; bundle: loaded conductors
    together, 1 to 500 [-]; role: power or control [-]; drop_limit: the most the lab accepts for that role, 0.1 to 10
    for power and to 3 for control [%]. Each may be None for unknown. Returns resistance out and back [ohm], drop [V]
    and [% of the supply], loss [W], ampacity [A], findings. Direct current below 50 V, lengths to 1000 m; connectors,
    switches and the inrush of a motor are not in it. Raises EngineeringError. Sources: `copper`, `ampacity`, and
    1. ABYC E-11 (drop limits, reprint).

    >>> from builds.engineering.gauges import parse_gauge
    >>> run = wire_run(gauge=parse_gauge("2.5 mm^2"), length_m=3, current_a=15, supply_v=12, conductor_c=20,
    ...                insulation_c=105, bundle=1, role="power")
    >>> round(run.drop_v, 3), round(run.drop_percent, 2), run.ampacity_a
    (0.718, 5.99, 35.0)
    """
    length_m = guards.number("Length", length_m, "m", above=0, maximum=LONGEST_M)
    current_a = guards.number("Current", current_a, "A", above=0, maximum=LARGEST_CURRENT_A)
    supply_v = guards.number("Supply", supply_v, "V", above=0, maximum=HIGHEST_SUPPLY_V)
    guards.choice("Role", role, tuple(DROP_LIMITS_PERCENT))
    conductor_c, insulation_c, bundle = _surroundings(conductor_c, insulation_c, bundle)

    resistance = _out_and_back(gauge, length_m, conductor_c)
    drop = None if None in (resistance, current_a) else voltage_drop(resistance, current_a)
    percent = None if None in (drop, supply_v) else drop / supply_v * 100
    loss = None if drop is None else drop * current_a
    carries = None if None in (gauge, insulation_c, bundle) else table.ampacity(gauge, insulation_c, bundle)
    known = {
        "gauge": (gauge and gauge.label, ""),
        "length one way": (length_m, "m"),
        "current": (current_a, "A"),
        "supply": (supply_v, "V"),
        "conductor temperature": (conductor_c, "\u00b0C"),
        "insulation rating": (insulation_c, "\u00b0C"),
        "loaded conductors in the bundle": (bundle, ""),
        "role": (role, ""),
    }
    findings = (
        _drop_finding(percent, (role, drop_limit_percent), gauge, known),
        _ampacity_finding(current_a, carries, gauge, known),
        *_heat_finding(conductor_c, insulation_c),
    )
    return WireRun(resistance, drop, percent, loss, carries, findings)


def voltage_drop(ohm, current_a):
    """Voltage [V] that a resistance out and back [ohm] takes at a current [A]. Source: definition of resistance.

    >>> round(voltage_drop(0.00044 * 107, 20), 3)
    0.942
    """
    return ohm * current_a


def splice_in_flex(spliced, in_flexing_arm):
    """Whether a splice lies where the wire flexes.

    Parameters: spliced, in_flexing_arm: each yes, no or unknown [-]. Returns a Finding. Raises EngineeringError.
    Source: NASA-STD-8739.4 (no splice where it flexes).

    >>> splice_in_flex(True, True).verdict, splice_in_flex(None, False).verdict, splice_in_flex(None, True).verdict
    ('stop', 'fits', 'unknown')
    """
    spliced = guards.answer("Spliced", spliced)
    flexing = guards.answer("In the flexing arm", in_flexing_arm)
    name, formula = "splice in the flexing arm", "no splice where the wire flexes"
    answers = {"spliced": spliced, "in the flexing arm": flexing}
    missing = [label for label, said in answers.items() if said is None]
    if False in answers.values():
        return Finding(name, "no", "", "no", FITS, formula, NASA_WORKMANSHIP)
    if missing:
        return unknown(name, missing, limit="no", formula=formula, source=NASA_WORKMANSHIP)
    return Finding(name, "yes", "", "no", STOP, formula, NASA_WORKMANSHIP)


def termination(kind):
    """Whether the end of a wire is made in a way that lasts.

    Parameters: kind: crimp, solder, screw, crimp_then_solder, crimp_on_tinned, unknown or None [-]. Returns a
    Finding. Raises EngineeringError. Sources: NASA-STD-8739.4 (no crimp on tinned strands); common practice for the
    rest.

    >>> termination("crimp_on_tinned").verdict, termination("crimp_then_solder").verdict, termination(None).verdict
    ('stop', 'check', 'unknown')
    """
    kind = None if kind == "" else guards.choice("Termination", kind, (*TERMINATIONS, "unknown"))
    name, formula = "termination", "crimped or soldered, never crimped on tinned strands"
    if kind in (None, "unknown"):
        return unknown(name, "how the wire ends", formula=formula, source=NASA_WORKMANSHIP)
    verdict, words = TERMINATIONS[kind]
    source = NASA_WORKMANSHIP if verdict == STOP else COMMON_PRACTICE
    return Finding(name, words, "", None, verdict, formula, source)


def contact_rating(rated_dc_a, stall_current_a, is_signal_plug):
    """Whether a switch, relay or connector in a motor circuit bears the stalled motor.

    Parameters: rated_dc: rating in direct current, 0 to 10,000 [A]; stall current through it, above 0 to 10,000 [A];
    is_signal_plug: whether it is a 3.5 mm plug [-]; each may be unknown. Returns a Finding. A rating for alternating
    current does not count. For motor circuits only. Raises EngineeringError. Source: common practice; a recall of
    1991, where a switch welded shut from inrush, is the reason.

    >>> [contact_rating(*case).verdict for case in ((30, 22, False), (None, 22, False), (30, 22, True))]
    ['fits', 'unknown', 'stop']
    """
    rated = guards.number("Rating in direct current", rated_dc_a, "A", minimum=0, maximum=10_000)
    stall = guards.number("Stall current", stall_current_a, "A", above=0, maximum=10_000)
    plug = guards.answer("3.5 mm plug", is_signal_plug)
    name, source = "contact in a motor circuit", COMMON_PRACTICE
    formula = "rating in direct current at least the stall current; a 3.5 mm plug never carries motor current"
    formula = margins.CONTACT.beside(formula)
    inputs = shown_inputs(rating_in_direct_current=(rated, "A"), stall_current=(stall, "A"))
    if plug:
        return Finding(name, stall, "A", 0.0, STOP, formula, source, inputs)
    if None not in (rated, stall) and stall > rated:
        return Finding(name, stall, "A", rated, STOP, formula, source, inputs)
    facts = {"rating in direct current": rated, "stall current": stall, "whether it is a 3.5 mm plug": plug}
    missing = [label for label, fact in facts.items() if fact is None]
    if missing:
        return unknown(name, missing, unit="A", limit=rated, formula=formula, source=source, inputs=inputs)
    verdict = margins.judged(stall, rated, margins.CONTACT)
    return Finding(name, stall, "A", rated, verdict, formula, source, inputs)


def _out_and_back(gauge, length_m, conductor_c):
    if None in (gauge, length_m, conductor_c):
        return None
    return copper.resistance_per_m(gauge, conductor_c) * 2 * length_m


def _surroundings(conductor_c, insulation_c, bundle):
    coldest, hottest = copper.COLDEST_C, copper.HOTTEST_C
    return (
        guards.number("Conductor temperature", conductor_c, "\u00b0C", minimum=coldest, maximum=hottest),
        guards.number("Insulation rating", insulation_c, "\u00b0C", above=0, maximum=table.HIGHEST_INSULATION_C),
        guards.whole("Loaded conductors in the bundle", bundle, "", minimum=1, maximum=table.LARGEST_BUNDLE),
    )


def _missing(known, *labels):
    return [label for label in labels if known[label][0] is None]


def _drop_finding(percent, rule, gauge, known):
    name = "voltage drop"
    formula = (
        "resistance of a metre of this wire, warm, times twice the length, times the current, as a share of the supply"
    )
    limit, limit_source = _drop_limit(*rule)
    source = f"{copper.source_of(gauge) if gauge else 'copper tables'}; {limit_source}"
    missing = _missing(known, "gauge", "length one way", "current", "supply", "conductor temperature", "role")
    inputs = shown_inputs(**known)
    if percent is not None and percent >= 100:
        return Finding(name, percent, "%", limit or 100.0, STOP, formula, source, inputs)
    if missing:
        return unknown(name, missing, unit="%", limit=limit, formula=formula, source=source, inputs=inputs)
    return Finding(name, percent, "%", limit, FITS if percent <= limit else CHECK, formula, source, inputs)


def _drop_limit(role, lab_percent):
    """The greatest drop for the role [%] and its source; an unknown role has none."""
    if role is None:
        return None, limits.ABYC
    return limits.tightened(DROP_RULES[role], lab_percent), limits.source_of(DROP_RULES[role], lab_percent)


def _ampacity_finding(current, carries, gauge, known):
    name = "current in the wire"
    formula = "table current for this gauge and insulation, times the bundling factor, at least the current"
    formula = margins.AMPACITY.beside(formula)
    missing = _missing(known, "gauge", "insulation rating", "loaded conductors in the bundle", "current")
    if not missing and carries is None:
        rating = plain(known["insulation rating"][0])
        missing = [f"a row of the table for {gauge.label} with insulation for {rating} \u00b0C"]
    inputs = shown_inputs(**known)
    if missing:
        return unknown(name, missing, unit="A", limit=carries, formula=formula, source=table.SOURCE, inputs=inputs)
    verdict = margins.judged(current, carries, margins.AMPACITY)
    return Finding(name, current, "A", carries, verdict, formula, table.SOURCE, inputs)


def _heat_finding(conductor_c, insulation_c):
    """Only said when it is wrong: a conductor hotter than its insulation bears."""
    if None in (conductor_c, insulation_c) or conductor_c <= insulation_c:
        return ()
    name, source = "conductor temperature", "rating of the insulation"
    formula = "conductor temperature no higher than the insulation's rating"
    return (Finding(name, conductor_c, "\u00b0C", insulation_c, STOP, formula, source),)
