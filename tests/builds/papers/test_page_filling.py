"""How full the pages of the finished papers are, measured by where the lowest line of text stands."""

import re
from io import BytesIO

import pytest
from pypdf import PdfReader

from builds.papers.render import render_pdf
from tests.builds.papers.packs import PLANS

pytestmark = pytest.mark.django_db  # so that there is a database for the session's papers

# A page with less than this is paper for nothing. Our own line, from looking at the printed papers: a fifth is about
# what one caution and whom to call take.
A_FIFTH = 0.2
# What hangs on the unit or is read in a hurry, and the most pages it may take in large print: front and back of two.
MOST_IN_LARGE_PRINT = {"supervision_card": 3, "stop_use_card": 4, "storage_card": 4, "charging_guide": 4}


def lines_of(page):
    """(height above the lower edge, words) of everything printed on a page."""
    found = []

    def visit(text, cm, tm, font, size):
        if text.strip():
            found.append((tm[4] * cm[1] + tm[5] * cm[3] + cm[5], text.strip()))

    page.extract_text(visitor_text=visit)
    return found


def share_used(page):
    """How much of the height between the running head and the running foot is used, from the top down."""
    lines = lines_of(page)
    head = max(height for height, _ in lines)
    foot = max(height for height, text in lines if " · " in text and height < float(page.mediabox.height) / 4)
    body = [height for height, _ in lines if foot + 1 < height < head - 1]
    return (head - min(body)) / (head - foot) if body else 0.0


def nearly_empty(papers):
    """The pages, beyond a first one that may be all, that hold less than a fifth."""
    found = {}
    for key, paper in papers.items():
        pages = paper.reader.pages
        shares = [round(share_used(page), 2) for page in pages]
        if len(pages) > 1 and min(shares) < A_FIFTH:
            found[key] = shares
    return found


@pytest.mark.parametrize(("lines", "least", "most"), [(1, 0.0, A_FIFTH), (30, 0.6, 1.0)])
def test_the_measure_tells_a_line_from_a_full_page(packs, lines, least, most):
    html = packs["switch-socket", "storage_card", "en", "normal"].html
    html = re.sub(r"(?s)<main>.*</main>", "<main>" + "<p>A line.</p>" * lines + "</main>", html)
    (page,) = PdfReader(BytesIO(render_pdf(html))).pages
    assert least < share_used(page) < most


def test_no_page_of_a_family_paper_is_nearly_empty(packs):
    assert nearly_empty(packs) == {}


def test_no_page_of_a_bench_paper_is_nearly_empty(bench_packs):
    assert nearly_empty(bench_packs) == {}


@pytest.mark.parametrize("plan", PLANS)
def test_cards_take_no_more_pages_than_they_may(packs, plan):
    for (found, kind, language, print_size), paper in packs.items():
        if found == plan and print_size == "large" and kind in MOST_IN_LARGE_PRINT:
            assert len(paper.pages) <= MOST_IN_LARGE_PRINT[kind], (kind, language)


def test_a_stick_ride_on_has_a_use_guide_of_two_sheets(packs):
    """Four pages on both sides of two sheets; a toy has less to tell."""
    most = {"one-hand-stick": 4, "press-switch": 4, "switch-socket": 3}
    for (plan, kind, language, print_size), paper in packs.items():
        if kind == "use_guide" and print_size == "normal":
            assert len(paper.pages) <= most[plan], (plan, language)
