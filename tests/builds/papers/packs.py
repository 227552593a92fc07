"""Every family paper of three builds of three plans, in both languages and both prints, rendered once for a session.

Each is a rolled-back world of its own, so that tests may read what was rendered long after it is gone.
"""

import itertools
import re
from dataclasses import dataclass
from functools import cached_property
from html import unescape
from io import BytesIO

from pypdf import PdfReader

from builds.demo.factories.papers import PRESS, SOCKET, STICK, make_build_with_papers_due, settle
from builds.demo.factories.translations import translate_record
from builds.papers import rules
from builds.papers.kinds import FOR_FAMILIES, WORKSHOP
from builds.papers.render import render_html, render_pdf
from tests.factory import make_account, make_lab

PLANS = (STICK, PRESS, SOCKET)
LANGUAGES = ("en", "es")
PRINTS = ("normal", "large")
BLOCKS = re.compile(r"</?(?:p|li|h1|h2|h3|dt|dd|td|th|caption|figcaption|div|tr|option|title)\b[^>]*>")
HIDDEN = re.compile(r"(?s)<head>.*?</head>|<svg.*?</svg>|<header.*?</header>|<footer.*?</footer>")


@dataclass
class Rendered:
    """One paper as it was printed."""

    plan: str
    kind: str
    language: str
    print_size: str
    number: str
    html: str
    pdf: bytes

    @property
    def reader(self):
        return PdfReader(BytesIO(self.pdf))

    @cached_property
    def pages(self):
        return [re.sub(r"\s+", " ", page.extract_text()) for page in self.reader.pages]

    @cached_property
    def text(self):
        return " ".join(self.pages)

    @cached_property
    def blocks(self):
        """The text of each block on the paper, without what stands at the edge of every page."""
        bare = (unescape(re.sub(r"<[^>]+>", "", block)) for block in BLOCKS.split(HIDDEN.sub("", self.html)))
        return [found for block in bare if (found := re.sub(r"\s+", " ", block).strip())]


def render_packs():
    make_lab(walking_pace_m_s=1.2)
    account = make_account("coordinator")
    found = {}
    for plan in PLANS:
        build = make_build_with_papers_due(plan)
        settle(build, account)
        translate_record(build, account)
        kinds = [kind for kind in rules.kinds(build) if kind in FOR_FAMILIES]
        for number, (kind, language, print_size) in enumerate(itertools.product(kinds, LANGUAGES, PRINTS)):
            assert rules.why_not(kind, build, language=language) == []
            size = ("letter", "a4")[number % 2]
            html = render_html(kind, build, size, language=language, print_size=print_size, draft=False)
            found[plan, str(kind), language, print_size] = Rendered(
                plan, str(kind), language, print_size, build.unit.number, html, render_pdf(html, build)
            )
    return found


def render_bench_packs():
    """The papers of the bench for the same three plans, with every step still to be done."""
    make_lab()
    found = {}
    for plan in PLANS:
        build = make_build_with_papers_due(plan)
        for number, kind in enumerate(kind for kind in rules.kinds(build) if kind in WORKSHOP):
            html = render_html(kind, build, ("letter", "a4")[number % 2], draft=False)
            found[plan, str(kind), "en", "normal"] = Rendered(
                plan, str(kind), "en", "normal", build.unit.number, html, render_pdf(html, build)
            )
    return found
