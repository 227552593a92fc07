"""What is typed about a build is read by builders: it names nobody, and the refusal tells no builder who it was."""

import pytest
from django.urls import reverse

from builds.record.nonconformances import open_nonconformance
from clients.names import NOT_TOLD

MADE = "Quillfeather"


@pytest.fixture
def named(build):
    person = build.client.person
    person.given_name, person.family_name = "Zephyrine", MADE
    person.save(update_fields=["given_name", "family_name"])
    build.client.caregivers.update(name=f"Ottoline {MADE}")
    return build


@pytest.fixture
def found(named, crew):
    return open_nonconformance(named, crew.builder, "The strap is loose")


@pytest.fixture
def problem(named, crew):
    return named.problems.create(text="It squeaks", made_by=crew.builder)


def posts(build, found, problem):
    """(url name, more of its address, what is typed beside the text, the field of the text)"""
    step = build.steps.filter(section="incoming_test").first()
    return [
        ("nonconformance_new", [], {}, "text"),
        ("nonconformance_close", [found.pk], {"disposition": "rework", "fix": "Tightened"}, "cause"),
        ("problem_new", [], {}, "text"),
        ("problem_settle", [problem.pk], {}, "note"),
        ("problem_strike", [problem.pk], {}, "reason"),
        ("step_record", [step.pk], {"outcome": "failed", "reading": ""}, "note"),
        ("step_strike", [step.pk], {}, "reason"),
        ("configuration_edit", [], {"based_on": build.configuration().number}, "seat"),
    ]


def as_opened(browser, address):
    """What stands in the boxes of a page."""
    page = browser.get(address).context
    return {one.html_name: one.value() for one in page["form"] if one.value() not in (None, "")} if page else {}


def answers(browser, named, found, problem, text):
    """url name -> (status, errors of the text's field)"""
    told = {}
    for name, more, typed, field in posts(named, found, problem):
        address = reverse(name, args=[named.number, *more])
        answer = browser.post(address, {**as_opened(browser, address), "reason": "As agreed", **typed, field: text})
        told[name] = (answer.status_code, list(answer.context["form"].errors.get(field, [])))
    return told


def test_no_text_of_a_build_names_the_family_and_a_builder_learns_no_name(named, found, problem, crew, as_person):
    told = answers(as_person(crew.builder), named, found, problem, "ottoline holds the strap")
    assert told == dict.fromkeys(told, (422, [NOT_TOLD]))
    assert len(told) == 8


def test_the_coordinator_is_told_which_word_it_is(named, crew, as_person):
    address = reverse("build_standing", args=[named.number, "on_hold"])
    answer = as_person(crew.coordinator).post(address, {"reason": "Zéphyrine is ill"})
    assert answer.context["form"].errors["reason"] == [
        "This text names the client or the family: “Zéphyrine”. Write the case code instead."
    ]
    assert as_person(crew.coordinator).post(address, {"reason": f"{named.client.case_code} is ill"}).status_code == 302


def test_a_text_without_a_name_is_kept(named, crew, as_person):
    answer = as_person(crew.builder).post(reverse("problem_new", args=[named.number]), {"text": "The child leans left"})
    assert answer.status_code == 302
    assert named.problems.get().text == "The child leans left"
