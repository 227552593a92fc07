"""Every address, every method, six people: one table, and no address without a row."""

from uuid import uuid4

import pytest
from django.conf import settings
from django.db import transaction
from django.test import Client
from django.urls import URLResolver, get_resolver, reverse

from tests.access.rows import PEOPLE, all_rows, row
from tests.access.world import World
from tests.signing import session_cookie

ROWS = all_rows()
METHODS = ("GET", "POST")
OURS = ("labsite.", "clients.", "builds.")


def named_addresses(patterns=None, space=""):
    """The names of our own addresses, as the resolver knows them."""
    names = set()
    for pattern in get_resolver().url_patterns if patterns is None else patterns:
        if isinstance(pattern, URLResolver):
            inner = f"{space}{pattern.namespace}:" if pattern.namespace else space
            names |= named_addresses(pattern.url_patterns, inner)
        elif pattern.callback.__module__.startswith(OURS) or pattern.name:
            names.add(f"{space}{pattern.name}")
    return names


@pytest.fixture(scope="module")
def sessions(world):
    """person -> the session that signing in gave; whatever a knock does to it is taken back."""
    accounts = {person: getattr(world, person) for person in PEOPLE}
    return {person: account and session_cookie(account) for person, account in accounts.items()}


def knock(sessions, world, row, person):
    """The answer to one person, without lasting consequences."""
    address = reverse(row.name, kwargs=world.args.get(row.name))
    with transaction.atomic():
        client = Client()
        if sessions[person]:
            client.cookies[settings.SESSION_COOKIE_NAME] = sessions[person]
        client.raise_request_exception = False
        if row.method == "POST":
            answer = client.post(address + row.asked, {"once": uuid4(), **row.data})
        else:
            answer = client.get(address + row.asked)
        transaction.set_rollback(True)
    return answer


@pytest.mark.django_db
def test_every_row_finds_what_its_address_points_at():
    """Stands first: it also tells pytest-django that this module needs a database, even when it runs alone."""
    world = World()
    for each in ROWS:
        assert reverse(each.name, kwargs=world.args.get(each.name)).startswith("/")


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_each_person_gets_the_status_of_the_table(row, world, sessions):
    answers = {person: knock(sessions, world, row, person) for person in PEOPLE}
    assert {person: answer.status_code for person, answer in answers.items()} == row.expected
    if row.expected["signed_out"] == 302:
        assert answers["signed_out"]["Location"].startswith(reverse(row.door, kwargs=world.args.get(row.door)))


@pytest.mark.parametrize(
    "row", [each for each in ROWS if each.method == "GET" and not each.page and each.reader], ids=str
)
def test_what_the_browser_does_not_walk_is_no_page(row, world, sessions):
    answer = knock(sessions, world, row, row.reader)
    assert not answer["Content-Type"].startswith("text/html")


def test_every_named_address_has_a_row():
    assert named_addresses() - {each.name for each in ROWS} == set()


def test_every_row_has_an_address():
    assert {each.name for each in ROWS} - named_addresses() == set()


def test_no_address_is_without_a_name():
    assert [name for name in named_addresses() if name.endswith("None")] == []


def test_no_row_stands_twice():
    seen = [(each.name, each.method, each.query, str(each.data)) for each in ROWS]
    assert len(seen) == len(set(seen))


def test_a_method_without_a_row_is_refused(world, sessions):
    listed = {(each.name, each.method) for each in ROWS}
    every = {(name, method) for name, _ in listed for method in METHODS}
    answered = {}
    for name, method in sorted(every - listed):
        answer = knock(sessions, world, row(name, method, **dict.fromkeys(PEOPLE, 405)), "coordinator")
        if answer.status_code not in (403, 404, 405):
            answered[f"{method} {name}"] = answer.status_code
    assert answered == {}
