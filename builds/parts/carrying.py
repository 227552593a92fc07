"""From the record to the load and balance findings: who and what the unit carries, and where.

The rated load is what the unit may carry: the rider and what was added to it; its own mass is not counted.
For balance everything counts, and what was taken off counts against. Nothing is filled in: a mass or a place
that nobody recorded leaves the finding unknown. Where the arm swaps, both sides are computed, the second with
the parts that move with the arm mirrored over the middle line.
"""

from builds.engineering.finding import FITS, STOP, UNKNOWN, EngineeringError, unknown, worst
from builds.engineering.load import Mass, load
from builds.engineering.stability import LAYOUTS, balance
from labsite.models import Lab

LOAD, BALANCE = "Load", "Balance"
OTHER_SIDE = "Balance, arm on the other side"


def added_parts(build):
    return [part for part in build.parts.all() if part.counts_as_added]


def removed_parts(build):
    return [part for part in build.parts.all() if part.removed and not part.is_struck and part.count > 0]


def part_mass(part, mirrored=False):
    mass = None if part.mass_kg is None else part.mass_kg * part.count
    place = mirror(part.place) if mirrored else part.place
    return Mass(f"{part.name}, line {part.find_number}", mass, place, part.removed)


def mirror(place):
    return None if place is None else [place[0], -place[1], place[2]]


def load_findings(build):
    """The rider and everything added, against the rated load of the unit."""
    try:
        carried = load(
            masses=[Mass("rider", build.client.latest_mass_kg()), *map(part_mass, added_parts(build))],
            rated_kg=build.unit.type.rated_load_kg,
        )
    except EngineeringError as error:
        return None, (unknown("load", str(error)),)
    return carried.margin_kg, carried.findings


def balance_findings(build, configuration, *, other_side=False):
    """Tipping to all four ways; `other_side` mirrors what moves with the arm."""
    kind = build.unit.type
    slope, _ = build.client.steepest_slope()
    lab = Lab.current()
    try:
        masses = [
            Mass("unit", kind.own_mass_kg, kind.own_place),
            Mass("rider", build.client.latest_mass_kg(), configuration.rider_place if configuration else None),
            *(part_mass(part, other_side and part.in_arm) for part in [*added_parts(build), *removed_parts(build)]),
        ]
        found = balance(
            layout=kind.layout if kind.layout in LAYOUTS else None,
            masses=masses,
            track_m=kind.track_m,
            wheelbase_m=kind.wheelbase_m,
            steepest_slope_deg=slope,
            least_tip_deg=lab.least_tip_deg,
            over_slope_deg=lab.least_over_slope_deg,
        )
    except EngineeringError as error:
        return (unknown("balance", str(error)),)
    return found.findings


def arm_swaps(configuration):
    return configuration is not None and configuration.arm == configuration.Reversible.SWAPS


def balance_by_side(build, configuration):
    """(heading, findings) for the side in use, and for the other one where the arm swaps."""
    groups = [(BALANCE, balance_findings(build, configuration))]
    if arm_swaps(configuration):
        if any(part.in_arm for part in added_parts(build)):
            groups.append((OTHER_SIDE, balance_findings(build, configuration, other_side=True)))
        else:
            groups.append((OTHER_SIDE, (unknown("balance", "which parts move with the arm to the other side"),)))
    return groups


def met(findings):
    """True when all fit, False when one says stop, None while one is unknown."""
    verdict = worst(findings)
    if verdict == STOP:
        return False
    return None if verdict == UNKNOWN else True


def why(findings):
    """What is missing or over its limit, in words."""
    parts = []
    for finding in findings:
        if finding.verdict == UNKNOWN:
            parts.append(f"Unknown: {finding.missing}.")
        elif finding.verdict != FITS:
            limit = "" if finding.limit is None else f", limit {finding.limit}"
            parts.append(f"{finding.name.capitalize()}: {finding.shown} {finding.unit}{limit}.")
    return " ".join(dict.fromkeys(parts))
