"""A build goes from its start to In use by the rules, for each of the plans."""

import pytest

from builds.demo import journey
from builds.demo.crew import Crew
from builds.demo.factories.clients import make_cleared_client
from builds.record import releasing
from builds.record.holds import Stage
from builds.record.models import Build
from labsite.roles import Role
from tests.factory import make_account

PLANS = {
    "one-hand-stick": {},
    "press-switch": {},
    "switch-socket": {"clearance": {"equipment": "toy"}},
}


@pytest.fixture
def crew(lab, coordinator, builder, reviewer):
    second = make_account(Role.BUILDER, full_name="Sol Reyes")
    return Crew(coordinator, builder, second, reviewer)


@pytest.mark.parametrize("plan", PLANS)
def test_it_goes_from_start_to_in_use(plan, crew):
    client = make_cleared_client(crew.coordinator, **PLANS[plan])
    build = journey.start(plan, client, crew)
    journey.take_to(build, Stage.IN_USE, crew)
    build = Build.objects.get(pk=build.pk)
    assert build.stage == Stage.IN_USE
    for hold in build.holds():
        assert releasing.standing(build, hold), hold
