"""Two people at the same moment: the second one sees what the first did. Only PostgreSQL has both at once."""

from threading import Event, Thread

import pytest
from django.db import connection, transaction

from builds.demo import journey
from builds.demo.factories.clients import make_cleared_client
from builds.demo.factories.parts import BaseUnitFactory
from builds.demo.factories.plans import make_plan_revision
from builds.demo.factories.record import make_build, make_crew
from builds.models import BaseUnit, Build, HoldDecision, HoldRequest
from builds.record import nonconformances, releasing, rules
from builds.record.holds import Hold
from clients.models import Client
from tests.factory import make_lab

pytestmark = [
    pytest.mark.postgres,
    pytest.mark.django_db(transaction=True),
    pytest.mark.skipif("connection.vendor != 'postgresql'", reason="SQLite writes one at a time"),
]
LONGEST_S = 30
A_WHILE_S = 2  # long enough for a change that waits for nothing to be through


def at_once(first, second):
    """The second begins when the first is done and its transaction still open. Returns what the second made."""
    held, through = Event(), Event()

    def run():
        try:
            with transaction.atomic():
                first()
                held.set()
                through.wait(A_WHILE_S)
        finally:
            connection.close()

    other = Thread(target=run)
    other.start()
    assert held.wait(LONGEST_S)
    try:
        return second()
    finally:
        through.set()
        other.join(LONGEST_S)


@transaction.atomic
def ready_to_release():
    make_lab()
    crew = make_crew()
    build = make_build(crew=crew)
    journey.through_planning(build, crew)
    journey.work(build, crew, "incoming_test")
    return crew, build


def same(build):
    return Build.objects.get(pk=build.pk)


def test_a_change_during_a_release_voids_it():
    crew, build = ready_to_release()

    def recall():
        unit = BaseUnit.objects.get(pk=build.unit_id)
        unit.recall = BaseUnit.Recall.RECALLED
        unit.save(update_fields=["recall"])

    at_once(lambda: releasing.release(build, Hold.SOUND_UNIT, crew.reviewer), recall)
    assert HoldDecision.objects.get(build=build).voided_at is not None


def test_a_release_is_not_refused_and_a_reviewer_not_asked_again_meanwhile():
    crew, build = ready_to_release()
    with pytest.raises(rules.Refused, match="has been asked for Sound unit already"):
        at_once(
            lambda: releasing.ask(build, Hold.SOUND_UNIT, crew.builder),
            lambda: releasing.ask(same(build), Hold.SOUND_UNIT, crew.builder),
        )
    assert HoldRequest.objects.filter(build=build).count() == 1
    with pytest.raises(rules.Refused, match="is released already"):
        at_once(
            lambda: releasing.release(build, Hold.SOUND_UNIT, crew.reviewer),
            lambda: releasing.refuse(same(build), Hold.SOUND_UNIT, crew.reviewer, "No photo of the label"),
        )
    assert HoldDecision.objects.get(build=build).is_release


@transaction.atomic
def two_cases():
    make_lab()
    crew = make_crew()
    return crew, make_plan_revision("one-hand-stick"), [make_cleared_client(crew.coordinator) for _ in range(2)]


def start(crew, plan_revision, client, unit):
    return rules.start_build(client=client, unit=unit, plan_revision=plan_revision, account=crew.coordinator)


def test_a_unit_goes_to_one_of_two_builds():
    crew, plan, clients = two_cases()
    unit = BaseUnitFactory()
    with pytest.raises(rules.Refused, match="is held by another build"):
        at_once(lambda: start(crew, plan, clients[0], unit), lambda: start(crew, plan, clients[1], unit))
    assert Build.objects.get().client == clients[0]


def test_builds_and_clients_have_numbers_of_their_own():
    crew, plan, clients = two_cases()
    units = BaseUnitFactory.create_batch(2)
    at_once(lambda: start(crew, plan, clients[0], units[0]), lambda: start(crew, plan, clients[1], units[1]))
    assert sorted(Build.objects.values_list("number", flat=True)) == ["B-0001", "B-0002"]

    @transaction.atomic
    def another():
        return Client.objects.open_file()

    assert at_once(another, another).case_code == f"C-{clients[1].number + 2}"


def test_what_is_set_at_once_is_set_one_after_the_other():
    crew, plan, clients = two_cases()
    build = start(crew, plan, clients[0], BaseUnitFactory())
    at_once(
        lambda: rules.configure(build, crew.coordinator, "A wedge", seat="Foam wedge"),
        lambda: rules.configure(same(build), crew.coordinator, "A belt", supports=["pelvis"]),
    )
    now = same(build).configuration()
    assert (now.number, now.seat, now.supports) == (3, "Foam wedge", ["pelvis"])


def test_a_nonconformance_is_closed_once():
    crew, plan, clients = two_cases()
    build = start(crew, plan, clients[0], BaseUnitFactory())
    found = nonconformances.open_nonconformance(build, crew.builder, "A bent bracket")
    how = {"disposition": "rework", "cause": "Dropped", "fix": "Straightened"}
    with pytest.raises(rules.Refused, match="closed already"):
        at_once(
            lambda: nonconformances.dispose(found, crew.builder, **how),
            lambda: nonconformances.dispose(build.nonconformances.get(), crew.second, **how),
        )
