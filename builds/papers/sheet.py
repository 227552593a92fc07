"""What the hand-off sheet adds: the adults by name, what each has shown, the papers given, terms, contacts."""

from dataclasses import dataclass

from builds.papers import handing_over, teaching
from builds.papers.models import HandOff, PaperKind
from labsite.figures import day

BOXES = 3
GIVEN = (PaperKind.USE_GUIDE, PaperKind.CHARGING_GUIDE, PaperKind.SUPERVISION_CARD)


@dataclass(frozen=True)
class Sheet:
    adults: list
    taught: list
    papers: list
    contacts: list
    terms: str
    handed_on: str
    language_sentences: list
    interpreted: str


def sheet_of(facts):
    build = facts.build
    hand_off = handing_over.hand_off_of(build)
    adults = teaching.supervising_adults(build)
    return Sheet(
        adults=adults,
        taught=[(adult, [taught(cell) for cell in teaching.cells_of(build, adult)]) for adult in adults],
        papers=papers_given(build),
        contacts=contact_lines(facts),
        terms=hand_off.get_terms_display() if hand_off.terms != HandOff.Terms.UNKNOWN else "Not settled yet",
        handed_on=day(hand_off.handed_on) if hand_off.handed_on else "",
        language_sentences=handing_over.language_sentences(build),
        interpreted=interpreted(hand_off),
    )


def taught(cell):
    """One line of the teach-back: its tries as recorded, the newest last, and empty boxes to write in."""
    true_now = [one for one in cell.tries if one.stale_at is None][-BOXES:]
    words = ["right" if one.right else "not yet" for one in true_now]
    how = true_now[-1].get_how_display() if true_now else cell.item["proof"].capitalize()
    return {"text": cell.item["text"], "how": how, "tries": [*words, *[""] * (BOXES - len(words))]}


def papers_given(build):
    """What the family keeps; copies that are issued and current by their number."""
    lines = []
    for kind in GIVEN:
        if kind in build.plan_revision.content.get("papers", []):
            copies = [one for one in build.issued_papers.all() if one.is_current and one.kind == kind]
            lines += [f"{kind.label}, copy {one.copy_number}, issued {day(one.made_at)}" for one in copies]
            lines += [] if copies else [f"{kind.label} (not issued yet)"]
    return lines


def contact_lines(facts):
    coming = [one for one in facts.build.contacts.all() if not one.is_struck and one.done_on is None]
    return [f"{one.get_kind_display()} on {day(one.due_on)}" for one in sorted(coming, key=lambda one: one.due_on)]


def interpreted(hand_off):
    if not (hand_off.interpreted_by and hand_off.interpreted_on):
        return ""
    return f"{hand_off.interpreted_by} went through the papers with the family on {day(hand_off.interpreted_on)}."
