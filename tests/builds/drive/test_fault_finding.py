"""Fault finding through its pages: from two pushes to one cause, and one click to a nonconformance."""

import re

import pytest
from django.urls import reverse

from builds.engineering.symptoms import SYMPTOMS
from tests.builds.wiring.making import fresh

MOTOR = {"forward": "spins-right", "right": "forward", "push_forward": "y+", "left_channel": "left+",
         "push_right": "x+", "right_channel": "right-"}  # fmt: skip


@pytest.fixture
def ask(page, build, as_person, builder):
    browser = as_person(builder)
    return lambda **given: browser.get(reverse("fault_finding", args=[build.number]), given)


def text_of(answer):
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", answer.content.decode()))


def test_it_opens_with_nothing_chosen_and_nothing_found(ask):
    answer = ask()
    assert answer.status_code == 200
    assert "found" not in answer.context


def test_two_pushes_name_the_behaviour_and_the_next_test(ask, build):
    answer = ask(forward="spins-left", right="forward")
    text = text_of(answer)
    assert "Turned" in text
    assert "Next test: raw stick values on a push forward." in text
    assert "Never cure a turned mount with wire swaps." in text
    assert [one.count for one in answer.context["causes"]] == sorted(one.count for one in answer.context["causes"])
    assert text.index("base is turned 90\u00b0 clockwise") < text.index("signals are exchanged")
    assert not fresh(build).nonconformances.exists()


def test_all_bench_tests_leave_one_cause_with_its_least_change(ask):
    answer = ask(**MOTOR)
    assert [one.faults for one in answer.context["causes"]] == [("right polarity reversed",)]
    assert "Exchange the two wires of the right motor at its controller." in text_of(answer)
    assert "Next test" not in text_of(answer)


def test_a_pair_that_no_crossing_explains_is_refused_and_says_what_to_do(ask):
    answer = ask(forward="forward", right="backward")
    assert answer.status_code == 422
    assert "a channel is dead or works one way only" in text_of(answer)


def test_one_push_alone_is_asked_for_the_other(ask):
    answer = ask(forward="forward")
    assert answer.status_code == 422
    assert "right" in answer.context["form"].errors


def test_what_works_offers_no_nonconformance(ask):
    assert "Record as a nonconformance" not in text_of(ask(forward="forward", right="spins-right"))
    hidden = {"push_forward": "y+", "push_right": "x-", "left_channel": "right+", "right_channel": "left+"}
    text = text_of(ask(forward="forward", right="spins-right", **hidden))
    assert "Crossings hide each other" in text
    assert "Record as a nonconformance" in text


def test_one_click_records_it_and_holds_the_build(page, build):
    answer = page.post("fault_record", data=MOTOR)
    assert answer.status_code == 302
    found = fresh(build).nonconformances.get()
    assert found.is_open
    assert found.text.startswith("Drives wrong (mirrored). Cause: the right motor's two wires are exchanged.")
    assert "Pushed forward, the cart: spins to the occupant's right" in found.text


def test_a_record_without_pushes_is_refused(page, build):
    page.post("fault_record", data={"forward": "forward"})
    assert not fresh(build).nonconformances.exists()


def test_every_symptom_stands_with_causes_and_a_test_each(page):
    text = text_of(page.get("fault_symptoms"))
    assert [one.code for one in SYMPTOMS] == ["creep", "veer", "reset", "one-way", "arm-cut-out"]
    for symptom in SYMPTOMS:
        assert len(symptom.suspects) > 1
        assert len({one.test for one in symptom.suspects}) == len(symptom.suspects)
        for one in symptom.suspects:
            assert one.cause.replace("'", "&#x27;") in text
            assert one.test.replace("'", "&#x27;") in text
