"""Every form of the access table is sent nonsense: it answers in words, keeps what was typed, and saves nothing."""

from html.parser import HTMLParser
from uuid import uuid4

import pytest
from django.db import transaction
from django.urls import reverse

from tests.access.rows import all_rows

pytestmark = pytest.mark.django_db  # the world takes back what a test changes; this says that there is a database
FORMS = sorted({row.name for row in all_rows() if row.method == "POST" and 422 in row.expected.values()})
LONG = "x" * 100_000
NONSENSE = {
    "nothing": "",
    "100,000 letters": LONG,
    "letters": "abc",
    "not a number": "NaN",
    "endless": "inf",
    "absurd": "1e308",
    "below zero": "-5",
    "wrong unit": "3 furlongs",
    "markup": "<script>alert(1)</script>",
    "a null character": "a\x00b",
    "another script": "مرحبا 你好",
}


class Fields(HTMLParser):
    """The names of what a person types into, and the values that the form itself carries."""

    def __init__(self):
        super().__init__()
        self.typed, self.carried, self.inside = [], {}, False

    def handle_starttag(self, tag, attrs):
        has = dict(attrs)
        if tag == "form":
            self.inside = "lab-form" in (has.get("class") or "")
        if not self.inside or not has.get("name"):
            return
        if tag == "textarea" or (tag == "input" and has.get("type", "text") in ("text", "date", "time", "email")):
            self.typed.append(has["name"])
        elif tag == "input" and has.get("type") == "hidden" and has["name"] not in ("csrfmiddlewaretoken", "once"):
            self.carried[has["name"]] = has.get("value", "")
        elif tag == "input" and has.get("type") in ("radio", "checkbox") and "checked" in has:
            self.carried[has["name"]] = has.get("value", "on")

    def handle_endtag(self, tag):
        if tag == "form":
            self.inside = False


def reader_of(world, name):
    row = next(row for row in all_rows() if row.name == name and row.method == "POST" and 422 in row.expected.values())
    person = next(person for person, status in row.expected.items() if status == 422)
    return getattr(world, person), reverse(name, kwargs=world.args.get(name)) + row.query


@pytest.mark.parametrize("name", FORMS)
def test_nonsense_is_answered_in_words(name, world, as_person):
    account, address = reader_of(world, name)
    browser = as_person(account)
    browser.raise_request_exception = False
    fields = Fields()
    fields.feed(browser.get(address).content.decode())
    found = {}
    for kind, value in NONSENSE.items():
        with transaction.atomic():
            sent = {**fields.carried, **dict.fromkeys(fields.typed, value), "once": uuid4()}
            answer = browser.post(address, sent)
            transaction.set_rollback(True)
        found[kind] = trouble(kind, answer, fields)
    assert {kind: what for kind, what in found.items() if what} == {}


def trouble(kind, answer, fields):
    """What is wrong with the answer; nothing when a form of words was accepted or refused as it should be."""
    if answer.status_code not in (302, 422):
        return f"answered {answer.status_code}"
    page = answer.content.decode().replace("aria-invalid", "").replace("is-invalid", "")
    if kind == "markup" and "<script>alert" in page:
        return "markup is not escaped"
    if kind == "100,000 letters" and fields.typed:
        if answer.status_code != 422:
            return "was accepted"
        if LONG not in page:
            return "what was typed is gone"
    if answer.status_code == 422 and "error-summary" not in page:
        return "refused without a word"
    for word in ("Please", "sorry", "invalid", "This field is required"):
        if answer.status_code == 422 and word in page:
            return f"says {word}"
    return ""
