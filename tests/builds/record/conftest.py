import pytest
from django.db import transaction

from builds.demo import journey
from builds.demo.crew import Crew
from builds.demo.factories.bench import drawn_photo
from builds.demo.factories.clients import make_cleared_client
from builds.demo.factories.record import make_build, make_crew
from builds.models import Build
from builds.record.holds import Stage
from builds.record.photos import keep_photo
from labsite.roles import Role
from tests.factory import make_account, make_lab


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


class InUse:
    """A lab with its people, and a build that went all the way to the family."""

    def __init__(self):
        make_lab()
        self.crew = make_crew()
        self.build = make_build(crew=self.crew, stage=Stage.IN_USE)
        keep_photo(self.build, self.crew.builder, drawn_photo(), on_guide=True)


@pytest.fixture(scope="module")
def whole_case(django_db_setup, django_db_blocker):
    with django_db_blocker.unblock(), transaction.atomic():
        yield InUse()
        transaction.set_rollback(True)


@pytest.fixture
def case(whole_case):
    """The build in use, read anew; each test takes back what it changes."""
    with transaction.atomic():
        whole_case.build = Build.objects.get(pk=whole_case.build.pk)
        yield whole_case
        transaction.set_rollback(True)
