"""What findings and refusals say is what was read and approved (see `words`)."""

import json

import pytest

from tests.engineering.words import FILE, said

APPROVED = json.loads(FILE.read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def now():
    return json.loads(json.dumps(said()))


def test_the_cases_are_the_approved_ones(now):
    assert set(now) == set(APPROVED)


def test_each_case_says_what_was_approved(now):
    changed = {case: (told, now[case]) for case, told in APPROVED.items() if now[case] != told}
    assert changed == {}


def test_every_refusal_is_one_line(now):
    assert [told for told in now.values() if isinstance(told, str) and len(told.splitlines()) != 1] == []


def test_no_finding_is_speechless(now):
    for told in now.values():
        for finding in told if isinstance(told, list) else []:
            assert finding["name"] and finding["source"] and finding["formula"]
            assert bool(finding["missing"]) is (finding["verdict"] == "unknown")
