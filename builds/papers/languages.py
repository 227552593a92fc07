"""Where the papers of a build stand in another language: what is translated, read by a speaker, or stale."""

from dataclasses import dataclass

from django.utils import timezone

from builds.papers import catalogue, rules, wanted
from builds.papers.kinds import FOR_FAMILIES
from builds.papers.models import IssuedPaper
from builds.papers.sentences import Source, sources_of
from builds.papers.translations import Translation, reading_of, tidy
from builds.record.models import Build

OWN, CATALOGUE, STALE, MISSING = "own", "catalogue", "stale", "missing"


@dataclass(frozen=True)
class Line:
    """One sentence of the record or the plan, and its translation or what it was before."""

    source: Source
    state: str
    text: str = ""
    row: Translation | None = None  # the lab's own translation
    before: Translation | None = None  # of what stood at this place before it was changed

    @property
    def is_read(self):
        return self.row is not None and self.row.is_read

    @property
    def is_there(self):
        return self.state in (OWN, CATALOGUE)


def lines_of(build, language):
    """Every sentence of the papers of this build that no template holds, those that need somebody first."""
    sources = sources_of(build, build.client.clearance(timezone.localdate()))
    own = {row.source_digest: row for row in Translation.objects.filter(language=language)}
    at_place = {}
    for row in own.values():
        at_place[row.place] = row if row.pk > getattr(at_place.get(row.place), "pk", 0) else at_place[row.place]
    found = {one.digest: line_of(one, language, own, at_place) for one in sources}
    order = (MISSING, STALE, OWN, CATALOGUE)
    return sorted(found.values(), key=lambda line: order.index(line.state))


def line_of(source, language, own, at_place):
    row = own.get(source.digest)
    if row is not None:
        return Line(source, OWN, row.text, row)
    text = catalogue.translated(tidy(source.text), language)
    if text is not None:
        return Line(source, CATALOGUE, text)
    before = at_place.get(source.place)
    return Line(source, STALE if before else MISSING, before=before)


@dataclass(frozen=True)
class Standing:
    """A language that somebody of this build's family reads, and what is still to do for it."""

    language: str
    lacking: int
    not_read: int
    catalogue_is_read: bool

    @property
    def name(self):
        return catalogue.name_of(self.language)

    @property
    def is_done(self):
        return not self.lacking and not self.not_read and self.catalogue_is_read


def standings(build):
    read = {edition.language for kind in FOR_FAMILIES for edition in wanted.editions(build, kind)}
    return [standing(build, language) for language in sorted(read - {catalogue.SOURCE})]


def standing(build, language):
    lines = lines_of(build, language)
    return Standing(
        language,
        lacking=sum(not line.is_there for line in lines),
        not_read=sum(line.state == OWN and not line.is_read for line in lines),
        catalogue_is_read=reading_of(language) is not None,
    )


def text_was_changed(row, account):
    """Papers that were printed with the old translation are no longer true."""
    change = f"The {catalogue.name_of(row.language)} for “{row.source}” was changed."
    printed = IssuedPaper.objects.telling_the_unit().filter(language=row.language)
    for build in Build.objects.filter(pk__in=printed.values("build")):
        sources = sources_of(build, build.client.clearance(timezone.localdate()))
        if row.source_digest in {one.digest for one in sources}:
            for paper in rules.telling_the_unit(build):
                if paper.language == row.language:
                    rules.supersede(paper, [change], "translation", account)
