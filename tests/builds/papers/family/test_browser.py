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
from tests.builds.papers.family.test_pages import picture
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
        page.wait_for_selector("h1:has-text('Your pages')")
        look()
        for name in ("Use guide", "Charging guide", "Supervision card"):
            page.click(f"text={name}")
            look()
            page.click("text=Back to all pages")
        page.click("text=Something is wrong")
        look()
        page.click("button:has-text('Send')")
        page.wait_for_selector(".error-summary:has-text('Say what happened')")
        look()
        page.check("[name=hurt][value=no]")
        page.check("[name=danger][value=no]")
        page.fill("[name=text]", "It hums")
        page.click("button:has-text('Send')")
        page.wait_for_selector("h1:has-text('The lab has your report')")
        look()
        page.click("text=Back to all pages")
        page.click("text=Use diary")
        page.fill("[name=minutes]", "12")
        page.click("button:has-text('Save the line')")
        page.wait_for_selector(".family-diary:has-text('12 min')")
        look()
        page.click("a:has-text('Back')")
        page.click("button:has-text('Close these pages')")
        assert "Type your word" in page.text_content("h1")
    assert FamilyReport.objects.count() == DiaryLine.objects.count() == 1


PHOTO = {"name": "wheel.jpg", "mimeType": "image/jpeg"}


@pytest.fixture
def at_the_report(build, coordinator, live_server):
    """(context, page) of a phone behind the door, with a report typed and a photo chosen."""
    made = links.make_link(build, coordinator, days=30, word=WORD)
    with open_browser() as browser:
        context = browser.new_context(**PHONE)
        page = context.new_page()
        page.clock.install()
        page.goto(live_server.url + links.address_of(made.token))
        page.fill("[name=word]", WORD)
        page.click("button[type=submit]")
        page.click("text=Something is wrong")
        page.check("[name=hurt][value=no]")
        page.check("[name=danger][value=no]")
        page.fill("[name=text]", "It hums")
        page.set_input_files("[name=photo]", {**PHOTO, "buffer": picture().read()})
        page.check("[name=shows_client][value=no]")
        yield context, page


def not_sent(page):
    """What the page says of a form that was not sent, which is still there as it was typed."""
    page.click("button:has-text('Send')")
    page.wait_for_selector("[data-not-sent]", state="visible")
    assert page.input_value("[name=text]") == "It hums"
    assert page.is_checked("[name=hurt][value=no]")
    assert page.evaluate("document.querySelector('[name=photo]').files[0].name") == PHOTO["name"]
    assert not page.is_visible("text=Sending. Wait a little.")
    assert FamilyReport.objects.count() == 0
    return page.inner_text("[data-not-sent]")


def kept_once(page):
    page.click("button:has-text('Send')")
    page.wait_for_selector("h1:has-text('The lab has your report')")
    assert FamilyReport.objects.get().photo


@pytest.mark.browser
def test_without_a_connection_the_report_stays_on_the_page_and_goes_when_there_is_one(at_the_report):
    context, page = at_the_report
    context.set_offline(True)
    said = not_sent(page)
    assert "There is no connection." in said
    assert "Is there fire, or is somebody hurt? Call the emergency number first: 911." in said
    assert "Do not wait. Call the lab." in said
    assert "new page" not in said
    assert page.evaluate("document.activeElement.matches('[data-not-sent]')")
    assert problems_shown(page) == []
    not_sent(page)
    context.set_offline(False)
    kept_once(page)


@pytest.mark.browser
def test_two_presses_send_one_report(at_the_report):
    context, page = at_the_report
    sent = []
    page.on("request", lambda request: sent.append(request.method) if request.method == "POST" else None)
    page.evaluate("for (let i = 0; i < 3; i++) document.querySelector('.form-end button').click()")
    page.wait_for_selector("h1:has-text('The lab has your report')")
    assert sent == ["POST"]
    assert FamilyReport.objects.count() == 1


@pytest.mark.browser
def test_a_site_that_fails_or_does_not_answer_keeps_the_page_and_any_other_answer_sends(at_the_report):
    context, page = at_the_report
    context.route("**/health/", lambda route: route.fulfill(status=503))
    assert "There is no connection." in not_sent(page)
    context.unroute("**/health/")
    context.route("**/health/", lambda route: None)
    page.click("button:has-text('Send')")
    page.wait_for_selector("text=Sending. Wait a little.", state="visible")
    page.clock.fast_forward(9_000)
    page.wait_for_selector("[data-not-sent]", state="visible")
    context.unroute("**/health/")
    context.route("**/health/", lambda route: route.fulfill(status=403))
    kept_once(page)


@pytest.mark.browser
def test_a_page_that_was_open_too_long_keeps_what_was_typed_until_the_word_was_given_again(at_the_report):
    context, page = at_the_report
    context.clear_cookies(name="family")  # as it does by itself after that time
    page.clock.fast_forward("31:00")
    said = not_sent(page)
    assert "The page was open too long." in said and "no connection" not in said
    assert problems_shown(page) == []
    with context.expect_page() as opened:
        page.click("text=Type your word again on a new page.")
    opened.value.fill("[name=word]", WORD)
    opened.value.click("button[type=submit]")
    opened.value.wait_for_selector("h1:has-text('Your pages')")
    kept_once(page)


@pytest.mark.browser
def test_a_line_of_the_diary_and_the_word_stay_too(build, coordinator, live_server):
    made = links.make_link(build, coordinator, days=30, language="es", word=WORD)
    with open_browser() as browser:
        context = browser.new_context(**PHONE)
        page = context.new_page()
        page.goto(live_server.url + links.address_of(made.token))
        page.fill("[name=word]", WORD)
        send_in_spanish_without_connection(context, page)
        assert page.input_value("[name=word]") == WORD
        page.click("button[type=submit]")
        page.click("text=Diario de uso")
        page.fill("[name=minutes]", "12")
        send_in_spanish_without_connection(context, page)
        assert page.input_value("[name=minutes]") == "12"
        assert DiaryLine.objects.count() == 0
        page.click("button[type=submit]")
        page.wait_for_selector(".family-diary >> text=12 min")
    assert DiaryLine.objects.count() == 1


def send_in_spanish_without_connection(context, page):
    context.set_offline(True)
    page.click("button[type=submit]")
    page.wait_for_selector("[data-not-sent]", state="visible")
    assert "No hay conexión. Lo que escribió sigue aquí." in page.inner_text("[data-not-sent]")
    assert problems_shown(page) == []
    context.set_offline(False)


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
