"""A real browser for tests: Debian's Chromium, driven by Playwright, with the axe rules at hand."""

from contextlib import contextmanager
from shutil import which

from axe_playwright_python.sync_playwright import Axe
from django.conf import settings
from playwright.sync_api import sync_playwright

from tests.signing import session_cookie

CHROMIUM_SWITCHES = [
    "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-dev-shm-usage",
    "--js-flags=--no-opt --no-maglev",  # a page lives too short to be worth compiling its scripts well
]  # fmt: skip
AXE_SCRIPT = Axe().axe_script
AXE_RULES = {
    "runOnly": {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]},
    "resultTypes": ["violations"],
}
VIOLATIONS = """async rules => (await axe.run(rules)).violations.map(
    one => [one.id, one.nodes.slice(0, 5).map(node => JSON.stringify(node.target)).join("; ")])"""
WIDTHS = (360, 1280)
_kept = {}


@contextmanager
def open_browser():
    """The one browser of this process, which takes long to start; whoever used it leaves no window behind."""
    if "browser" not in _kept:
        _kept["playwright"] = sync_playwright().start()
        start = _kept["playwright"].chromium.launch
        _kept["browser"] = start(executable_path=which("chromium"), args=CHROMIUM_SWITCHES)
    try:
        yield _kept["browser"]
    finally:
        for context in list(_kept["browser"].contexts):
            context.close()


def close_browser():
    """When the last test has run."""
    if _kept:
        _kept.pop("browser").close()
        _kept.pop("playwright").stop()


def sign_in_as(context, account, url):
    """Give the browser the session that signing in would give it; nobody for None."""
    if account is not None:
        context.add_cookies([{"name": settings.SESSION_COOKIE_NAME, "value": session_cookie(account), "url": url}])


class Window:
    """Somebody's one window, which looks at page after page: opening one costs more than all that is done in it."""

    def __init__(self, context):
        self.page = context.new_page()
        self.console = []
        self.page.on("console", lambda message: self.console.append(message.text) if is_trouble(message) else None)
        self.page.on("pageerror", lambda error: self.console.append(str(error)))

    def problems(self, address, status=200, refused=False):
        """What is wrong with one page at both widths, in words; with `refused` also after its empty form was sent."""
        self.console.clear()
        answer = self.page.goto(address)
        found = [] if answer.status == status else [f"answered {answer.status}"]
        found += problems_shown(self.page)
        if refused:
            found += [f"refused: {problem}" for problem in _problems_when_refused(self.page)]
        return found + [f"console: {text}" for text in self.console]


def is_trouble(message):
    # A page that is itself a refusal is noted by the browser as a failed resource.
    is_own_status = message.text.startswith("Failed to load resource") and any(
        f"status of {status}" in message.text for status in (403, 404, 422, 429)
    )
    return message.type == "error" and not (is_own_status and "/static/" not in message.location["url"])


def problems_shown(page):
    found = []
    page.evaluate(AXE_SCRIPT)
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 800})
        violations = page.evaluate(VIOLATIONS, AXE_RULES)
        found += [f"at {width} px: {rule}: {targets}" for rule, targets in violations] + _overflow(page)
    return found


def _problems_when_refused(page):
    button = page.locator("form.lab-form button[type=submit]")
    if not button.count():
        return []
    with page.expect_navigation() as sent:
        button.last.click()
    return problems_shown(page) if sent.value.status == 422 else []


def _overflow(page):
    wide, fits = page.evaluate("[document.documentElement.scrollWidth, document.documentElement.clientWidth]")
    return [] if wide <= fits else [f"scrolls sideways: {wide} px in {fits} px"]
