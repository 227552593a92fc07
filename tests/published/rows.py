"""A published value: which one, where it stands, and how sure it is."""

from dataclasses import dataclass

import pytest

SEEN = "seen"
REPRINT = "seen (reprint)"
DERIVED = "derived from a published formula"
MEMORY = "from memory"
PRACTICE = "common practice, no source"
STATUSES = (SEEN, REPRINT, DERIVED, MEMORY, PRACTICE)


@dataclass(frozen=True)
class Row:
    """`found` is computed by us, `published` stands in the source, `within` is the tolerance (0: exact)."""

    id: str
    source: str
    status: str
    found: object
    published: object
    within: float = 0
    relative: bool = False

    def check(self):
        assert self.status in STATUSES
        assert self.source
        if self.within == 0:
            assert self.found == self.published
        elif self.relative:
            assert self.found == pytest.approx(self.published, rel=self.within)
        else:
            assert self.found == pytest.approx(self.published, abs=self.within)


def checked(rows):
    """A test over rows, each under its id."""
    return pytest.mark.parametrize("row", [pytest.param(row, id=row.id) for row in rows])
