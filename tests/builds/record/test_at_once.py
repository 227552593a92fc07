"""A release and a change at the same moment: the second one sees the first. Only PostgreSQL has both at once."""

from threading import Event, Thread

import pytest
from django.db import connection, transaction

from builds.demo import journey
from builds.demo.factories.record import make_build, make_crew
from builds.models import BaseUnit, HoldDecision
from builds.record import rules
from builds.record.holds import Hold
from tests.factory import make_lab

LONGEST_S = 30
A_WHILE_S = 2  # long enough for a change that waits for nothing to be through


@transaction.atomic
def ready_to_release():
    make_lab()
    crew = make_crew()
    build = make_build(crew=crew)
    journey.through_planning(build, crew)
    journey.work(build, crew, "incoming_test")
    return crew, build


@pytest.mark.postgres
@pytest.mark.django_db(transaction=True)
@pytest.mark.skipif("connection.vendor != 'postgresql'", reason="SQLite writes one at a time")
def test_a_change_during_a_release_voids_it():
    crew, build = ready_to_release()
    released, changed = Event(), Event()

    def release():
        try:
            with transaction.atomic():
                rules.release(build, Hold.SOUND_UNIT, crew.reviewer)
                released.set()
                changed.wait(A_WHILE_S)
        finally:
            connection.close()

    other = Thread(target=release)
    other.start()
    assert released.wait(LONGEST_S)
    unit = BaseUnit.objects.get(pk=build.unit_id)
    unit.recall = BaseUnit.Recall.RECALLED
    unit.save(update_fields=["recall"])
    changed.set()
    other.join(LONGEST_S)
    assert HoldDecision.objects.get(build=build).voided_at is not None
