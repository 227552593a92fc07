"""One line for each paper of the plan: where it stands, why it may not be issued, and its copies."""

from dataclasses import dataclass

from builds.papers import rules
from builds.papers.evidence import state_of
from builds.papers.facts import Facts

NAMES = {"current": "done", "superseded": "superseded", "not issued": "open"}


@dataclass(frozen=True)
class Line:
    kind: object
    state: str
    reasons: list
    copies: list
    has_names: bool

    @property
    def mark(self):
        return NAMES[self.state]

    @property
    def word(self):
        return self.state.capitalize()


def lines_of(build):
    facts = Facts(build)
    rows = list(build.issued_papers.select_related("configuration", "made_by").defer("evidence"))
    return [
        Line(
            kind=kind,
            state=state_of(build, kind),
            reasons=rules.why_not(kind, build, facts),
            copies=[one for one in reversed(rows) if one.kind == kind],
            has_names=kind in rules.NAMES_ADULTS,
        )
        for kind in rules.kinds(build)
    ]
