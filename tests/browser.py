"""A real browser for tests: Debian's Chromium, driven by Playwright, with the axe rules at hand."""

from contextlib import contextmanager
from shutil import which

from axe_playwright_python.sync_playwright import Axe
from django.conf import settings
from playwright.sync_api import sync_playwright

from tests.signing import session_cookie

CHROMIUM_SWITCHES = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-dev-shm-usage"]
AXE = Axe()
AXE_RULES = {
    "runOnly": {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]},
    "resultTypes": ["violations"],
}
WIDTHS = (360, 1280)


@contextmanager
def open_browser():
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=which("chromium"), args=CHROMIUM_SWITCHES)
        try:
            yield browser
        finally:
            browser.close()


def sign_in_as(context, account, url):
    """Give the browser the session that signing in would give it; nobody for None."""
    if account is not None:
        context.add_cookies([{"name": settings.SESSION_COOKIE_NAME, "value": session_cookie(account), "url": url}])


def problems_of_page(context, address, status=200, refused=False):
    """What is wrong with one page at both widths, in words; with `refused` also after its empty form was sent."""
    page = context.new_page()
    console = []
    page.on("console", lambda message: console.append(message.text) if is_trouble(message) else None)
    page.on("pageerror", lambda error: console.append(str(error)))
    try:
        answer = page.goto(address)
        found = [] if answer.status == status else [f"answered {answer.status}"]
        found += problems_shown(page)
        if refused:
            found += [f"refused: {problem}" for problem in _problems_when_refused(page)]
        return found + [f"console: {text}" for text in console]
    finally:
        page.close()


def is_trouble(message):
    # A page that is itself a refusal is noted by the browser as a failed resource.
    is_own_status = message.text.startswith("Failed to load resource") and any(
        f"status of {status}" in message.text for status in (403, 404, 422, 429)
    )
    return message.type == "error" and not (is_own_status and "/static/" not in message.location["url"])


def problems_shown(page):
    found = []
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 800})
        violations = AXE.run(page, options=AXE_RULES).response["violations"]
        found += [f"at {width} px: {each['id']}: {_targets(each)}" for each in violations] + _overflow(page)
    return found


def _problems_when_refused(page):
    button = page.locator("form.lab-form button[type=submit]")
    if not button.count():
        return []
    with page.expect_navigation() as sent:
        button.last.click()
    return problems_shown(page) if sent.value.status == 422 else []


def _targets(violation):
    return "; ".join(str(node["target"]) for node in violation["nodes"][:5])


def _overflow(page):
    wide, fits = page.evaluate("[document.documentElement.scrollWidth, document.documentElement.clientWidth]")
    return [] if wide <= fits else [f"scrolls sideways: {wide} px in {fits} px"]
