"""A browser, and a crew on a build that the demo's own rules have taken to where a test begins."""

import pytest

from builds.demo import journey
from builds.demo.crew import Crew
from builds.demo.factories.clients import make_cleared_client
from labsite.roles import Role
from tests.browser import open_browser, sign_in_as
from tests.browser_case.pages import Person
from tests.factory import make_account, make_lab


@pytest.fixture
def browser():
    with open_browser() as browser:
        yield browser


@pytest.fixture
def crew(transactional_db):
    """The builder may also review, which must not let them release their own work."""
    make_lab()
    return Crew(
        coordinator=make_account(Role.COORDINATOR, full_name="Cora Ames", username="cora"),
        builder=make_account(Role.BUILDER, full_name="Bo Lind", username="bo", is_reviewer=True, is_builder=True),
        second=make_account(Role.BUILDER, full_name="Olu Marsh", username="olu"),
        reviewer=make_account(Role.REVIEWER, full_name="Rhea Voss", username="rhea"),
    )


@pytest.fixture
def build(crew):
    return journey.start("one-hand-stick", make_cleared_client(crew.coordinator), crew)


@pytest.fixture
def person(browser, live_server):
    """Somebody signed in, each in a browser of their own."""

    def sign_in(account, width=1280):
        somebody = Person(browser, live_server.url, width)
        sign_in_as(somebody.context, account, live_server.url)
        return somebody

    return sign_in
