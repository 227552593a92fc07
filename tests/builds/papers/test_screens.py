"""Every paper on a screen, in a real browser at 360 and 1280 px: accessible, unscrolled, without CSP errors."""

import pytest
from django.urls import reverse

from builds.demo.factories.papers import STICK, make_build_with_papers_due
from builds.papers.kinds import kinds
from builds.papers.models import PaperKind
from tests.browser import Window, open_browser, sign_in_as
from tests.factory import make_lab


@pytest.mark.browser
@pytest.mark.django_db(transaction=True)
def test_every_paper_of_a_build_is_accessible_and_fits(live_server, coordinator, reviewer):
    make_lab(walking_pace_m_s=1.2)
    build = make_build_with_papers_due(STICK, coordinator=coordinator, reviewer=reviewer)
    say = {"given": True, "version": "2", "signer": "Elena", "signed_on": "2026-03-01", "made_by": coordinator}
    build.client.consents.create(purpose="clinician", **say)
    with open_browser() as browser:
        context = browser.new_context()
        sign_in_as(context, coordinator, live_server.url)
        window, found = Window(context), {}
        for kind in [*kinds(build), "list"]:
            here = ["papers", [build.number]] if kind == "list" else ["paper_view", [build.number, kind]]
            found[str(kind)] = window.problems(live_server.url + reverse(here[0], args=here[1]))
    assert len(found) == len(PaperKind) + 1
    assert {paper: problems for paper, problems in found.items() if problems} == {}


@pytest.mark.browser
@pytest.mark.django_db(transaction=True)
def test_what_to_do_in_a_fire_has_the_width_of_a_phone(live_server, coordinator, reviewer):
    make_lab(walking_pace_m_s=1.2)
    build = make_build_with_papers_due(STICK, coordinator=coordinator, reviewer=reviewer)
    with open_browser() as browser:
        context = browser.new_context(viewport={"width": 360, "height": 800})
        sign_in_as(context, coordinator, live_server.url)
        page = context.new_page()
        page.goto(live_server.url + reverse("paper_view", args=[build.number, "stop_use_card"]))
        page_width = page.locator("main").bounding_box()["width"]
        for block in (".signal-danger", ".signal-warning", ".columns > div"):
            for one in page.locator(f".stop-card {block}").all():
                assert one.bounding_box()["width"] > 0.9 * page_width, block
