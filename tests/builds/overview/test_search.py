"""Search: by codes for everybody, by family name only for those who may see it."""

import pytest
from django.urls import reverse


def found(as_person, account, asked):
    return as_person(account).get(reverse("search"), {"q": asked}, follow=True).content.decode()


@pytest.fixture
def named(build):
    person = build.client.person
    person.family_name = "Zollinger"
    person.save(update_fields=["family_name"])
    return build


def test_a_builder_finds_the_build_by_case_code(as_person, crew, named):
    assert f"Build {named.number}" in found(as_person, crew.builder, named.client.case_code)


def test_a_build_is_found_by_its_equipment_number_in_any_case(as_person, crew, named):
    page = found(as_person, crew.builder, named.unit.number.lower())
    assert named.number in page and named.unit.number in page


def test_the_coordinator_finds_by_family_name(as_person, crew, named):
    page = found(as_person, crew.coordinator, "zolling")
    assert named.client.case_code in page and "Zollinger" in page


@pytest.mark.parametrize("who", ["builder", "reviewer"])
def test_who_may_not_see_names_finds_nothing_by_them(as_person, crew, named, who):
    page = found(as_person, getattr(crew, who), "Zollinger")
    assert "Nothing was found that you may see" in page
    assert named.client.case_code not in page


def test_a_builder_elsewhere_finds_nothing(as_person, other_builder, named):
    assert "Nothing was found" in found(as_person, other_builder, named.client.case_code)


@pytest.mark.parametrize("asked", ["", " ", "\x00", "x" * 5000, "<script>alert(1)</script>", "%", "'; drop"])
def test_odd_words_do_no_harm(as_person, crew, named, asked):
    page = found(as_person, crew.coordinator, asked)
    assert "<script>alert" not in page
