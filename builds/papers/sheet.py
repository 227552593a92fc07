"""What the hand-off sheet adds: the adults by name, what each has shown, the papers given, terms, contacts."""

from dataclasses import dataclass

from builds.papers import handing_over, teaching
from builds.papers.models import HandOff, PaperKind
from labsite.figures import day


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
        taught=[(adult, teaching.cells_of(build, adult)) for adult in adults],
        papers=papers_given(build),
        contacts=contact_lines(facts),
        terms=hand_off.get_terms_display() if hand_off.terms != HandOff.Terms.UNKNOWN else "Not settled yet",
        handed_on=day(hand_off.handed_on) if hand_off.handed_on else "",
        language_sentences=handing_over.language_sentences(build),
        interpreted=interpreted(hand_off),
    )


def papers_given(build):
    """Current copies of what the family keeps."""
    kept = [one for one in build.issued_papers.all() if one.is_current and one.kind != PaperKind.AS_BUILT]
    return [
        f"{one.get_kind_display()}, copy {one.copy_number}, issued {day(one.made_at)}"
        for one in kept
        if one.kind != PaperKind.HAND_OFF_SHEET
    ]


def contact_lines(facts):
    coming = [one for one in facts.build.contacts.all() if not one.is_struck and one.done_on is None]
    return [f"{one.get_kind_display()} on {day(one.due_on)}" for one in sorted(coming, key=lambda one: one.due_on)]


def interpreted(hand_off):
    if not (hand_off.interpreted_by and hand_off.interpreted_on):
        return ""
    return f"{hand_off.interpreted_by} went through the papers with the family on {day(hand_off.interpreted_on)}."
