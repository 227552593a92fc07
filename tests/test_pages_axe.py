"""Every page of the access table in a real browser, at two widths: accessible, unscrolled, without CSP errors."""

import pytest
from django.urls import reverse

from tests.access.rows import all_rows
from tests.access.world import World
from tests.browser import open_browser, problems_of_page, sign_in_as

PAGES = [row for row in all_rows() if row.page]


@pytest.mark.browser
@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("width", [360, 1280])
def test_every_page_is_accessible_and_fits(width, live_server):
    world = World()
    found = {}
    with open_browser() as browser:
        contexts = {}
        for row in PAGES:
            if row.reader not in contexts:
                contexts[row.reader] = browser.new_context(viewport={"width": width, "height": 800})
                sign_in_as(contexts[row.reader], getattr(world, row.reader), live_server.url)
            address = live_server.url + reverse(row.name, kwargs=world.args.get(row.name)) + row.query
            problems = problems_of_page(contexts[row.reader], address)
            if problems:
                found[str(row)] = problems
    assert found == {}
