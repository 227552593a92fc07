import pytest

from builds.demo import journey
from builds.demo.crew import Crew
from builds.demo.factories.clients import make_cleared_client
from labsite.roles import Role
from tests.factory import make_account


@pytest.fixture
def crew(lab, coordinator, builder, reviewer):
    return Crew(coordinator, builder, make_account(Role.BUILDER, full_name="Sol Reyes"), reviewer)


@pytest.fixture
def client_of_lab(crew):
    return make_cleared_client(crew.coordinator)


@pytest.fixture
def build(crew, client_of_lab):
    """A build just started, with the one-hand stick."""
    return journey.start("one-hand-stick", client_of_lab, crew)
