"""A build with its papers issued and a link to it; a phone that opened the link."""

import pytest
from django.test import Client
from django.urls import reverse

from builds.papers import rules as papers
from builds.papers.family import links
from tests.builds.papers.conftest import again, ready  # noqa: F401 - the fixture

WORD = "bamotu"


@pytest.fixture
def build(ready, coordinator, monkeypatch):  # noqa: F811
    """Issued by the rule; only the PDF itself is left out, which takes seconds and is read elsewhere."""
    monkeypatch.setattr(papers, "render_pdf", lambda html, build=None, **more: b"%PDF-1.7\n%%EOF\n")
    for kind in ("use_guide", "charging_guide", "supervision_card"):
        papers.issue(again(ready), kind, coordinator, given_to="Elena Castellan")
    return again(ready)


@pytest.fixture
def made(build, coordinator):
    return links.make_link(build, coordinator, days=30, word=WORD)


def door(made):
    return reverse("family_link", args=[made.token])


def at(made, name, **more):
    return reverse(name, kwargs={"token": made.token, **more})


@pytest.fixture
def stranger():
    return Client()


@pytest.fixture
def phone(made):
    """A browser behind the door."""
    client = Client()
    answer = client.post(door(made), {"word": WORD})
    assert answer.status_code == 302
    return client
