"""When a paper may leave the lab, how it is issued and kept, and when it is no longer true."""

import hashlib
from dataclasses import dataclass

from django.core.files.base import ContentFile
from django.db import transaction
from django.db.models import Max
from django.utils import timezone

from builds.papers import catalogue, clinician, codes, printed, working
from builds.papers.as_built import free_texts
from builds.papers.catalogue import SOURCE
from builds.papers.facts import Facts
from builds.papers.kinds import FOR_FAMILIES, NAMES_ADULTS, WORKING, asked_by_plan, kinds  # noqa: F401 offered here
from builds.papers.models import THE_LAB, IssuedPaper, PaperKind
from builds.papers.render import NORMAL, PaperError, checked_language, checked_size, render_html, render_pdf
from builds.papers.sentences import Sentences, record_sources, sources_of
from builds.record import voiding, voids
from builds.record.holds import Hold
from builds.record.models import Build

CHARGES = (PaperKind.USE_GUIDE, PaperKind.CHARGING_GUIDE)
# These stay true while a release is void or a clearance has ended; the stop-use card is needed most just then.
ALWAYS_TRUE = (PaperKind.STOP_USE_CARD, PaperKind.STORAGE_CARD, PaperKind.FOLLOW_UP_FORM, PaperKind.WHAT_WE_KEEP)
KEEPING_TARGETS = (voids.PAPERS, voids.KEEPING)
AS_BUILT_TARGETS = (voids.PAPERS, Hold.SOUND_UNIT, Hold.FIRST_POWER, Hold.FIRST_RIDE)


def why_not(kind, build, facts=None, language=SOURCE):
    """Why this paper may not leave the lab in this language, in sentences; an empty list when it may.

    The reasons are for the lab: in English, and worked out from English facts.
    """
    facts = facts or Facts(build)
    if build.client.is_erased and kind not in WORKING:
        return [f"The file of {build.client.case_code} is erased. No paper of this build is issued any more."]
    found = [sentence for sentence in _reasons(PaperKind(kind), build, facts) if sentence]
    return [*found, *language_reasons(build, facts, language)] if kind in FOR_FAMILIES else found


def language_reasons(build, facts, language):
    """What keeps the papers from being read in another language: each sentence of safety without a translation."""
    if language == SOURCE:
        return
    name = catalogue.name_of(language)
    if not catalogue.is_ready(language):
        yield f"The {name} sentences of the papers are not compiled. Run: make setup"
        return
    spoken = Sentences(language)
    sources = sources_of(build, facts.clearance)
    for one in sources:
        if one.is_safety and spoken.found(one.text) is None:
            yield f"Not translated into {name}: “{one.text}” ({one.place})."
    if facts.names.found_in(*(spoken.found(one.text) or "" for one in record_sources(build, facts.clearance))):
        yield f"A {name} sentence names the client or the family. Take the name out of it."


def _reasons(kind, build, facts):
    if kind in WORKING:
        yield from working.reasons(kind, facts)
        yield name_in_the_record(facts, working.texts_read_once(facts))
        return
    if kind == PaperKind.CLINICIAN_SUMMARY:
        yield clinician.refusal(build)
        yield "" if facts.configuration else "There is no configuration yet."
        return
    if facts.configuration is None:
        yield "There is no configuration yet."
        return
    if kind not in ALWAYS_TRUE:
        if facts.rides and facts.side == "unknown":
            yield f"The side of the {facts.control} is unknown."
        yield hold_reason(build, facts.today)
        if build.unit.is_marked_do_not_use:
            yield f"Unit {build.unit.number} is marked do not use."
    if kind in FOR_FAMILIES:
        yield from _family_reasons(kind, build, facts)
    else:
        yield name_in_the_record(facts, free_texts(build))


def name_in_the_record(facts, texts):
    found = facts.names.found_in(*texts)
    return "A note or a reason in the record names the client or the family. Take the name out of it." if found else ""


def _family_reasons(kind, build, facts):
    missing = facts.lab.missing()
    if missing:
        yield f"The lab settings lack: {', '.join(missing)}."
    if kind == PaperKind.STOP_USE_CARD:
        yield from _stop_reasons(facts)
    if kind not in NAMES_ADULTS:
        yield _name_reason(build, facts)
    if kind in ALWAYS_TRUE:
        return
    yield from _stop_reasons(facts)
    if facts.rides:
        yield from _ride_reasons(facts)
    if kind in CHARGES:
        yield facts.charge.problem
    if facts.clearance is None:
        yield "No clearance is in date."
    if kind not in NAMES_ADULTS:
        yield from _caution_reasons(build, facts)
    if kind in (PaperKind.HAND_OFF_SHEET, PaperKind.TEACH_BACK_SHEET) and not facts.adults:
        yield "No supervising adult is named."


def _ride_reasons(facts):
    if facts.ceiling_m_s is None:
        yield "The speed ceiling is unknown."
    if facts.unit.type.rated_load_kg is None:
        yield "The rated load of the unit is unknown."
    yield facts.no_rider


def _stop_reasons(facts):
    """Whoever is told to stop it must be told where."""
    if facts.rides and not facts.disconnect:
        yield "The battery disconnect, and where it is, is unknown."
    yield from facts.stopping.problems()


def _caution_reasons(build, facts):
    if any(one.answer == "yes" and not one.plan for one in build.client.cautions.all()):
        yield "A caution of the client is answered yes and has no plan."


def _name_reason(build, facts):
    """What will hang on the unit or lie beside it names nobody; it says where a name stands, and not which."""
    named = [one.place for one in record_sources(build, facts.clearance) if facts.names.found_in(one.text)]
    return f"This names the client or the family: {'; '.join(named)}. Take the name out of it." if named else ""


def hold_before_papers(build):
    """The hold point that papers stand on: the last one before hand-off."""
    before = [hold for hold in build.holds() if hold != Hold.HAND_OFF]
    return before[-1] if before else None


def hold_reason(build, today):
    hold = hold_before_papers(build)
    if hold is None or voiding.standing_release(list(build.hold_decisions.all()), hold, today):
        return ""
    return f"The hold point {hold.label} is not released."


@transaction.atomic
def issue(build, kind, account, *, given_to="", size=None, language=SOURCE, print_size=NORMAL):
    """Render, keep and number one copy. What leaves the lab is kept exactly as it was."""
    Build.objects.select_for_update(of=("self",)).get(pk=build.pk)
    facts = Facts(build)
    kind = PaperKind(kind)
    if kind not in kinds(build):
        raise PaperError(f"The plan of {build.number} has no {kind.named}.")
    if kind in WORKING:
        raise PaperError(f"The {kind.named} is printed to be written on. It is not issued.")
    reasons = why_not(kind, build, facts, checked_language(kind, language))
    if reasons:
        raise PaperError(" ".join(reasons))
    size = checked_size(size or facts.lab.paper)
    copy_number = next_copy(build, kind)
    spoken = facts if language == SOURCE else Facts(build, language=language)
    code = codes.new_code()
    html = render_html(
        kind, build, size, facts=spoken, language=language, print_size=print_size, copy_number=copy_number, draft=False,
        code=code,
    )  # fmt: skip
    content = render_pdf(html, build, must_have_fonts=True)
    paper = IssuedPaper(
        build=build,
        kind=kind,
        configuration=facts.configuration,
        copy_number=copy_number,
        language=language,
        print_size=print_size,
        size=size,
        given_to=given_to,
        code=code,
        digest=hashlib.sha256(content).hexdigest(),
        evidence=stands_on(kind, facts, voiding.all_evidence(build)),
        made_by=account,
    )
    keep(paper, content)
    return paper


def next_copy(build, kind):
    return (build.issued_papers.filter(kind=kind).aggregate(last=Max("copy_number"))["last"] or 0) + 1


def keep(paper, content):
    """The row and its file, both or neither."""
    paper.file.save("paper.pdf", ContentFile(content), save=False)
    try:
        paper.save(force_insert=True)
    except BaseException:
        paper.file.storage.delete(paper.file.name)
        raise


def is_unharmed(paper):
    """Whether the kept file is still the one that was issued."""
    with paper.file.open("rb") as file:
        return hashlib.sha256(file.read()).hexdigest() == paper.digest


def stands_on(kind, facts, evidence):
    """The snapshots a paper is true for, by column of the table of what voids what."""
    return {
        str(target): printed.of_paper(kind, facts, voiding.snapshot(target, evidence)) for target in targets_of(kind)
    }


def targets_of(kind):
    """The as-built record tells what the releases stood on, so it ages with them; what we keep, with the answers."""
    more = {PaperKind.AS_BUILT: AS_BUILT_TARGETS, PaperKind.WHAT_WE_KEEP: KEEPING_TARGETS}
    return more.get(kind, (voids.PAPERS,))


@dataclass(frozen=True)
class Standing:
    """A paper that still tells the unit beside one of the snapshots it stands on.

    The lab counts for a current one only: a copy that was replaced for it takes any other reason too.
    """

    paper: IssuedPaper
    evidence: dict
    lab_counts: bool


def standing_on(target):
    """For the record: those of the papers that still tell the unit which stand on this column."""

    def standing(papers):
        found = [(paper, paper.evidence[str(target)]) for paper in papers if str(target) in paper.evidence]
        return [
            Standing(paper, kept if paper.is_current else without_the_lab(kept), paper.is_current)
            for paper, kept in found
        ]

    return standing


def without_the_lab(snapshot):
    return {key: item for key, item in snapshot.items() if voiding.kind_of(key) != THE_LAB}


def still(standing, now):
    """Of a snapshot of now, what the paper printed."""
    return printed.still(standing.evidence, now if standing.lab_counts else without_the_lab(now))


def void(standing, changes, account=None):
    """What the record calls when a snapshot no longer agrees."""
    replace_because(standing.paper, changes, changes.kinds)


def current(build):
    """Papers that are still true."""
    return list(build.issued_papers.filter(superseded_at__isnull=True).select_related("configuration"))


def telling_the_unit(build):
    """Papers that are still true of the unit, whatever the lab is called now."""
    return list(build.issued_papers.telling_the_unit().select_related("configuration"))


def supersede(paper, changes, kind, account=None):
    if paper.still_tells_the_unit:
        replace_because(paper, changes, [kind])


def replace_because(paper, changes, kinds):
    """Replaced for one more reason; the day is that of the first."""
    paper.superseded_at = paper.superseded_at or timezone.now()
    paper.superseded_changes = list(dict.fromkeys([*paper.superseded_changes, *changes]))
    paper.superseded_kinds = sorted({*paper.superseded_kinds, *kinds})
    paper.save(update_fields=["superseded_at", "superseded_changes", "superseded_kinds"])


def supersede_older(build, configuration, account=None):
    """A new configuration: every paper of an earlier one is no longer true."""
    change = f"Configuration {configuration.number} came: {configuration.reason}"
    for paper in telling_the_unit(build):
        if paper.configuration_id != configuration.pk:
            supersede(paper, [change], "configuration", account)


def collect(paper):
    """The old copy is back in the lab, or destroyed."""
    if paper.is_current:
        raise PaperError("This paper is current. There is nothing to collect.")
    paper.collected_at = timezone.now()
    paper.save(update_fields=["collected_at"])


def to_collect(build):
    """Old copies that are still out there, from rows already fetched; of an erased file nobody is left to ask."""
    rows = () if build.client.is_erased else build.issued_papers.all()
    return [one for one in rows if not one.is_current and one.collected_at is None]
