"""What a family may see and do over its link: never more than its papers say, and every report reaches a person."""

import re

from django.db import transaction

from builds.papers import rules as papers
from builds.papers.catalogue import SOURCE, paper_language
from builds.papers.family.models import DiaryLine, FamilyReport
from builds.papers.models import PaperKind
from builds.record.models import Problem, Task
from builds.record.models.notes import Gravity
from builds.record.photos import consent_for_photos
from clients.names import Names
from clients.naming import ERASED
from labsite.marks import YesNoUnknown

# The papers without names that hang on the unit or lie beside it. No other paper is ever shown over a link.
ON_THE_PHONE = (
    PaperKind.STOP_USE_CARD,
    PaperKind.USE_GUIDE,
    PaperKind.CHARGING_GUIDE,
    PaperKind.SUPERVISION_CARD,
    PaperKind.STORAGE_CARD,
)
# What a task says before the family's own words.
BEFORE_THEIR_WORDS = {
    YesNoUnknown.NO: "Call the family about the problem they reported:",
    YesNoUnknown.YES: "The family reports that somebody is hurt.",
    YesNoUnknown.UNKNOWN: "The family cannot say if anybody is hurt.",
}
# The same for smoke, fire, heat and moving by itself: each stops the use, though nobody is hurt.
OF_DANGER = {
    YesNoUnknown.YES: "The family reports smoke, fire or heat, or that it moved by itself.",
    YesNoUnknown.UNKNOWN: "The family cannot say if there was smoke, fire or heat, or if it moved by itself.",
}
DANGER_IN_THE_LOG = "Smoke, fire, heat or moving by itself:"
IN_THE_LOG = rf"^Family link \d+\. Anyone hurt: \w+\.(?: {DANGER_IN_THE_LOG} \w+\.)?"
THEIR_WORDS = re.compile(
    rf"({'|'.join([IN_THE_LOG, *map(re.escape, [*BEFORE_THEIR_WORDS.values(), *OF_DANGER.values()])])}) .*", re.DOTALL
)


def must_stop(build):
    """Whether the family is told to stop: a release is void, the build is on hold, or the unit must not be used."""
    return not build.is_open or build.unit.is_marked_do_not_use or bool(build.void_holds())


def shown(link):
    """Kind of paper -> the language in which the family reads it now: issued, of this configuration, still true.

    While the use is stopped only the card that says how to stop is shown.
    """
    build = link.build
    wanted = [PaperKind.STOP_USE_CARD] if must_stop(build) else ON_THE_PHONE
    found = {kind: language_for(link, kind, languages) for kind, languages in issued(build).items() if kind in wanted}
    return {kind: found[kind] for kind in ON_THE_PHONE if found.get(kind)}


def issued(build):
    """Kind -> the languages of its current copies."""
    configuration, found = build.configuration(), {}
    for one in papers.current(build):
        if configuration is not None and one.configuration_id == configuration.pk:
            found.setdefault(one.kind, []).append(one.language)
    return found


def language_for(link, kind, languages):
    """The link's own language, or one the paper was issued in; nothing while it may not be read in any."""
    for language in (language_of(link), *languages):
        if not papers.why_not(kind, link.build, language=language):
            return language
    return None


def language_of(link):
    return paper_language(link.language) or SOURCE


@transaction.atomic
def report(
    link,
    *,
    text,
    hurt,
    danger=YesNoUnknown.UNKNOWN,
    photo=None,
    shows_client=YesNoUnknown.UNKNOWN,
    photo_did_not_open=False,
):
    """Keep what the family told, put it in the problem log without names, and give somebody the call to make."""
    build = link.build
    keeps_photo = photo is not None and may_keep_photo(build, shows_client)
    problem = Problem.objects.create(build=build, text=in_the_log(link, text, hurt, danger), made_by=None)
    kept = FamilyReport.objects.create(
        link=link,
        problem=problem,
        text=text,
        hurt=hurt,
        danger=danger,
        photo=photo if keeps_photo else "",
        shows_client=shows_client,
        photo_refused=photo_did_not_open or (photo is not None and not keeps_photo),
    )
    call_the_family(kept)
    return kept


def may_keep_photo(build, shows_client):
    return shows_client == YesNoUnknown.NO or consent_for_photos(build)


def call_the_family(report):
    """The task stops the use, except where nobody is hurt and there was no smoke, fire, heat or move by itself."""
    build, problem = report.link.build, report.problem
    words = without_names(build, report.text)
    if report.hurt == report.danger == YesNoUnknown.NO:
        return Task.objects.call(build, f"{BEFORE_THEIR_WORDS[YesNoUnknown.NO]} {words}", problem)
    hurt = BEFORE_THEIR_WORDS[report.hurt] if report.hurt != YesNoUnknown.NO else ""
    said = filter(None, [hurt, OF_DANGER.get(report.danger), words])
    return Task.objects.stop_use(build, " ".join(said), problem, gravity_of(report))


def gravity_of(report):
    """Who is hurt is called before what smokes, and what is certain before what may be."""
    if report.hurt != YesNoUnknown.NO:
        return Gravity.HURT if report.hurt == YesNoUnknown.YES else Gravity.MAYBE_HURT
    return Gravity.DANGER if report.danger == YesNoUnknown.YES else Gravity.MAYBE_DANGER


def in_the_log(link, text, hurt, danger):
    answers = [f"Anyone hurt: {YesNoUnknown(hurt).label.lower()}."]
    if danger != YesNoUnknown.NO:
        answers.append(f"{DANGER_IN_THE_LOG} {YesNoUnknown(danger).label.lower()}.")
    return f"Family link {link.number}. {' '.join(answers)} {without_names(link.build, text)}"


def without_their_words(text):
    """A line of the problem log or a task as it is when the family's file is erased: that they reported, not what."""
    return THEIR_WORDS.sub(rf"\1 {ERASED}", text)


def without_names(build, text):
    """The text as builders may read it: names of the client and of the caregivers are taken out."""
    return Names(build.client).taken_out(text)


def write_in_diary(link, **line):
    return DiaryLine.objects.create(link=link, **line)
