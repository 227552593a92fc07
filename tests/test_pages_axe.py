"""Every page of the access table in a real browser, at 360 and 1280 px: accessible, unscrolled, without CSP errors."""

import pytest
from django.urls import reverse

from tests.access.rows import all_rows
from tests.access.world import World
from tests.browser import Window, open_browser, sign_in_as

ROWS = all_rows()
PAGES = [row for row in ROWS if row.page]
REFUSING = {row.name for row in ROWS if row.method == "POST" and 422 in row.expected.values()}
# Pages that no row asks for with success: (person, address, status).
REFUSALS = [("builder", "/accounts/", 403), ("builder", "/no-such-page/", 404), ("signed_out", "/no-such-page/", 404)]


PARTS = 4  # so that several workers share the walk


class Walk:
    """One browser in which each person signs in once."""

    def __init__(self, browser, url):
        self.browser, self.url = browser, url
        self.world = World()
        self.windows = {}

    def window_of(self, person):
        if person not in self.windows:
            context = self.browser.new_context()
            sign_in_as(context, getattr(self.world, person), self.url)
            self.windows[person] = Window(context)
        return self.windows[person]

    def look_at(self, row):
        address = self.url + reverse(row.name, kwargs=self.world.args.get(row.name)) + row.asked
        return self.window_of(row.reader).problems(address, refused=row.name in REFUSING)

    def look_at_refusal(self, person, address, status):
        return self.window_of(person).problems(self.url + address, status=status)


@pytest.mark.browser
@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("part", range(PARTS))
def test_every_page_is_accessible_and_fits(part, live_server):
    with open_browser() as browser:
        walk = Walk(browser, live_server.url)
        found = {str(row): walk.look_at(row) for row in PAGES[part::PARTS]}
    assert {page: problems for page, problems in found.items() if problems} == {}


@pytest.mark.browser
@pytest.mark.django_db(transaction=True)
def test_refusals_are_accessible_and_fit(live_server):
    with open_browser() as browser:
        walk = Walk(browser, live_server.url)
        found = {address: walk.look_at_refusal(*address) for address in REFUSALS}
    assert {page: problems for page, problems in found.items() if problems} == {}
