"""One line for each paper of the plan: where it stands, why it may not be issued, and its copies."""

from dataclasses import dataclass

from django.conf import settings

from builds.papers import clinician, rules, wanted
from builds.papers.catalogue import languages
from builds.papers.evidence import state_of
from builds.papers.facts import Facts
from builds.papers.kinds import FOR_FAMILIES, NAMES_ADULTS, WORKING, WORKSHOP, asked_by_plan, kinds
from builds.papers.models import PaperKind, PrintSize
from builds.papers.numbers import OF_KIND

# In the order of the page.
ASKED, MORE, BENCH = "The hand-off waits for these", "More for the family and the clinician", "For the workshop"
EDITIONS = [wanted.Edition(language, size) for language in languages() for size in PrintSize.values][1:]
NAMES = {"current": "done", "superseded": "superseded", "not issued": "open"}


@dataclass(frozen=True)
class Line:
    kind: object
    state: str
    reasons: list
    copies: list
    has_names: bool
    group: str
    is_issued: bool = True  # a working paper is printed and never kept
    is_refused: bool = False  # not even to be read
    lacking: list = ()  # editions that somebody needs and has not
    editions: list = ()  # those that can be read besides plain English

    @property
    def beside(self):
        """(code, name) of the languages that the interpreter gets beside the English."""
        return settings.LANGUAGES[1:]

    @property
    def mark(self):
        return NAMES[self.state]

    @property
    def has_numbers(self):
        return self.kind in OF_KIND

    @property
    def word(self):
        return self.state.capitalize()


def lines_of(build):
    facts = Facts(build)
    rows = list(build.issued_papers.select_related("configuration", "made_by").defer("evidence"))
    lines = [
        Line(
            kind=kind,
            state=state_of(build, kind),
            reasons=rules.why_not(kind, build, facts),
            copies=[one for one in reversed(rows) if one.kind == kind],
            has_names=kind in NAMES_ADULTS,
            group=group_of(build, kind),
            is_issued=kind not in WORKING,
            is_refused=kind == PaperKind.CLINICIAN_SUMMARY and bool(clinician.refusal(build)),
            lacking=wanted.lacking(build, kind) if kind in FOR_FAMILIES else [],
            editions=EDITIONS if kind in FOR_FAMILIES else [],
        )
        for kind in kinds(build)
    ]
    return sorted(lines, key=lambda line: (ASKED, MORE, BENCH).index(line.group))


def group_of(build, kind):
    if kind in asked_by_plan(build):
        return ASKED
    return BENCH if kind in WORKSHOP else MORE
