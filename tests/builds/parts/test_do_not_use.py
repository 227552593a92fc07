"""Anybody stops a unit at once; only a reviewer or the coordinator lets it go on."""

import pytest
from django.urls import reverse

from builds.demo.factories.parts import BaseUnitFactory
from builds.parts.models import BaseUnit
from builds.record.models import Build
from builds.record.registry import reports

pytestmark = pytest.mark.django_db


def test_a_stranger_to_the_build_marks_its_unit_at_once(build, other_builder, send):
    answer = send(other_builder, "unit_do_not_use", build.unit.number, reason="Smell of burning")
    assert answer.status_code == 302
    unit = BaseUnit.objects.get()
    assert unit.is_marked_do_not_use and unit.do_not_use_by == other_builder
    assert unit.marks.get().reason == "Smell of burning"


def test_a_name_in_the_reason_stops_the_unit_all_the_same_and_is_taken_out(build, other_builder, coordinator, send):
    build.client.caregivers.create(name="Ottoline Quillfeather", relation="Aunt")
    send(other_builder, "unit_do_not_use", build.unit.number, reason="Ottoline saw smoke")
    unit = BaseUnit.objects.get()
    assert unit.is_marked_do_not_use and unit.do_not_use_reason == "[name] saw smoke"
    send(coordinator, "unit_clear", unit.number, reason=f"{'x' * 280} ottoline agrees")
    assert not BaseUnit.objects.get().is_marked_do_not_use
    assert unit.marks.first().reason == f"{'x' * 280} [name] agrees"


def test_taking_a_name_out_never_makes_the_reason_too_long(build, builder, send):
    build.client.caregivers.create(name="Bo Quillfeather", relation="Aunt")
    send(builder, "unit_do_not_use", build.unit.number, reason=f"{'x' * 297} Bo"[:300])
    assert len(BaseUnit.objects.get().do_not_use_reason) == 300


def test_the_mark_needs_a_reason(build, builder, send):
    answer = send(builder, "unit_do_not_use", build.unit.number, reason="")
    assert answer.status_code == 422
    assert "Enter why it must not be used" in answer.content.decode()
    assert not BaseUnit.objects.get().is_marked_do_not_use


def test_a_second_mark_does_not_hide_the_first(build, builder, reviewer, send):
    send(builder, "unit_do_not_use", build.unit.number, reason="First")
    answer = send(reviewer, "unit_do_not_use", build.unit.number, reason="Second")
    assert answer.status_code == 422 and "already" in answer.content.decode()
    assert BaseUnit.objects.get().do_not_use_reason == "First"


@pytest.mark.parametrize("page", ["base_unit", "build_parts", "restore_kit", "ticket"])
def test_the_mark_stands_on_every_page_of_unit_and_build(build, builder, as_person, page):
    build.unit.mark_do_not_use(builder, "The seat is cracked")
    number = build.unit.number if page == "base_unit" else build.number
    text = as_person(builder).get(reverse(page, args=[number])).content.decode()
    assert "WARNING" in text and "Do not use this unit" in text and "The seat is cracked" in text


def test_it_holds_every_hold_point(build, builder):
    build.unit.mark_do_not_use(builder, "The seat is cracked")
    found = [one for one in reports(build)["parts"].conditions if one.text == "The unit is not marked do not use"]
    assert [one.hold for one in found] == build.holds()
    assert all(one.met is False and one.why == "The seat is cracked" for one in found)


def test_a_reviewer_clears_it_with_a_reason_and_both_stay_readable(build, builder, reviewer, send, as_person):
    send(builder, "unit_do_not_use", build.unit.number, reason="The seat is cracked")
    assert send(reviewer, "unit_clear", build.unit.number, reason="Seat replaced").status_code == 302
    assert not BaseUnit.objects.get().is_marked_do_not_use
    page = as_person(builder).get(reverse("base_unit", args=[build.unit.number])).content.decode()
    assert "The seat is cracked" in page and "Seat replaced" in page


def test_a_builder_does_not_clear_it(build, builder, as_person):
    build.unit.mark_do_not_use(builder, "The seat is cracked")
    answer = as_person(builder).post(reverse("unit_clear", args=[build.unit.number]), {"reason": "Fine again"})
    assert answer.status_code == 403
    assert BaseUnit.objects.get().is_marked_do_not_use


def test_a_family_that_has_the_unit_is_called(build, builder, send):
    Build.objects.filter(pk=build.pk).update(stage="in_use")
    send(builder, "unit_do_not_use", build.unit.number, reason="Recall of the charger")
    task = build.tasks.get()
    assert task.is_urgent and not task.told_by_the_family and "Recall of the charger" in task.text


def test_a_marked_unit_is_not_free(builder):
    unit = BaseUnitFactory()
    assert unit in BaseUnit.objects.free()
    unit.mark_do_not_use(builder, "The seat is cracked")
    assert unit not in BaseUnit.objects.free()
