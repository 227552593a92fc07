import pytest

from tests.builds.wiring.making import make_planned_build


@pytest.fixture
def build(coordinator, builder, lab):
    return make_planned_build(coordinator, builder)


@pytest.fixture
def page(as_person, build, builder):
    """The harness pages as the builder sees them."""
    from django.urls import reverse

    browser = as_person(builder)

    class Pages:
        def get(self, name, *args):
            return browser.get(reverse(name, args=[build.number, *args]))

        def post(self, name, *args, data=None):
            return browser.post(reverse(name, args=[build.number, *args]), data or {})

    return Pages()
