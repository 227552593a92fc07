"""One build with its builder, and what its pages are sent."""

import pytest
from django.urls import reverse

from builds.demo.factories.papers import configure_fully, make_build_for


@pytest.fixture
def build(lab, coordinator, builder):
    return make_build_for(coordinator=coordinator, builders=[builder])


@pytest.fixture
def configured(build, coordinator):
    configure_fully(build, coordinator, rider_place=[0.35, 0.0, 0.55])
    return build


@pytest.fixture
def send(as_person):
    """Send a form as somebody; from an open page, so that it carries what was seen there."""

    def post(account, page, /, *args, **typed):
        client, address = as_person(account), reverse(page, args=args)
        opened = client.get(address)
        form = opened.context["form"]
        data = {}
        for bound in form:
            value = bound.value()
            if isinstance(value, list) and bound.field.__class__.__name__ == "PlaceField":
                data.update({f"{bound.html_name}_{axis}": part for axis, part in enumerate(value)})
            elif value not in (None, False):
                data[bound.html_name] = value
        data.update(typed)
        return client.post(address, {key: value for key, value in data.items() if value is not None})

    return post
