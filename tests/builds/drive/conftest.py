import pytest
from django.urls import reverse

from builds.demo.factories.drive import make_ride_settings
from builds.models import Build
from builds.record.holds import Hold
from tests.builds.bench.making import let_stand
from tests.builds.wiring.making import make_planned_build


@pytest.fixture
def build(coordinator, builder, reviewer, lab):
    """Past First power, so that it may be driven; the path to there has tests of its own."""
    build = make_planned_build(coordinator, builder)
    make_ride_settings(build, coordinator)
    let_stand(build, reviewer, Hold.SOUND_UNIT, Hold.FIRST_POWER)
    return Build.objects.get(pk=build.pk)


@pytest.fixture
def page(as_person, build, builder):
    """The drive's pages as the builder sees them."""
    browser = as_person(builder)

    class Pages:
        def get(self, name, *args):
            return browser.get(reverse(name, args=[build.number, *args]))

        def post(self, name, *args, data=None):
            return browser.post(reverse(name, args=[build.number, *args]), data or {})

    return Pages()
