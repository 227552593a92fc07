"""In which languages and which print this family needs its papers: what each supervising adult reads."""

from dataclasses import dataclass

from builds.papers.catalogue import SOURCE, name_of, paper_language
from builds.papers.kinds import FOR_FAMILIES
from builds.papers.models import PrintSize
from builds.papers.teaching import supervising_adults
from clients.models import Caregiver


@dataclass(frozen=True, order=True)
class Edition:
    language: str = SOURCE
    print_size: str = PrintSize.NORMAL

    def __str__(self):
        return f"{name_of(self.language)}, {PrintSize(self.print_size).label.lower()}"

    def is_served_by(self, paper):
        """Large print serves whoever reads normal print."""
        return paper.language == self.language and paper.print_size in (self.print_size, PrintSize.LARGE)


def edition_for(adult):
    """What this adult reads; English, with an interpreter, where papers are not printed in their language."""
    is_large = adult.reading == Caregiver.Reading.LARGE
    return Edition(paper_language(adult.language) or SOURCE, PrintSize.LARGE if is_large else PrintSize.NORMAL)


def editions(build, kind):
    """Every edition of this paper that somebody needs."""
    if kind not in FOR_FAMILIES:
        return [Edition()]
    return sorted({edition_for(adult) for adult in supervising_adults(build)}) or [Edition()]


def lacking(build, kind):
    """Editions that somebody needs and of which no copy is current, from rows already fetched."""
    return lacking_among([one for one in build.issued_papers.all() if one.is_current], build, kind)


def lacking_among(papers, build, kind):
    """The same for the papers that are given."""
    copies = [one for one in papers if one.kind == kind]
    return [one for one in editions(build, kind) if not any(one.is_served_by(copy) for copy in copies)]
