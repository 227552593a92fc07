"""Old copies that are still out there, and new ones in their place in one go."""

from dataclasses import dataclass

from django.db import transaction

from builds.papers import rules
from builds.papers.models import PaperKind
from builds.papers.render import PaperError

SAME = ("kind", "given_to", "language", "size", "print_size")  # what a new copy has in common with the old one


@dataclass(frozen=True)
class Reprinted:
    issued: list  # the new copies
    refused: list  # (kind, why not) pairs, each kind once


def without_successor(build):
    """Superseded copies that nobody has collected and that no current copy replaces, each place once."""
    there = {place_of(one) for one in build.issued_papers.all() if one.is_current}
    waiting = {}
    for one in rules.to_collect(build):
        if place_of(one) not in there:
            waiting.setdefault(place_of(one), one)
    return list(waiting.values())


def place_of(paper):
    """Whose copy it is, and how it is printed."""
    return tuple(getattr(paper, name, "") for name in SAME)


@transaction.atomic
def reprint(build, account):
    """Issue what replaces every superseded copy; what may not be issued is told with its reasons."""
    issued, refused = [], {}
    for old in without_successor(build):
        kind = PaperKind(old.kind)
        if (kind, old.language) in refused:
            continue
        try:
            issued.append(rules.issue(build, kind, account, **as_before(old)))
        except PaperError as error:
            refused[kind, old.language] = str(error)
    return Reprinted(issued, [(kind, why) for (kind, _), why in refused.items()])


def as_before(old):
    return {name: getattr(old, name) for name in SAME if name != "kind" and hasattr(old, name)}
