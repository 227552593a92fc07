"""The builder's main job by keyboard alone: Tab, Enter, Space and typing."""

import pytest

from builds.bench.models import Section
from builds.bench.progress import Bench
from builds.demo import journey
from builds.demo.factories.bench import pass_step
from builds.demo.readings import typed_for
from builds.record.holds import Stage
from tests.browser_case.pages import Person
from tests.factory import PASSWORD

LEFT_OPEN = "I9"  # the one step that the keyboard has to record
FOCUSED = """() => {
    const one = document.activeElement, style = getComputedStyle(one), box = one.getBoundingClientRect();
    const words = one.labels?.length ? one.labels[0].innerText : one.innerText || one.getAttribute('aria-label');
    const ring = style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2;
    return {words: (words || '').trim(), tag: one.tagName, role: one.getAttribute('role'), id: one.id,
            type: one.type || '', ring, inView: box.bottom > 0 && box.top < innerHeight};
}"""
MOST_TABS = 150


class Keys:
    """Nothing but a keyboard. Every stop of Tab must be visible."""

    def __init__(self, somebody):
        self.page = somebody.page

    def focused(self):
        return self.page.evaluate(FOCUSED)

    def tab_to(self, words):
        """Tab until the thing with these words has the focus."""
        for _ in range(MOST_TABS):
            self.page.keyboard.press("Tab")
            now = self.focused()
            if now["tag"] != "BODY":
                assert now["ring"] and now["inView"], f"the focus cannot be seen on {now}"
            if now["words"].startswith(words):
                return now
        raise AssertionError(f"Tab never reaches {words!r} on {self.page.title()}")

    def go(self, words):
        """Tab to a link or button and press Enter."""
        self.tab_to(words)
        with self.page.expect_navigation() as sent:
            self.page.keyboard.press("Enter")
        return sent.value.status

    def type(self, label, text):
        self.tab_to(label)
        self.page.keyboard.type(text)


@pytest.fixture
def one_step_left(build, crew):
    journey.move(build, Stage.INCOMING_TEST, crew)
    for state in Bench(build).of(Section.INCOMING_TEST):
        if state.step.code != LEFT_OPEN:
            pass_step(state.step, crew.builder, **typed_for(state.step, build))
    return build


def sign_in(somebody, keys):
    somebody.open("/sign-in/")
    keys.type("Sign-in name", "bo")
    keys.type("Password", PASSWORD)
    assert keys.go("Sign in") == 200


def skip_to_the_page(keys):
    keys.page.keyboard.press("Tab")
    assert keys.focused()["words"] == "Skip to the page"
    keys.page.keyboard.press("Enter")
    assert keys.focused()["id"] == "main"


@pytest.mark.browser
def test_the_bench_works_by_keyboard_alone(one_step_left, browser, live_server):
    bo = Person(browser, live_server.url)
    keys = Keys(bo)
    sign_in(bo, keys)
    skip_to_the_page(keys)
    keys.go("B-0001")
    skip_to_the_page(keys)
    keys.go(f"Incoming test: {LEFT_OPEN}")

    # Sent empty, the summary has the focus, and its first link leads into the question.
    assert keys.go("Record") == 422
    assert keys.focused()["role"] == "alert"
    keys.tab_to("Choose the outcome")
    keys.page.keyboard.press("Enter")
    assert keys.focused()["type"] == "radio"

    keys.page.keyboard.press("Space")
    assert keys.page.get_by_label("Passed", exact=True).is_checked()
    keys.type("Current without load", "1.6 A")
    keys.type("Instrument", "Bench meter 2")
    assert keys.go("Record") == 200
    bo.sees("I9 is recorded.", "Every step here is done.")

    keys.go("B-0001")
    keys.go("Ask a reviewer to release Sound unit")
    keys.go("Ask a reviewer to look")
    bo.sees("A reviewer has been asked for Sound unit.")
    assert bo.trouble == []
