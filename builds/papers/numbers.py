"""Where each number on a paper comes from: as it is printed, with formula, inputs and source.

From a paper a reader comes here in one step, and from here to the ticket's own finding in the next. A number that
somebody recorded says so; it was not computed.
"""

from dataclasses import dataclass, replace
from math import floor

from django.utils import translation

from builds.engineering.finding import COMMON_PRACTICE, FITS, UNKNOWN, Finding, plain, shown_inputs
from builds.engineering.load import SOURCE as RATING
from builds.papers import home, words
from builds.papers.facts import Facts
from builds.papers.models import PaperKind as Kind
from builds.parts.carrying import added_parts, load_findings, part_mass, removed_parts
from labsite.figures import day

ROUNDING = 1e-9
RECORDED = "recorded, not computed"
DEADBAND = "the larger of 2 % of half range and 3 spreads of the rests"


@dataclass(frozen=True)
class Number:
    label: str
    printed: tuple  # each way it stands on the paper
    finding: Finding
    heading: str = ""  # under which the ticket has the finding

    @property
    def is_judged(self):
        """Whether there is a limit to hold it against; what is only recorded or added up has no verdict."""
        return self.finding.limit not in (None, "") or self.finding.verdict == UNKNOWN


def numbers_on(kind, build, reports):
    """The numbers of this paper, in its order."""
    with translation.override("en"):
        return list(OF_KIND[kind](Facts(build), reports))


def recorded(name, value, unit, where, **inputs):
    """A number that somebody wrote down."""
    told = shown_inputs(**inputs)
    if value is None:
        return Finding(name, None, unit, None, UNKNOWN, RECORDED, where, told, name)
    return Finding(name, value, unit, None, FITS, RECORDED, where, told)


def limits(facts, reports):
    """What the use guide and the supervision card print as limits."""
    if facts.rides:
        yield from speed(facts, reports)
        yield from loads(facts)
    if facts.clearance and facts.clearance.session_min:
        minutes, given = facts.clearance.session_min, day(facts.clearance.given_on)
        yield Number("Longest session", (f"{minutes} minutes",), recorded("session", minutes, "min", cleared(given)))


def cleared(given):
    return f"clearance of {given}"


def speed(facts, reports):
    if facts.ceiling_m_s is None:
        return
    judged = of_ticket(reports, "drive", "Speed", "ceiling in use against ceiling of the clearance")
    where = f"configuration {facts.configuration.number}, set and then measured by timed runs"
    set_to = recorded("speed ceiling in use", facts.ceiling_m_s, "m/s", where)
    if judged:
        set_to = replace(judged, source=f"{where}; {judged.source}")
    yield Number("Top speed", (words.a_speed(facts.ceiling_m_s),), set_to, "Speed")


def loads(facts):
    rated = facts.unit.type.rated_load_kg
    if rated is not None:
        where = f"type of unit {facts.unit.number}: {facts.unit.type.name}"
        yield Number("Load limit", (words.a_load(rated),), recorded("rated load", rated, "kg", where), "Load")
    rider = facts.rider_limit_kg
    if rider is not None:
        formula = "rated load less everything that was added; rounded down to a tenth, on the paper in both units"
        added = tuple(weighed(part) for part in added_parts(facts.build))
        inputs = (("rated load", f"{plain(rated)} kg"), *added)
        _, carried = load_findings(facts.build)
        down = floor(rider * 10 + ROUNDING) / 10
        verdict, missing = carried[0].verdict, carried[0].missing  # unknown where the client was never weighed
        found = Finding("greatest rider", down, "kg", None, verdict, formula, RATING, inputs, missing)
        yield Number("Greatest mass of the rider", (words.a_load(rider),), found, "Load")


def weighed(part):
    mass = part_mass(part)
    return mass.name, "unknown" if mass.mass_kg is None else f"{plain(mass.counted_kg)} kg"


def carrying(facts, reports):
    """What the use guide says of lifting it."""
    mass = home.unit_kg(facts)
    if mass is None or not facts.rides:
        return
    formula = "own mass of the unit and what was added, less what was taken off; rounded up on the paper"
    parts = tuple(weighed(part) for part in [*added_parts(facts.build), *removed_parts(facts.build)])
    inputs = (("own mass of the unit", f"{plain(facts.unit.type.own_mass_kg)} kg"), *parts)
    found = Finding("mass to lift", mass, "kg", None, FITS, formula, "sum, by definition", inputs)
    printed = home.weight_sentence(facts).removeprefix("It weighs about ").partition(" without")[0]
    yield Number("Mass to lift", (printed,), found)


def use_guide(facts, reports):
    yield from limits(facts, reports)
    yield from carrying(facts, reports)


def charging_guide(facts, reports):
    plan = facts.charge
    if plan.problem or not plan.findings:
        return
    hours = next(one for one in plan.findings if one.name == "hours of charging")
    awake = plan.findings[-1]
    formula = f"{hours.formula}; rounded up to the half hour"
    longest = replace(hours, formula=formula)
    yield Number("Longest charge", (plan.longest,), longest, "Charging at home")
    clock = f"{awake.formula}; the take-off is the plug-in and the hours of charging"
    times = tuple(time for pair in plan.starts for time in pair)
    yield Number("Plug in and take off", times, replace(awake, formula=clock), "Charging at home")
    latest = f"{awake.formula}; the latest start is bedtime less the hours of charging"
    told = tuple(line for line in plan.lines if line.startswith("Later than"))
    yield Number("Latest start", told, replace(awake, formula=latest), "Charging at home")


def as_built(facts, reports):
    yield from deadbands(facts)
    yield from fastest_runs(facts)
    for report in reports.values():
        for heading, finding in report.findings:
            yield Number(f"{heading}: {finding.name}", (), finding, heading)


def deadbands(facts):
    """As each calibration keeps them: computed once from its readings and never again."""
    for one in facts.build.calibrations.all():
        for axis, name in (("x", "sideways"), ("y", "forward")):
            kept = (one.fit or {}).get(axis, {})
            value = kept.get("results", {}).get("deadband")
            if value is not None:
                inputs = tuple((label.replace("_", " "), said(given)) for label, given in kept["inputs"].items())
                found = Finding("deadband", value, "counts", None, FITS, DEADBAND, COMMON_PRACTICE, inputs)
                when, side = one.get_when_display().lower(), one.get_side_display().lower()
                yield Number(f"Deadband {name}, {when}, {side}", (plain(value),), found)


def said(given):
    return plain(given) if isinstance(given, (int, float)) and not isinstance(given, bool) else str(given)


def fastest_runs(facts):
    for one in facts.build.timed_runs.select_related("configuration"):
        if one.times_s:
            formula, quickest = "distance over the shortest time", min(one.times_s)
            inputs = shown_inputs(distance=(one.distance_m, "m"), shortest_time=(quickest, "s"))
            found = Finding("fastest run", one.distance_m / quickest, "m/s", None, FITS, formula, "definition", inputs)
            label = f"Fastest run, configuration {one.configuration.number}, {one.position}"
            yield Number(label, (f"{one.distance_m / quickest:.2f} m/s",), found, "Speed")


def of_ticket(reports, room, heading, name):
    """The finding that the ticket shows under this heading."""
    found = (one for head, one in reports[room].findings if head == heading and one.name == name)
    return next(found, None)


OF_KIND = {
    Kind.USE_GUIDE: use_guide,
    Kind.CHARGING_GUIDE: charging_guide,
    Kind.SUPERVISION_CARD: limits,
    Kind.AS_BUILT: as_built,
}
