"""A desk with a signed-in coordinator, and clients at the points of their case that the tests need."""

import uuid

import pytest
from django.urls import reverse

from builds.demo.factories import clients as make


@pytest.fixture
def desk(lab, coordinator, as_person):
    return as_person(coordinator)


@pytest.fixture
def cleared(lab, coordinator):
    return make.make_cleared_client(coordinator)


@pytest.fixture
def assessed(lab, coordinator):
    return make.make_assessed_client(coordinator)


@pytest.fixture
def known(lab, coordinator):
    """A client of whom only the referral is known."""
    client = make.ClientFactory()
    make.ReferralFactory(client=client, made_by=coordinator)
    return client


def at(name, client, *pks, query=""):
    return reverse(name, args=[client.case_code, *pks]) + query


def send(browser, address, /, **typed):
    """Fill in the form that stands at this address and send it, with the values it was opened with."""
    page = browser.get(address)
    assert page.status_code == 200, page.status_code
    form = page.context["form"]
    standing = {}
    for bound in form:
        value = bound.value()
        if value not in (None, "", False):
            standing[bound.html_name] = value
    return browser.post(address, {**standing, "once": uuid.uuid4(), **typed})


def errors(answer):
    assert answer.status_code == 422, answer.status_code
    return dict(answer.context["form"].errors)
