"""When a client outgrows the unit: on the ticket of a build, and on the client's page.

The mass is the newest that stands; the limit is what the rating leaves for a rider. Sex and birth date are read
here and nowhere shown: with the day of outgrowing, the weight and the curve somebody could solve for the birth
date, so whoever does not see identity gets the month only, and straight lines in place of the curve.
"""

from dataclasses import dataclass, replace
from datetime import date

from django.utils import timezone

from builds.engineering.finding import STOP, EngineeringError, Finding, shown_inputs, unknown
from builds.engineering.growth import FORMULA, NAME, growth
from builds.engineering.growth_table import SOURCE
from builds.engineering.quantities import format_quantity
from builds.engineering.rider import greatest_rider
from builds.overview.outlook_picture import picture
from builds.parts.carrying import added_parts, part_mass
from builds.record.holds import Standing
from builds.record.models import Build
from clients.models import Measure, PersonFile
from labsite import figures
from labsite.units import lab_units

HEADING = "Growth outlook"
CURVES = "That the client stays on this centile is assumed, and some conditions grow on other curves."
DISAGREE = "a birth date and a day of weighing that agree"


@dataclass(frozen=True)
class Outlook:
    build: object
    findings: tuple
    sentences: tuple
    picture: object  # None while nothing can be drawn


@dataclass(frozen=True)
class Facts:
    """What the outlook of one client rests on."""

    sex: str | None
    birth_date: date | None
    masses: tuple  # standing measures of the mass, the oldest first

    @property
    def newest(self):
        return self.masses[-1] if self.masses else None


def facts_of(client):
    """One query beside the measures that the page has already."""
    found = PersonFile.objects.filter(client=client).values_list("sex", "birth_date").first()
    standing = [row for row in client.measures.all() if row.kind == Measure.Kind.MASS and not row.is_struck]
    return Facts(*(found or (None, None)), tuple(sorted(standing, key=lambda row: (row.taken_on, row.pk))))


def outlooks_for(client, builds, identified):
    """The outlook of each ride-on of this client that is being built or in use."""
    facts = facts_of(client)
    running = Build.objects.filter(pk__in=[build.pk for build in builds if goes_on(build)])
    rows = running.select_related("unit__type", "plan_revision__plan").prefetch_related("parts").order_by("serial")
    return [outlook(build, facts, identified) for build in rows if build.rides]


def for_ticket(build):
    """The outlook as everybody may see it. The facts are read for toys too, so that every ticket asks as often."""
    facts = facts_of(build.client)
    return outlook(build, facts, identified=False) if build.rides and goes_on(build) else None


def goes_on(build):
    return not build.is_over and build.standing != Standing.CANCELLED


def outlook(build, facts, identified):
    added = [part_mass(part) for part in added_parts(build)]
    rated = build.unit.type.rated_load_kg
    try:
        limit = greatest_rider(added=added, rated_kg=rated)
    except EngineeringError as error:
        return Outlook(build, (nothing_left(rated),), (str(error), CURVES), None)
    found, findings = computed(facts, limit, [*unweighed(added), *([] if rated else ["rated load of the unit"])])
    shown = tuple(in_words(finding, identified) for finding in findings if identified or finding.name == NAME)
    sentences = (carries(rated, limit), weighed(facts.newest), *passes(facts.newest, found, identified), CURVES)
    return Outlook(
        build, shown, tuple(filter(None, sentences)), picture(facts, found, limit, identified, timezone.localdate())
    )


def unweighed(added):
    return [f"mass of {mass.name}" for mass in added if mass.mass_kg is None]


def nothing_left(rated):
    return Finding(NAME, "already", "", None, STOP, FORMULA, SOURCE, shown_inputs(rated_load=(rated, "kg")))


def computed(facts, limit, missing):
    """(what growth says or None, its findings). A refusal names the birth date, so it is said in other words."""
    newest = facts.newest
    try:
        found = growth(
            sex=facts.sex,
            birth_date=facts.birth_date,
            weight_kg=newest.value_si if newest else None,
            on=newest.taken_on if newest else None,
            limit_kg=limit,
            today=timezone.localdate(),
        )
    except EngineeringError:
        return None, (unknown(NAME, DISAGREE, formula=FORMULA, source=SOURCE),)
    return found, tuple(naming(finding, missing) for finding in found.findings)


def naming(finding, missing):
    """Where the limit is missing, what of the unit it is that nobody recorded."""
    if not finding.missing or not missing:
        return finding
    other = [one for one in finding.missing.split(", ") if one != "limit"]
    return replace(finding, missing=", ".join([*other, *missing] if finding.name == NAME else other))


def in_words(finding, identified):
    """Days as a person writes them; for those who do not see identity months only, and nothing about the age."""
    say = figures.day if identified else month
    inputs = [(label, said(text, say)) for label, text in finding.inputs if identified or label not in ("sex", "age")]
    told = {"inputs": tuple(inputs), "value": said(finding.value, say), "limit": said(finding.limit, say)}
    return replace(finding, **told)


def said(text, say):
    """A text with its ISO day, if it holds one, in words."""
    if not isinstance(text, str):
        return text
    start, space, last = text.rpartition(" ")
    try:
        return f"{start}{space}{say(date.fromisoformat(last))}"
    except ValueError:
        return text


def month(day):
    return f"{day:%B %Y}"


def carries(rated, limit):
    if limit is None:
        return ""
    less = "" if limit == rated else f": rated for {mass(rated)}, less {mass(rated - limit)} that was added"
    return f"The unit carries a rider up to {mass(limit)}{less}."


def weighed(newest):
    return newest and f"On {figures.day(newest.taken_on)} the client weighed {mass(newest.value_si)}."


def passes(newest, found, identified):
    """When, along the client's own centile and one line up."""
    if found is None or found.outgrown_early_on is None:
        return
    on = (lambda day: f"on {figures.day(day)}") if identified else (lambda day: f"in {month(day)}")
    at_once = found.outgrown_early_on <= newest.taken_on
    early = f"one centile line up {'already' if at_once else on(found.outgrown_early_on)}"
    if found.outgrown_on is None:
        yield f"Along the client's own centile this is not passed by the age of 20; {early}."
        return
    yield f"Along the client's own centile this is passed {on(found.outgrown_on)}, {early}."
    if found.outgrown_on <= timezone.localdate():
        yield "By the curve that has happened already. Weigh the client again."


def mass(kg):
    return format_quantity(kg, "mass", system=lab_units())
