"""Papers of the bench: printed as the record stands, written on by hand, and never issued.

They wait for no hold point. What is not settled stands on the paper itself, so that nobody works as if it were.
"""

from builds.bench.models import Section
from builds.papers import bench_paper, diagram, labels, pick, restore
from builds.papers.models import PaperKind
from builds.plans.sheet import sheet_of
from builds.record.holds import Hold
from builds.record.voiding import standing_release

MARK = "Working copy: not for the family"


def reasons(kind, facts):
    """What is not settled yet for the work that this paper is for."""
    build = facts.build
    if build.unit.is_marked_do_not_use:
        yield f"Unit {build.unit.number} is marked do not use."
    if kind == PaperKind.COMMISSIONING_SHEET:
        yield not_released(facts, Hold.FIRST_POWER, "Nothing may be energised.")
    if kind == PaperKind.WIRE_LABELS:
        yield labels.what_is_missing(build)
    if kind == PaperKind.RESTORE_SHEET:
        yield restore.what_is_missing(build)


def not_released(facts, hold, so):
    build = facts.build
    if hold not in build.holds() or standing_release(list(build.hold_decisions.all()), hold, facts.today):
        return ""
    return f"The hold point {hold.label} is not released. {so}"


def free_texts(build):
    """What people wrote freely and a paper of the bench prints; none of it may name the client."""
    yield from (f"{one.title} {one.detail} {one.must_see}" for one in build.steps.all())
    yield from (f"{one.name} {one.source} {one.lot} {one.substitute}" for one in build.parts.all())
    yield from (f"{one.start} {one.end} {one.colour}" for one in build.wire_runs.all())
    yield from (f"{one.name} {one.location}" for one in build.restore_items.all())
    kit = getattr(build, "restore_kit", None)
    if kit:
        yield f"{kit.location} {kit.missing}"
    if configuration := build.configuration():
        yield from (configuration.disconnect, configuration.stop_switch, configuration.stop_reset)
    yield from (one.caption for one in build.photos.all() if not one.is_struck and not one.shows_client)


def texts_read_once(facts):
    """The free texts, read once for all the papers that are looked at together."""
    if not hasattr(facts, "bench_texts"):
        facts.bench_texts = list(free_texts(facts.build))
    return facts.bench_texts


def page(kind, facts):
    """What the template of this paper shows beside the facts."""
    return {"mark": MARK, "work": WORK[kind](facts)}


def plan_page(facts):
    content = facts.build.plan_revision.content
    holds = [(Hold(code), Hold(code).label) for code in content["hold_points"]]
    return {"sheet": sheet_of(content), "holds": holds}


WORK = {
    PaperKind.PLAN_SHEET: plan_page,
    PaperKind.PICK_LIST: pick.page,
    PaperKind.BENCH_CHECKLIST: lambda facts: bench_paper.page(facts, Section),
    PaperKind.WIRE_LABELS: lambda facts: {"rows": labels.rows(facts.build), "diagrams": diagram.of_build(facts.build)},
    PaperKind.COMMISSIONING_SHEET: lambda facts: bench_paper.page(facts, [Section.COMMISSIONING]),
    PaperKind.RESTORE_SHEET: restore.page,
}
