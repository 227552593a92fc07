"""On a phone: the family's pages with and without scripts, and a signature drawn on the lab's tablet."""

import pytest
from django.urls import reverse

from builds.demo.factories.papers import make_build_with_papers_due, teach_all
from builds.papers import rules as papers
from builds.papers import teaching
from builds.papers.family import links
from builds.papers.family.models import DiaryLine, FamilyReport
from builds.papers.models import DrawnSignature
from labsite.roles import Role
from tests.browser import open_browser, problems_shown, sign_in_as
from tests.builds.papers.conftest import again
from tests.builds.papers.family.conftest import WORD
from tests.factory import make_account, make_lab

PHONE = {"viewport": {"width": 360, "height": 780}, "has_touch": True}


@pytest.fixture
def coordinator(transactional_db):
    make_lab(walking_pace_m_s=1.2)
    return make_account(Role.COORDINATOR)


@pytest.fixture
def build(coordinator, monkeypatch):
    monkeypatch.setattr(papers, "render_pdf", lambda html, build=None, **more: b"%PDF-1.7\n%%EOF\n")
    build = make_build_with_papers_due(coordinator=coordinator)
    for kind in ("use_guide", "charging_guide", "supervision_card", "hand_off_sheet"):
        papers.issue(again(build), kind, coordinator)
    return again(build)


@pytest.mark.browser
@pytest.mark.parametrize("scripts", [True, False], ids=["scripts on", "scripts off"])
def test_a_family_reads_reports_and_writes_on_a_phone(build, coordinator, live_server, scripts):
    made = links.make_link(build, coordinator, days=30, word=WORD)
    with open_browser() as browser:
        page = browser.new_context(**PHONE, java_script_enabled=scripts).new_page()
        look = looker(page) if scripts else lambda: None
        page.goto(live_server.url + links.address_of(made.token))
        look()
        page.fill("[name=word]", WORD)
        page.click("button[type=submit]")
        look()
        for name in ("Use guide", "Charging guide", "Supervision card"):
            page.click(f"text={name}")
            look()
            page.click("text=Back to all pages")
        page.click("text=Something is wrong")
        look()
        page.click("button:has-text('Send')")
        assert "Say what happened" in page.text_content(".error-summary")
        look()
        page.check("[name=hurt][value=no]")
        page.check("[name=danger][value=no]")
        page.fill("[name=text]", "It hums")
        page.click("button:has-text('Send')")
        assert "The lab has your report" in page.text_content("h1")
        look()
        page.click("text=Back to all pages")
        page.click("text=Use diary")
        page.fill("[name=minutes]", "12")
        page.click("button:has-text('Save the line')")
        assert "12 min" in page.text_content(".family-diary")
        look()
        page.click("a:has-text('Back')")
        page.click("button:has-text('Close these pages')")
        assert "Type your word" in page.text_content("h1")
    assert FamilyReport.objects.count() == DiaryLine.objects.count() == 1


def looker(page):
    """Fails on whatever is wrong with the page as it is, at both widths."""
    console = []
    page.on("console", lambda message: console.append(message.text) if message.type == "error" else None)

    def look():
        assert problems_shown(page) == []
        assert [text for text in console if "status of 422" not in text] == []
        page.set_viewport_size(PHONE["viewport"])

    return look


@pytest.mark.browser
def test_the_pages_that_anybody_may_open_are_accessible(build, live_server):
    paper = build.issued_papers.first()
    with open_browser() as browser:
        page = browser.new_context(**PHONE).new_page()
        for address in ("/family/nonsense/", "/paper/", f"/paper/?code={paper.code}", "/paper/?code=ACDEFGHJ"):
            page.goto(live_server.url + address)
            assert problems_shown(page) == [], address


@pytest.mark.browser
def test_the_sheet_is_shown_once(build, coordinator, live_server):
    with open_browser() as browser:
        context = browser.new_context(**PHONE)
        sign_in_as(context, coordinator, live_server.url)
        page = context.new_page()
        page.goto(live_server.url + reverse("family_link_new", args=[build.number]))
        page.click("button:has-text('Make the link')")
        assert problems_shown(page) == []
        word, address = page.text_content(".family-word"), page.text_content(".family-sheet code")
        assert links.try_word(links.link_of(address.split("/")[-2]), word) == "open"
        page.reload()
        assert page.locator(".family-sheet").count() == 0


@pytest.mark.browser
def test_an_adult_signs_on_the_screen(build, coordinator, live_server):
    teach_all(again(build), coordinator)
    with open_browser() as browser:
        context = browser.new_context(viewport={"width": 800, "height": 1000})
        sign_in_as(context, coordinator, live_server.url)
        page = context.new_page()
        page.goto(live_server.url + reverse("hand_off_sign", args=[build.number]))
        page.check("[name=adult]")
        page.click("button:has-text('Keep the signature')")
        assert "Draw the signature in the box" in page.text_content(".error-summary")
        assert problems_shown(page) == []
        page.check("[name=adult]")
        draw(page)
        page.click("button:has-text('Keep the signature')")
        assert "The signature is kept" in page.text_content("main")
    assert DrawnSignature.objects.get().adult == teaching.supervising_adults(again(build))[0]


def draw(page):
    box = page.locator(".signature-box").bounding_box()
    at = [(0.1, 0.7), (0.25, 0.2), (0.4, 0.8), (0.6, 0.3), (0.85, 0.6)]
    points = [(box["x"] + x * box["width"], box["y"] + y * box["height"]) for x, y in at]
    page.mouse.move(*points[0])
    page.mouse.down()
    for point in points[1:]:
        page.mouse.move(*point, steps=4)
    page.mouse.up()
