"""One paper in English and another language side by side, block by block, for the interpreter."""

import re
from html.parser import HTMLParser

from django.template.loader import render_to_string

from builds.papers.catalogue import SOURCE, name_of
from builds.papers.facts import Facts
from builds.papers.models import PaperKind
from builds.papers.render import NORMAL, PaperError, checked_language, checked_size, render_html

BLOCKS = {"h1", "h2", "h3", "p", "li", "dt", "dd", "th", "td", "caption", "figcaption"}
UNSEEN = {"svg", "nav"}


class Blocks(HTMLParser):
    """The text of each block of a paper, in order, without pictures and without what stands on every page."""

    def __init__(self):
        super().__init__()
        self.found = []
        self.open = []  # the blocks around this place, the innermost last
        self.unseen = 0
        self.inside = False

    def handle_starttag(self, tag, attrs):
        self.inside = self.inside or tag == "main"
        self.unseen += tag in UNSEEN
        if self.inside and tag in BLOCKS:
            self.found.append([tag, ""])
            self.open.append(self.found[-1])

    def handle_endtag(self, tag):
        self.unseen -= tag in UNSEEN
        self.inside = self.inside and tag != "main"
        if self.open and self.open[-1][0] == tag:
            self.open.pop()

    def handle_data(self, data):
        if self.open and not self.unseen:
            self.open[-1][1] += data


def blocks_of(html):
    parser = Blocks()
    parser.feed(html)
    found = [(tag, re.sub(r"\s+", " ", text).strip()) for tag, text in parser.found]
    return [(tag, text) for tag, text in found if text]


def pairs(kind, build, language):
    """(tag, English, other language) of each block. Both come from one template, so they have the same blocks."""
    ours, theirs = (
        blocks_of(render_html(kind, build, language=code, draft=False)) for code in (SOURCE, language)
    )
    if [tag for tag, _ in ours] != [tag for tag, _ in theirs]:
        raise PaperError("The two languages do not have the same lines. Tell the person who looks after this site.")
    return [(tag, text, other) for (tag, text), (_, other) in zip(ours, theirs, strict=True)]


def render_beside(kind, build, language, size=None):
    """Both languages in one document with two columns; a draft while the paper may not leave in that language."""
    from builds.papers.rules import why_not

    if checked_language(kind, language) == SOURCE:
        raise PaperError("Choose a language other than English to set beside it.")
    facts = Facts(build)
    page = {
        "facts": facts,
        "kind": PaperKind(kind),
        "for_family": True,
        "title": f"{PaperKind(kind).label} for {build.unit.number}: English and {name_of(language)}",
        "size": checked_size(size or facts.lab.paper),
        "print_size": NORMAL,
        "draft": bool(why_not(kind, build, facts, language)),
        "language": language,
        "name": name_of(language),
        "pairs": pairs(kind, build, language),
    }
    return render_to_string("papers/side_by_side.html", page)
