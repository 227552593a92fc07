"""The ticket asks the database the same number of times for a small build and for the largest one."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from builds.demo.factories.record import FULL_RUNS, FULL_STEPS, full_build, make_build, make_crew
from builds.demo.factories.wiring import WireRunFactory
from builds.record.holds import Stage

MOST = 25


@pytest.fixture
def crew(lab, coordinator, builder, reviewer):
    return make_crew(coordinator=coordinator, builder=builder, reviewer=reviewer)


def queries_of_ticket(browser, build):
    address = reverse("ticket", args=[build.number])
    assert browser.get(address).status_code == 200  # what Django reads once for a process is read here
    with CaptureQueriesContext(connection) as asked:
        assert browser.get(address).status_code == 200
    return [one["sql"] for one in asked]


@pytest.mark.postgres  # the rows that come as JSON are made by the database
def test_the_ticket_of_a_full_build_asks_no_more_than_that_of_a_small_one(crew, as_person):
    browser = as_person(crew.coordinator)
    toy = make_build("switch-socket", crew, stage=Stage.COMMISSIONING)
    WireRunFactory(build=toy)  # as on the full build: First power is void, and a second person's checks wait
    small = queries_of_ticket(browser, toy)
    build = full_build(crew)
    assert (build.steps.count(), build.wire_runs.count()) == (FULL_STEPS, FULL_RUNS)
    full = queries_of_ticket(browser, build)
    told = "\n".join(sql[:200] for sql in full)
    assert len(full) <= MOST, told
    assert len(small) == len(full), told
