"""How full the pages of the finished papers are, measured by where the lowest line of text stands."""

import re
from io import BytesIO

import pytest
from pypdf import PdfReader

from builds.papers.render import render_pdf
from tests.builds.papers.packs import PLANS
from tests.builds.papers.test_finished_papers import sizes

pytestmark = pytest.mark.django_db  # so that there is a database for the session's papers

# A page with less than this is paper for nothing. Our own line, from looking at the printed papers: a fifth is about
# what one caution and whom to call take.
A_FIFTH = 0.2
# What hangs on the unit or is read in a hurry, and the most pages it may take in large print: front and back of two.
LARGE_NUMBER_PT = 24.0  # our own line: larger than any heading of the card but its title
MOST_IN_LARGE_PRINT = {"supervision_card": 3, "stop_use_card": 4, "storage_card": 4, "charging_guide": 4}


def lines_of(page):
    """(height above the lower edge, words) of everything printed on a page."""
    found = []

    def visit(text, cm, tm, font, size):
        if text.strip():
            found.append((tm[4] * cm[1] + tm[5] * cm[3] + cm[5], text.strip()))

    page.extract_text(visitor_text=visit)
    return found


def measured(page):
    """Height of the running head, of the text between head and foot, and of the foot's first line."""
    lines = lines_of(page)
    head = max(height for height, _ in lines)
    foot = max(height for height, text in lines if " · " in text and height < float(page.mediabox.height) / 4)
    return head, [height for height, _ in lines if foot + 1 < height < head - 1], foot


def shares_used(pages):
    """How much of the height that a paper's text may take is used on each page, from the top down."""
    found = [measured(page) for page in pages]
    gap = min(head - max(body) for head, body, _ in found if body)  # from the head to where text starts
    return [round((head - gap - min(body)) / (head - gap - foot), 2) if body else 0.0 for head, body, foot in found]


def nearly_empty(papers):
    """The papers of more than one page with a page that holds less than a fifth, though nothing had to end there."""
    found = {}
    for key, paper in papers.items():
        pages = list(paper.reader.pages)
        shares = shares_used(pages)
        judged = [share for share, page, after in zip(shares, pages, [*pages[1:], None], strict=True)
                  if after is None or is_turned(after) == is_turned(page)]  # fmt: skip
        if len(pages) > 1 and min(judged) < A_FIFTH:
            found[key] = shares
    return found


def is_turned(page):
    """On its side: what follows a page of the other kind begins a page of its own, however little stands on it."""
    return page.mediabox.width > page.mediabox.height


@pytest.mark.parametrize(("lines", "least", "most"), [(1, 0.0, A_FIFTH), (30, 0.6, 1.0)])
def test_the_measure_tells_a_line_from_a_full_page(packs, lines, least, most):
    html = packs["switch-socket", "storage_card", "en", "normal"].html
    html = re.sub(r"(?s)<main>.*</main>", "<main>" + "<p>A line.</p>" * lines + "</main>", html)
    (share,) = shares_used(PdfReader(BytesIO(render_pdf(html))).pages)
    assert least <= share < most


def test_no_page_of_a_family_paper_is_nearly_empty(packs):
    assert nearly_empty(packs) == {}


def test_no_page_of_a_bench_paper_is_nearly_empty(bench_packs):
    assert nearly_empty(bench_packs) == {}


@pytest.mark.parametrize("plan", PLANS)
def test_cards_take_no_more_pages_than_they_may(packs, plan):
    for (found, kind, language, print_size), paper in packs.items():
        if found == plan and print_size == "large" and kind in MOST_IN_LARGE_PRINT:
            assert len(paper.pages) <= MOST_IN_LARGE_PRINT[kind], (kind, language)


# The last of the signs, the heading of what to do, and the first thing to do.
FIRST_THING = {
    "en": (
        "(It got wet, or it fell|It fell or tipped over)",
        "Then do this",
        r"(Is it moving\? Press|Take away the power here|Switch it off here)",
    ),
    "es": (
        "(Se mojó,? o se cayó|Se cayó o se volcó)",
        "Luego haga esto",
        r"(¿Se mueve\? Oprima|Corte la corriente aquí|Apáguelo aquí)",
    ),
}
SIGNS = {"en": "Stop at once when", "es": "Pare enseguida si"}


@pytest.mark.parametrize("print_size", ["normal", "large"])
@pytest.mark.parametrize("kind", ["stop_use_card", "use_guide"])
@pytest.mark.parametrize("plan", PLANS)
def test_the_first_thing_to_do_stands_on_the_page_of_the_signs(packs, plan, kind, print_size):
    for language, wanted in FIRST_THING.items():
        (page,) = [one for one in packs[plan, kind, language, print_size].pages if SIGNS[language] in one]
        assert [one for one in wanted if not re.search(one, page)] == [], language


@pytest.mark.parametrize("print_size", ["normal", "large"])
@pytest.mark.parametrize("plan", PLANS)
def test_the_number_to_call_stands_large_on_the_front_of_the_stop_use_card(packs, plan, print_size):
    for language in ("en", "es"):
        front = sizes(packs[plan, "stop_use_card", language, print_size].reader.pages[:1])
        assert max(size for size, text in front if "555" in text) >= LARGE_NUMBER_PT, language


def test_a_stick_ride_on_has_a_use_guide_of_two_sheets(packs):
    """Four pages on both sides of two sheets; a toy has less to tell."""
    most = {"one-hand-stick": 4, "press-switch": 4, "switch-socket": 3}
    for (plan, kind, language, print_size), paper in packs.items():
        if kind == "use_guide" and print_size == "normal":
            assert len(paper.pages) <= most[plan], (plan, language)
