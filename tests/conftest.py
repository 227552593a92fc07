"""What every test may ask for: the lab, one person of each role, and a browser signed in as somebody."""

import sys

import pytest
from auditlog.context import auditlog_value
from django.db import transaction
from django.test import Client

from builds.demo.factories.accounts import LabFactory
from labsite.models import Lab
from labsite.roles import Role
from tests.factory import make_account, make_lab


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items):
    """What takes longest begins first, so that several workers end together."""
    items.sort(key=turn)


def turn(item):
    return 0 if "test_whole_case" in item.nodeid else 1 if is_of_browser(item) else 2


@pytest.hookimpl(trylast=True)
def pytest_runtest_teardown(item, nextitem):
    """The browser goes when nobody needs it any more."""
    if is_of_browser(item) and not (nextitem and is_of_browser(nextitem)):
        sys.modules["tests.browser"].close_browser()


def is_of_browser(item):
    return item.get_closest_marker("browser") is not None


@pytest.fixture(autouse=True)
def nobody_acts_yet():
    """The audit trail remembers the last person of a request in this thread, who is of another test."""
    auditlog_value.set({"actor": None})


@pytest.fixture(autouse=True)
def in_the_time_of_the_lab():
    """As around every request and command; else a test asks for the server's day, which in the evening is tomorrow."""
    with Lab(time_zone=LabFactory.time_zone).own_time():
        yield


@pytest.fixture
def lab(db):
    return make_lab()


@pytest.fixture
def coordinator(db):
    return make_account(Role.COORDINATOR, full_name="Cora Ames")


@pytest.fixture
def builder(db):
    return make_account(Role.BUILDER, full_name="Bo Lind")


@pytest.fixture
def other_builder(db):
    return make_account(Role.BUILDER, full_name="Olu Marsh")


@pytest.fixture
def reviewer(db):
    return make_account(Role.REVIEWER, full_name="Rhea Voss")


@pytest.fixture
def director(db):
    return make_account(Role.DIRECTOR, full_name="Dana Quill")


@pytest.fixture
def as_person():
    """A test client signed in as this account; nobody for None."""

    def sign_in(account):
        client = Client()
        if account is not None:
            client.force_login(account)
        return client

    return sign_in


@pytest.fixture(scope="module")
def world(django_db_setup, django_db_blocker):
    """What the access table points at, made once for a module. Each test takes back what it changes."""
    from tests.access.world import World

    with django_db_blocker.unblock(), transaction.atomic():
        yield World()
        transaction.set_rollback(True)
