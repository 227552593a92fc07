"""What findings and refusals say is what was read and approved (see `words`)."""

import json

from tests.engineering.words import FILE, said

APPROVED = json.loads(FILE.read_text(encoding="utf-8"))


def test_each_case_says_what_was_approved():
    """One test that computes all of it: mutation testing runs what called the changed code."""
    now = json.loads(json.dumps(said()))
    assert set(now) == set(APPROVED)
    assert {case: (told, now[case]) for case, told in APPROVED.items() if now[case] != told} == {}


def test_every_approved_refusal_is_one_line():
    assert [told for told in APPROVED.values() if isinstance(told, str) and len(told.splitlines()) != 1] == []


def test_no_approved_finding_is_speechless():
    for told in APPROVED.values():
        for finding in told if isinstance(told, list) else []:
            assert finding["name"] and finding["source"] and finding["formula"]
            assert bool(finding["missing"]) is (finding["verdict"] == "unknown")
