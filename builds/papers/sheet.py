"""What the hand-off sheet adds: the adults by name, what each has shown, the papers given, terms, contacts."""

from dataclasses import dataclass

from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as noop

from builds.followup.rules import FIRST_CONTACTS
from builds.papers import handing_over, teaching, words
from builds.papers.kinds import family_pack
from builds.papers.models import HandOff, PaperKind

BOXES = 3
PROOFS = {"shown": noop("Shown"), "said": noop("Said")}
TERMS = {
    HandOff.Terms.LOAN: noop("Open-ended loan: the lab may ask for it back"),
    HandOff.Terms.GIFT: noop("Gift"),
    HandOff.Terms.UNKNOWN: noop("Not settled yet"),
}
SIGNED_WITH_IT = (PaperKind.HAND_OFF_SHEET, PaperKind.TEACH_BACK_SHEET)  # these the lab keeps


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
        taught=[(adult, [taught(facts, cell) for cell in teaching.cells_of(build, adult)]) for adult in adults],
        papers=papers_given(build),
        contacts=[a_contact(one) for one in first_contacts(facts)],
        terms=_(TERMS[hand_off.terms]),
        handed_on=words.a_day(hand_off.handed_on) if hand_off.handed_on else "",
        language_sentences=handing_over.language_sentences(build),
        interpreted=interpreted(hand_off),
    )


def taught(facts, cell):
    """One line of the teach-back: its tries as recorded, the newest last, and empty boxes to write in."""
    true_now = [one for one in cell.tries if one.stale_at is None][-BOXES:]
    tries = [_("right") if one.right else _("not yet") for one in true_now]
    how = _(PROOFS[true_now[-1].how if true_now else cell.item["proof"]])
    text = facts.sentences.said(cell.item["text"])
    return {"text": text, "how": how, "tries": [*tries, *[""] * (BOXES - len(tries))]}


def papers_given(build):
    """What the family takes home; copies that are issued and current by their number."""
    lines = []
    for kind in (kind for kind in family_pack(build) if kind not in SIGNED_WITH_IT):
        copies = [one for one in build.issued_papers.all() if one.is_current and one.kind == kind]
        lines += [a_copy(kind, one) for one in copies]
        if not copies:
            lines.append(_("%(paper)s (not issued yet)") % {"paper": _(kind.label)})
    return lines


def a_copy(kind, paper):
    day = words.a_day(timezone.localtime(paper.made_at))
    return _("%(paper)s, copy %(number)s, issued %(day)s") % {
        "paper": _(kind.label), "number": paper.copy_number, "day": day,
    }  # fmt: skip


def first_contacts(facts):
    """The next ones; of later ones the family is told when they come near, since they often move."""
    coming = [one for one in facts.build.contacts.all() if not one.is_struck and one.done_on is None]
    return sorted(coming, key=lambda one: (one.due_on, one.pk))[:FIRST_CONTACTS]


def a_contact(contact):
    said = _("Visit on %(day)s") if contact.kind == "visit" else _("Call on %(day)s")
    return said % {"day": words.a_day(contact.due_on)}


def interpreted(hand_off):
    if not (hand_off.interpreted_by and hand_off.interpreted_on):
        return ""
    return _("%(name)s went through the papers with the family on %(day)s.") % {
        "name": hand_off.interpreted_by, "day": words.a_day(hand_off.interpreted_on),
    }  # fmt: skip
