"""Reading plans: everybody of the lab may, and sees the limits with their sources."""

import pytest
from django.urls import reverse

from builds.demo.factories.plans import make_plan_revision
from builds.plans.loading import load_folder
from builds.plans.models import Plan

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("code", ["one-hand-stick", "press-switch", "switch-socket"])
def test_the_sheet_says_steps_limits_wires_parts_and_cautions(lab, builder, as_person, code):
    revision = make_plan_revision(code)
    answer = as_person(builder).get(reverse("plan_sheet", args=[code, revision.number]))
    page = answer.content.decode()
    content = revision.content
    for step in content["commissioning"]:
        assert f">{step['code']}</th>" in page
    assert "Source: Common practice" in page
    for caution in content["cautions"]:
        assert caution["can_happen"] in page.replace("&#x27;", "'")


def test_the_sheet_says_what_the_plan_leaves_open(lab, builder, as_person):
    number = make_plan_revision().number
    page = as_person(builder).get(reverse("plan_sheet", args=["one-hand-stick", number])).content.decode()
    assert "that of all the unit&#x27;s motors" in page or "that of all the unit's motors" in page
    assert '<td role="cell" data-label="Cost each" class="number">unknown</td>' in page


def test_a_revision_that_is_not_there_is_not_found(lab, builder, as_person):
    make_plan_revision()
    assert as_person(builder).get(reverse("plan_sheet", args=["one-hand-stick", 9])).status_code == 404


def test_the_list_says_how_to_load_when_it_is_empty(lab, builder, as_person):
    assert b"load_plans" in as_person(builder).get(reverse("plans")).content


def test_the_list_takes_two_queries_however_many_plans(django_assert_num_queries):
    make_plan_revision()
    with django_assert_num_queries(2):
        assert [len(plan.revisions.all()) for plan in Plan.objects.for_list()] == [1]
    load_folder()
    with django_assert_num_queries(2):
        assert [len(plan.revisions.all()) for plan in Plan.objects.for_list()] == [1, 1, 1]
