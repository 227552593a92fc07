"""What the papers offer to the hand-off: papers that are current, teach-back that is passed, loan or gift."""

from django.db.models import Prefetch
from django.urls import reverse

from builds.papers import handing_over, keeping, printed, reprinting, rules, teaching, terms, wanted
from builds.papers.kinds import needed
from builds.papers.models import HandOff, IssuedPaper, PaperKind, TeachBack
from builds.record import hooks, voids
from builds.record.holds import Hold
from builds.record.models import Photo
from builds.record.registry import Condition, Dependant, Evidence, Report, Room
from clients.models import Caregiver, Goal, PersonFile
from labsite import family_words

# The evidence that each row keeps is large and no report reads it.
TICKET_PREFETCH = [
    Prefetch("issued_papers", IssuedPaper.objects.defer("evidence")),
    Prefetch("teach_backs", TeachBack.objects.defer("evidence")),
    "client__caregivers",
]


def register(registry):
    family_words.PLAIN.update(terms.plain_words())
    registry.add(
        Room(
            name="papers",
            report=report,
            watches=[
                (IssuedPaper, lambda row: [row.build_id]),
                (TeachBack, lambda row: [row.build_id]),
                (HandOff, lambda row: [row.build_id]),
                (Photo, lambda row: [row.build_id]),
                *((model, builds_of_client) for model in (Caregiver, PersonFile, Goal)),
            ],
            prefetch=[*TICKET_PREFETCH, "hand_off"],
        )
    )
    for target in (*rules.AS_BUILT_TARGETS, voids.KEEPING):
        standing = rules.standing_on(target)
        registry.add_dependant(Dependant(target, rules.telling_the_unit, rules.void, rules.still, standing))
    registry.add_dependant(Dependant(voids.TEACH_BACK, teaching.standing, teaching.make_stale))
    if rules.supersede_older not in hooks.configuration_changed:
        hooks.configuration_changed.append(rules.supersede_older)


def builds_of_client(row):
    return row.client.builds.values_list("pk", flat=True)


def report(build):
    kept = [*keeping.evidence(build.client), *printed.evidence(build)]
    if Hold.HAND_OFF not in build.holds():
        return Report(evidence=kept)
    return Report(
        evidence=[*paper_evidence(build), *teach_back_evidence(build), hand_off_evidence(build), *kept],
        conditions=list(conditions(build)),
        workers_on={Hold.HAND_OFF: workers(build)},
        named_on={Hold.HAND_OFF: {one.taught_by for one in build.teach_backs.all()} - {""}},
        section={
            "papers": [(kind.label, state_of(build, kind)) for kind in needed(build)],
            "to_collect": rules.to_collect(build),
            "to_replace": reprinting.without_successor(build),
        },
    )


def state_of(build, kind):
    """current in every edition that somebody needs, superseded or not issued."""
    copies = [one for one in build.issued_papers.all() if one.kind == kind]
    if copies and not any(one.is_current for one in copies):
        return "superseded"
    return "not issued" if wanted.lacking(build, kind) else "current"


def paper_evidence(build):
    """What the hand-off stands on. A word of the family about what we keep never takes the unit away.

    Nor does another phone or other hours of the lab, though the copies in the house are replaced.
    """
    configuration = build.configuration()
    true_of_it = [one for one in build.issued_papers.all() if one.still_tells_the_unit]
    for kind in needed(build):
        if kind == PaperKind.WHAT_WE_KEEP:
            continue
        copies = [one for one in true_of_it if one.kind == kind]
        is_of_now = any(configuration is not None and one.configuration_id == configuration.pk for one in copies)
        yield Evidence(
            "paper",
            f"paper:{kind}",
            kind.label,
            {
                "kind": kind.label,
                "configuration": configuration.number if copies and is_of_now else None,
                "current": "current" if copies and not wanted.lacking_among(copies, build, kind) else "not issued",
            },
        )


def teach_back_evidence(build):
    for number, adult in enumerate(teaching.supervising_adults(build), 1):
        passed = [cell.item["text"] for cell in teaching.cells_of(build, adult) if cell.is_passed]
        yield Evidence(
            "teach-back",
            f"teach-back:{adult.pk}",
            f"Teach-back of adult {number}",
            {"adult": "supervises", "passed": passed},
        )


def hand_off_evidence(build):
    terms = handing_over.hand_off_of(build).get_terms_display()
    return Evidence(
        "hand-off", "hand-off", "Hand-off", {"terms": terms, "understood": handing_over.is_understood(build)}
    )


def workers(build):
    """Who issued the papers and who wrote down the teach-back: the hand-off judges both. Who taught is named there."""
    return {one.made_by_id for one in [*build.issued_papers.all(), *build.teach_backs.all()]}


def conditions(build):
    """In the order of the work: the papers tell the terms, and are what an adult is taught from."""
    yield from settled_conditions(build)
    papers = reverse("papers", args=[build.number])
    for kind in needed(build):
        state = state_of(build, kind)
        lacking = "; ".join(str(one) for one in wanted.lacking(build, kind))
        why = {
            "superseded": "The last copy is superseded. Issue it again.",
            "not issued": f"It is not issued yet: {lacking}.",
        }
        yield Condition(
            Hold.HAND_OFF,
            f"{kind.label} of the current configuration is issued",
            state == "current",
            why.get(state, ""),
            papers,
        )
    yield from taught_conditions(build)


def settled_conditions(build):
    adults = teaching.supervising_adults(build)
    yield Condition(
        Hold.HAND_OFF,
        "At least one supervising adult is named",
        bool(adults),
        "" if adults else "Mark who supervises on the client's page.",
        reverse("client_page", args=[build.client.case_code]),
    )
    settled = handing_over.hand_off_of(build).terms != HandOff.Terms.UNKNOWN
    yield Condition(
        Hold.HAND_OFF,
        "Loan or gift is settled",
        True if settled else None,
        "" if settled else "It is not yet settled.",
        reverse("hand_off", args=[build.number]),
    )


def taught_conditions(build):
    teach, hand_off = reverse("teach_back", args=[build.number]), reverse("hand_off", args=[build.number])
    adults = teaching.supervising_adults(build)
    missing = teaching.what_is_missing(build)
    yield Condition(
        Hold.HAND_OFF, "Teach-back is passed by every supervising adult", bool(adults) and not missing, missing, teach
    )
    yield Condition(
        Hold.HAND_OFF,
        "Papers in the family's language, or an interpreter went through them (recorded)",
        handing_over.is_understood(build) if adults else None,
        " ".join(handing_over.language_sentences(build)) if not handing_over.is_understood(build) else "",
        hand_off,
    )
