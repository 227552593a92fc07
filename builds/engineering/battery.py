"""Batteries: how long they last, charge and keep, and whether battery, charger and plan belong together."""

from dataclasses import dataclass
from math import ceil, log, log1p

from builds.engineering import guards
from builds.engineering.finding import (
    CHECK,
    COMMON_PRACTICE,
    FITS,
    STOP,
    UNKNOWN,
    Finding,
    shown_inputs,
    unknown,
)

# 1. Charge current window of sealed lead-acid, C/10 to C/4: maker advice in general, common practice.
SLOWEST_CHARGE_C = 0.10
FASTEST_CHARGE_C = 0.25
# 2. Recharge stored batteries at least every 3 months: common practice. A month is a twelfth of 365.25 days.
RECHARGE_DAYS = 90.0
DAYS_A_MONTH = 30.4375
# A charge longer than this cannot start and end in the waking hours of one day: common practice.
LONGEST_WAKING_H = 16.0
# 3. Peukert's law in its hour-rate form, t = H x (C / (I x H))^k, widely printed.
PEUKERT_SOURCE = "Peukert's law, hour-rate form"

CHEMISTRIES = ("lead_acid", "li_ion", "lifepo4", "nimh", "primary", "unknown", "none")
LARGEST_CAPACITY_AH = 1000.0
LARGEST_CURRENT_A = 1000.0
HALF_HOUR_ROUNDING = 1e-6


@dataclass(frozen=True)
class ChargeTime:
    hours: float | None
    hours_rounded: float | None
    c_rate: float | None
    findings: tuple


@dataclass(frozen=True)
class StandbyDrain:
    days_to_half: float | None
    days_to_empty: float | None
    findings: tuple


@dataclass(frozen=True)
class Runtime:
    hours: float | None
    findings: tuple


def charge_time(*, capacity_ah, discharged, charger_a, factor):
    """How long a charge takes, and whether the charger suits the battery.

    hours = capacity x discharged x factor / charger current; rounded up to the half hour.
    Parameters: capacity, above 0 to 1000 [Ah]; discharged share, 0 to 1 [-]; charger current, above 0 to 1000 [A];
    factor: how much more goes in
    than came out, 1 to 2 [-]; each may be None. Returns hours [h], hours rounded up to the half hour [h],
    charger current over capacity [1/h], findings. Sealed lead-acid; the last hours of a charge at falling
    current are only in the factor. Raises EngineeringError. Source 1; factor 1.2: common practice.

    >>> time = charge_time(capacity_ah=12, discharged=0.5, charger_a=1, factor=1.2)
    >>> round(time.hours, 2), time.hours_rounded, time.findings[0].verdict
    (7.2, 7.5, 'check')
    """
    capacity = guards.number("Capacity", capacity_ah, "Ah", above=0, maximum=LARGEST_CAPACITY_AH)
    discharged = guards.number("Discharged share", discharged, "", minimum=0, maximum=1)
    charger = guards.number("Charger current", charger_a, "A", above=0, maximum=LARGEST_CURRENT_A)
    factor = guards.number("Charge factor", factor, "", minimum=1, maximum=2)
    hours = None
    if None not in (capacity, discharged, charger, factor):
        hours = capacity * discharged * factor / charger
    facts = {"capacity": capacity, "discharged share": discharged, "charger current": charger, "factor": factor}
    findings = (charger_window(capacity, charger), _hours_finding(hours, facts))
    c_rate = None if None in (capacity, charger) else charger / capacity
    return ChargeTime(hours, up_to_half_hour(hours), c_rate, findings)


def charger_window(capacity_ah, charger_a):
    """Whether a charger's current suits a sealed lead-acid battery: C/10 to C/4, else `check`.

    Parameters: capacity [Ah]; charger current [A]; each may be None. Returns a Finding. Not for lithium, whose
    charger is the maker's. Source 1.

    >>> charger_window(12, 1.2).verdict, charger_window(12, 3.1).verdict, charger_window(12, None).verdict
    ('fits', 'check', 'unknown')
    """
    name = "charger current"
    formula = "between a tenth and a quarter of the capacity an hour"
    inputs = shown_inputs(capacity=(capacity_ah, "Ah"), charger_current=(charger_a, "A"))
    missing = [label for label, fact in {"capacity": capacity_ah, "charger current": charger_a}.items() if fact is None]
    if missing:
        return unknown(name, missing, unit="A", formula=formula, source=COMMON_PRACTICE, inputs=inputs)
    least, most = SLOWEST_CHARGE_C * capacity_ah, FASTEST_CHARGE_C * capacity_ah
    inside = least * (1 - 1e-9) <= charger_a <= most * (1 + 1e-9)
    verdict = FITS if inside else CHECK
    return Finding(name, charger_a, "A", f"{least:g} to {most:g}", verdict, formula, COMMON_PRACTICE, inputs)


def standby_drain(*, capacity_ah, drain_a, self_discharge_percent):
    """How many days a stored battery lasts: a constant drain, and self-discharge compounding.

    dQ/dt = -Q x rate - drain, rate = -ln(1 - share lost a month) / 30.4375 days.
    Parameters: capacity, full at the start, above 0 to 1000 [Ah]; drain, 0 to 1000 [A]; self-discharge, 0 to 99
    [% a month]; each may be None.
    Returns days to half [d], days to empty [d], findings. Days to empty is None where nothing drains, since
    compounding never ends at nothing. At 20 to 25 °C. Raises EngineeringError. Source 2; 3 % a month for
    sealed lead-acid: common practice.

    >>> stored = standby_drain(capacity_ah=12, drain_a=0.01, self_discharge_percent=0)
    >>> round(stored.days_to_half, 3), round(stored.days_to_empty, 3)
    (25.0, 50.0)
    """
    capacity = guards.number("Capacity", capacity_ah, "Ah", above=0, maximum=LARGEST_CAPACITY_AH)
    drain = guards.number("Drain", drain_a, "A", minimum=0, maximum=LARGEST_CURRENT_A)
    lost = guards.number("Self-discharge", self_discharge_percent, "% a month", minimum=0, maximum=99)
    facts = {"capacity": capacity, "drain": drain, "self-discharge": lost}
    inputs = shown_inputs(capacity=(capacity, "Ah"), drain=(drain, "A"), self_discharge=(lost, "% a month"))
    missing = [label for label, fact in facts.items() if fact is None]
    half = empty = None
    if not missing:
        half = _days_until(0.5, capacity, drain * 24, lost)
        empty = _days_until(0.0, capacity, drain * 24, lost)
        missing = [] if half is not None else ["a drain or a self-discharge above 0"]
    return StandbyDrain(half, empty, (_standby_finding(half, missing, inputs), *_empty_finding(half, empty, inputs)))


def stored_share(months, self_discharge_percent):
    """Share of the charge left after some months of self-discharge alone, compounding.

    Parameters: months [-]; self-discharge [% a month]. Returns [-]. Source: definition of compounding.

    >>> round(stored_share(6, 3), 4)
    0.833
    """
    return (1 - self_discharge_percent / 100) ** months


def runtime(*, capacity_ah, load_a, peukert, usable, hours_rate, needed_h=None):
    """How long a battery carries a constant load.

    hours = usable x H x (C / (I x H))^k, and never more than usable x C / I.
    Parameters: capacity at the hours rate, above 0 to 1000 [Ah]; load, above 0 to 1000 [A]; Peukert exponent, 1 to
    1.6 [-]; usable share, above 0 to 1 [-]; hours rate, 1 to 1000 [h]; needed: how long it has to last, above 0 to
    1000 [h]; each may be None. Returns hours [h], findings: `check` where it lasts shorter than needed. Lead-acid, new,
    at 20 to 25 °C; not for a load that comes and goes. Raises EngineeringError. Source 3.

    >>> round(runtime(capacity_ah=12, load_a=6, peukert=1.15, usable=1, hours_rate=20).hours, 4)
    1.4159
    """
    capacity = guards.number("Capacity", capacity_ah, "Ah", above=0, maximum=LARGEST_CAPACITY_AH)
    load = guards.number("Load", load_a, "A", above=0, maximum=LARGEST_CURRENT_A)
    exponent = guards.number("Peukert exponent", peukert, "", minimum=1, maximum=1.6)
    usable = guards.number("Usable share", usable, "", above=0, maximum=1)
    rate = guards.number("Hours rate", hours_rate, "h", minimum=1, maximum=1000)
    needed = guards.number("Time it has to last", needed_h, "h", above=0, maximum=1000)
    facts = {
        "capacity": (capacity, "Ah"), "load": (load, "A"), "Peukert exponent": (exponent, ""),
        "usable share": (usable, ""), "hours rate": (rate, "h"),
    }
    name = "run time"
    formula = "usable share times the hours rate times (capacity over load times hours rate) to the Peukert exponent"
    missing = [label for label, (fact, _) in facts.items() if fact is None]
    inputs = shown_inputs(**facts)
    if missing:
        return Runtime(None, (unknown(name, missing, unit="h", formula=formula, source=PEUKERT_SOURCE, inputs=inputs),))
    hours = usable * min(peukert_hours(capacity, load, exponent, rate), capacity / load)
    if needed is None:
        lacks = "how long it has to last"
        return Runtime(hours, (Finding(name, hours, "h", None, UNKNOWN, formula, PEUKERT_SOURCE, inputs, lacks),))
    formula += "; the limit is how long it has to last"
    verdict = FITS if hours >= needed else CHECK
    return Runtime(hours, (Finding(name, hours, "h", needed, verdict, formula, PEUKERT_SOURCE, inputs),))


def peukert_hours(capacity_ah, load_a, exponent, hours_rate):
    """Hours to empty at a constant load: H x (C / (I x H))^k.

    Parameters: capacity at the hours rate [Ah]; load [A]; exponent [-]; hours rate [h]. Returns [h].
    Only with the capacity of that hours rate: with the capacity at 1 A it is wrong. Source 3.

    >>> round(peukert_hours(100, 10, 1.2, 20), 4)
    8.7055
    """
    return hours_rate * (capacity_ah / (load_a * hours_rate)) ** exponent


def peukert_exponent(first_a, first_h, second_a, second_h):
    """Exponent from two ratings, k = ln(t1/t2) / ln(I2/I1).

    Parameters: current [A] and time [h] of the first and the second discharge to empty. Returns [-]. Source 3.

    >>> round(peukert_exponent(5, 20, 20, 4), 4)
    1.161
    """
    return log(first_h / second_h) / log(second_a / first_a)


def chemistry_agrees(battery, charger, plan):
    """Whether battery, charger and plan are of one chemistry.

    Parameters: each one of `CHEMISTRIES`, or None for unknown [-]; a charger `none` is no charger. Returns a
    Finding. Single-use cells are never charged. Raises EngineeringError. Source: common practice; a charger
    of another chemistry can set a battery on fire.

    >>> chemistry_agrees("lead_acid", "lead_acid", "lead_acid").verdict
    'fits'
    >>> [chemistry_agrees(*case).verdict for case in (("lead_acid", "unknown", "lead_acid"), ("li_ion", "nimh", None))]
    ['unknown', 'stop']
    """
    named = {"battery": battery, "charger": charger, "plan": plan}
    named = {label: None if code in ("unknown", "") else code for label, code in named.items()}
    for label, code in named.items():
        guards.choice(f"Chemistry of the {label}", code, CHEMISTRIES)
    name = "chemistry"
    formula = "battery, charger and plan of one chemistry; single-use cells are never charged"
    inputs = tuple((label, (code or "unknown").replace("_", " ")) for label, code in named.items())
    uncharged = named["battery"] == "primary" and named["charger"] == "none"
    known = {code for label, code in named.items() if code and not (uncharged and label == "charger")}
    charged_primary = "primary" in known and named["charger"] not in (None, "none")
    if len(known) > 1 or charged_primary:
        told = ", ".join(sorted(known)).replace("_", " ")
        return Finding(name, told, "", "one", STOP, formula, COMMON_PRACTICE, inputs)
    missing = [f"chemistry of the {label}" for label, code in named.items() if code is None]
    if missing:
        return unknown(name, missing, limit="one", formula=formula, source=COMMON_PRACTICE, inputs=inputs)
    return Finding(name, known.pop().replace("_", " "), "", "one", FITS, formula, COMMON_PRACTICE, inputs)


def up_to_half_hour(hours):
    """Hours [h] rounded up to the half hour; a hair above one does not cost another. Source: definition.

    >>> up_to_half_hour(7.2), up_to_half_hour(7.5), up_to_half_hour(None)
    (7.5, 7.5, None)
    """
    return None if hours is None else ceil(2 * hours - HALF_HOUR_ROUNDING) / 2


def _hours_finding(hours, facts):
    name = "hours of charging"
    formula = "capacity times discharged share times factor, over the charger current"
    missing = [label for label, fact in facts.items() if fact is None]
    units = {"capacity": "Ah", "charger current": "A"}
    inputs = shown_inputs(**{label: (fact, units.get(label, "")) for label, fact in facts.items()})
    if missing:
        return unknown(name, missing, unit="h", formula=formula, source=COMMON_PRACTICE, inputs=inputs)
    verdict = FITS if hours <= LONGEST_WAKING_H else CHECK
    return Finding(name, hours, "h", LONGEST_WAKING_H, verdict, formula, COMMON_PRACTICE, inputs)


def _days_until(share, capacity, drain_a_day, lost_percent):
    """Days until this share of the capacity is left; None where that never comes."""
    rate = -log1p(-lost_percent / 100) / DAYS_A_MONTH
    fall = capacity * (1 - share)
    if rate == 0:
        return fall / drain_a_day if drain_a_day else None
    floor = capacity * share + drain_a_day / rate
    return log1p(fall / floor) / rate if floor else None


def _standby_finding(half, missing, inputs):
    name, limit = "days in storage until half", RECHARGE_DAYS
    formula = "constant drain plus self-discharge compounding by the month; recharge before it is half empty"
    if missing:
        return unknown(name, missing, unit="d", limit=limit, formula=formula, source=COMMON_PRACTICE, inputs=inputs)
    return Finding(name, half, "d", limit, FITS if half >= limit else CHECK, formula, COMMON_PRACTICE, inputs)


def _empty_finding(half, empty, inputs):
    """Only said where half comes; a battery that only loses its own charge has no such day."""
    name, limit = "days in storage until empty", RECHARGE_DAYS
    if half is None:
        return ()
    if empty is None:
        formula = "self-discharge that compounds never reaches nothing"
        return (unknown(name, "a drain above 0", unit="d", formula=formula, source=COMMON_PRACTICE, inputs=inputs),)
    formula = "constant drain plus self-discharge compounding by the month; an empty battery does not recover fully"
    verdict = FITS if empty >= limit else CHECK
    return (Finding(name, empty, "d", limit, verdict, formula, COMMON_PRACTICE, inputs),)
