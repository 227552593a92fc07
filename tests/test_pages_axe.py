"""Every page of the access table in a real browser, at two widths: accessible, unscrolled, without CSP errors."""

import pytest
from django.urls import reverse

from tests.access.rows import all_rows
from tests.access.world import World
from tests.browser import open_browser, problems_of_page, sign_in_as

ROWS = all_rows()
PAGES = [row for row in ROWS if row.page]
REFUSING = {row.name for row in ROWS if row.method == "POST" and 422 in row.expected.values()}
# Pages that no row asks for with success: (person, address, status).
REFUSALS = [("builder", "/accounts/", 403), ("builder", "/no-such-page/", 404), ("signed_out", "/no-such-page/", 404)]


class Walk:
    """One browser in which each person signs in once."""

    def __init__(self, browser, width, url):
        self.browser, self.width, self.url = browser, width, url
        self.world = World()
        self.contexts = {}

    def context_of(self, person):
        if person not in self.contexts:
            self.contexts[person] = self.browser.new_context(viewport={"width": self.width, "height": 800})
            sign_in_as(self.contexts[person], getattr(self.world, person), self.url)
        return self.contexts[person]

    def look_at(self, row):
        address = self.url + reverse(row.name, kwargs=self.world.args.get(row.name)) + row.query
        # A phone shows the refused form at its narrowest; once is enough.
        return problems_of_page(
            self.context_of(row.reader), address, refused=row.name in REFUSING and self.width == 360
        )


@pytest.mark.browser
@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("width", [360, 1280])
def test_every_page_is_accessible_and_fits(width, live_server):
    with open_browser() as browser:
        walk = Walk(browser, width, live_server.url)
        found = {str(row): walk.look_at(row) for row in PAGES}
        for person, address, status in REFUSALS:
            found[f"{status} for {person}"] = problems_of_page(
                walk.context_of(person), live_server.url + address, status=status
            )
    assert {page: problems for page, problems in found.items() if problems} == {}
