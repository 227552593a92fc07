"""The summary for the clinician: only with the family's word that it may be shared, purpose by purpose."""

from django.utils.dateformat import format as dated

from builds.bench.models import Section
from builds.bench.progress import Bench
from builds.bench.readings import with_unit
from builds.papers.tables import Table, known, measure
from builds.parts.carrying import balance_by_side, load_findings
from clients.models import Consent, Measure
from labsite.figures import day

NO_CONSENT = "The family has not agreed to sharing with the clinician, so there is no summary."
NO_MEASURES = "The family has not agreed to keeping measures. They are not shown."


def refusal(build):
    """Why there is no summary; empty where the family agreed to it."""
    return "" if build.client.consent_allows(Consent.Purpose.CLINICIAN) else NO_CONSENT


def page(facts):
    """The tables of the summary. The caller has made sure of the consent."""
    client = facts.build.client
    person = getattr(client, "person", None)
    return {
        "name": str(person) if person else "",
        "born": dated(person.birth_date, "j F Y") if person and person.birth_date else "",
        "tables": [
            clearance(facts),
            access(client),
            sitting(client),
            measures(client),
            cautions(client),
            goals(client),
            equipment(facts),
            tests(facts.build),
            contacts(facts.build),
        ],
        "asked": QUESTIONS,
    }


QUESTIONS = (
    "Do the side, the speed and the length of a session still suit?",
    "Do the supports still suit?",
    "Is any caution new or changed?",
    "Does the clearance go on? Until when?",
)


def clearance(facts):
    found = facts.build.client.last_clearance()
    if found is None:
        return Table.of_facts("No clearance is on file")
    is_in_date = found.in_date(facts.today)
    return Table.of_facts(
        "Clearance in date" if is_in_date else "Clearance: NOT in date",
        ("Given by", f"{found.clinician}, {found.profession}"),
        ("From and until", f"{day(found.given_on)} to {day(found.expires_on)}"),
        ("Equipment and side", f"{found.get_equipment_display()}; {found.get_scope_display().lower()}"),
        ("Greatest speed", measure(found.greatest_speed_m_s, "speed")),
        ("Longest session", known(found.session_min, "min")),
        ("Supports asked for", found.supports_in_words()),
        ("Places", found.places_in_words()),
        ("Other conditions", found.conditions),
    )


def access(client):
    profile = getattr(client, "access", None)
    if profile is None:
        return Table.of_facts("Access is not written down yet")
    return Table.of_facts(
        "Access",
        ("Side and purpose", f"{profile.get_side_display()}; {profile.get_purpose_display().lower()}"),
        ("Site and method", f"{profile.get_site_display()}; {profile.get_method_display().lower()}"),
        ("Lets go on request", f"{profile.get_releases_on_request_display()}. {profile.release_note}".strip()),
        ("Tires after", f"{known(profile.tires_after_min, 'min')}. {profile.fatigue_note}".strip()),
        ("Says stop by", known(profile.stop_signal)),
    )


def sitting(client):
    profile = getattr(client, "sitting", None)
    if profile is None:
        return Table.of_facts("Sitting is not written down yet")
    names = dict(profile.Support.choices)
    decided = ", ".join(str(names.get(code, code)) for code in profile.supports) or "none"
    return Table.of_facts(
        "Sitting and supports",
        ("Sitting level", known(profile.level)),
        ("Supports decided on", decided if profile.supports_decided else "not decided yet"),
        ("Reason where they differ from what the level suggests", profile.reason),
    )


def measures(client):
    if not client.consent_allows(Consent.Purpose.MEASURES):
        return Table.of_facts(NO_MEASURES)
    newest = {}
    for row in sorted(client.measures.all(), key=lambda one: (one.taken_on, one.pk)):
        if not row.is_struck:
            newest[row.kind, row.side, row.compensation] = row
    rows = [
        (
            " ".join(filter(None, [row.get_kind_display(), row.get_side_display() if row.side else ""])),
            measure(row.value_si, row.dimension),
            row.get_compensation_display() if row.compensation else "",
            row.get_method_display(),
            day(row.taken_on),
        )
        for row in sorted(newest.values(), key=lambda one: list(Measure.Kind.values).index(one.kind))
    ]
    columns = ("Measure", "Newest value", "Compensation", "How", "When")
    return Table("Measures", columns, rows, weights=(9, 4, 6, 6, 4))


def cautions(client):
    rows = [(one.get_kind_display(), one.get_answer_display(), one.plan) for one in client.cautions.all()]
    return Table("Cautions and their plans", ("Caution", "Answer", "Plan"), rows, weights=(6, 3, 12))


def goals(client):
    rows = [(one.text, one.expected) for one in client.goals.all() if not one.is_struck]
    return Table("Goals", ("Goal", "Expected level"), rows)


def equipment(facts):
    build = facts.build
    _, load = load_findings(build)
    lines = [*load, *(one for _, many in balance_by_side(build, facts.configuration) for one in many)]
    return Table.of_facts(
        "Equipment as it is set now",
        ("Unit and plan", f"{facts.unit.number}, {build.plan_revision}"),
        ("Control", facts.side_in_the_lab),
        ("Speed", facts.speed_sentences[0] if facts.speed_sentences else ""),
        ("Supports fitted", ", ".join(facts.supports) or "none written down"),
        ("Seat", facts.configuration.seat if facts.configuration else ""),
        ("Battery disconnect", facts.disconnect),
        ("Stop switch", facts.configuration.stop_switch if facts.configuration else ""),
        ("Power switch", facts.configuration.power_switch if facts.configuration else ""),
        ("How the straps open", facts.configuration.straps_open if facts.configuration else ""),
        *((one.name.capitalize(), in_words(one)) for one in (lines if facts.rides else [])),
    )


def in_words(finding):
    """A finding as one line: value, limit, verdict."""
    if finding.value is None:
        return f"unknown: {finding.missing}" if finding.missing else "unknown"
    limit = f", limit {finding.limit}" if finding.limit not in (None, "") else ""
    return f"{finding.shown} {finding.unit}{limit}: {finding.verdict}"


def tests(build):
    """What was measured with the unit moving; results without a reading are counted in the as-built record."""
    rows = [
        (state.step.title, with_unit(state.result.reading, state.step.reading_unit), day(state.result.made_at))
        for state in Bench(build).of(Section.COMMISSIONING)
        if state.is_done and state.result.reading is not None
    ]
    return Table("Readings of the commissioning", ("Test", "Reading", "When"), rows, weights=(14, 4, 4))


def contacts(build):
    rows = [
        (one.get_kind_display(), day(one.due_on), day(one.done_on) if one.done_on else "to come")
        for one in build.contacts.all()
        if not one.is_struck
    ]
    return Table("Contacts with the family", ("What", "Date", "Done on"), rows)
