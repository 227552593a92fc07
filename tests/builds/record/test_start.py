"""Starting a build: planning waits for the clearance, and the unit must be free."""

import datetime

import pytest
from django.utils import timezone

from builds.demo import journey
from builds.demo.factories.clients import make_cleared_client
from builds.demo.factories.parts import BaseUnitFactory, make_one_motor_unit, make_toy_unit
from builds.demo.factories.plans import make_plan_revision
from builds.models import BaseUnit
from builds.record import rules
from builds.record.holds import Stage


def start(crew, client, unit, plan="one-hand-stick"):
    return rules.start_build(client=client, unit=unit, plan_revision=make_plan_revision(plan), account=crew.coordinator)


def test_the_plan_is_copied_and_the_first_configuration_is_made(build):
    content = build.plan_revision.content
    parts = ("incoming", "teardown", "adaptation", "commissioning", "fitting")
    assert build.steps.count() == sum(len(content[part]) for part in parts)
    assert build.wire_runs.count() == len(content["wire_runs"])
    assert build.configurations.get(number=1).side == build.client.access.side


def test_the_case_has_come_to_its_plan(build):
    build.referral.refresh_from_db()
    assert build.referral.stage == "plan"


def test_without_a_clearance_in_date_it_is_refused(crew, client_of_lab):
    yesterday = timezone.localdate() - datetime.timedelta(days=1)
    client_of_lab.clearances.update(expires_on=yesterday)
    with pytest.raises(rules.Refused, match="no clearance in date"):
        start(crew, client_of_lab, BaseUnitFactory())


def test_a_clearance_for_toys_does_not_cover_a_ride_on(crew):
    client = make_cleared_client(crew.coordinator, clearance={"equipment": "toy"})
    with pytest.raises(rules.Refused, match="does not cover this plan"):
        start(crew, client, BaseUnitFactory())


@pytest.mark.parametrize(
    ("plan", "make_unit", "says"),
    [
        ("press-switch", BaseUnitFactory, "made for a ride-on with one drive motor; unit .* is a ride-on with two"),
        ("one-hand-stick", make_one_motor_unit, "made for a ride-on with two drive motors; unit .* with one"),
        ("one-hand-stick", make_toy_unit, "made for a ride-on with two drive motors; unit .* is a battery toy"),
    ],
)
def test_a_unit_of_another_kind_than_the_plan_is_made_for_is_refused(crew, client_of_lab, plan, make_unit, says):
    with pytest.raises(rules.Refused, match=says):
        start(crew, client_of_lab, make_unit(), plan)


def test_a_unit_in_another_build_is_refused(crew, build):
    other = make_cleared_client(crew.coordinator)
    with pytest.raises(rules.Refused, match="held by another build"):
        start(crew, other, build.unit)


def test_a_unit_marked_do_not_use_is_refused(crew, client_of_lab):
    unit = BaseUnitFactory()
    unit.mark_do_not_use(crew.reviewer, "Cracked axle")
    with pytest.raises(rules.Refused, match="marked do not use"):
        start(crew, client_of_lab, unit)


def test_a_retired_build_frees_its_unit_and_numbers_go_on(crew, build):
    build.stage = Stage.RETIRED
    build.save(update_fields=["stage"])
    again = journey.start("one-hand-stick", make_cleared_client(crew.coordinator), crew, unit=build.unit)
    assert again.serial == build.serial + 1


def test_a_unit_with_an_ended_build_is_still_held_by_the_build_that_goes_on(crew, build):
    build.stage = Stage.REISSUED
    build.save(update_fields=["stage"])
    again = journey.start("one-hand-stick", make_cleared_client(crew.coordinator), crew, unit=build.unit)
    assert not BaseUnit.objects.free().filter(pk=again.unit_id).exists()
    with pytest.raises(rules.Refused, match="held by another build"):
        start(crew, make_cleared_client(crew.coordinator), build.unit)
