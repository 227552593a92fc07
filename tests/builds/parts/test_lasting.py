"""How long the battery lasts, from what is recorded; nothing is filled in."""

import pytest
from django.db import transaction
from django.db.models import F

from builds.demo import journey
from builds.demo.factories.record import make_build, make_crew
from builds.parts.evidence import report
from builds.parts.lasting import CHARGING, LASTING
from builds.parts.models import Battery, Charger
from builds.record.holds import Stage
from builds.record.models import Build, Configuration
from tests.factory import make_lab

RUN, HALF, EMPTY = "run time", "days in storage until half", "days in storage until empty"
DAY = "charge within waking hours"


@pytest.fixture(scope="module")
def measured(django_db_setup, django_db_blocker):
    """A ride-on whose quiescent current of 1 mA was measured at commissioning; each test takes back what it changes."""
    with django_db_blocker.unblock(), transaction.atomic():
        make_lab()
        crew = make_crew()
        build = make_build(crew=crew, stage=Stage.COMMISSIONING)
        journey.work(build, crew, "commissioning")
        yield build.pk
        transaction.set_rollback(True)


@pytest.fixture
def build(measured, db):
    return Build.objects.get(pk=measured)


def found(build, *headings):
    of_build = report(Build.objects.get(pk=build.pk)).findings
    return {one.name: one for heading, one in of_build if heading in headings}


def test_the_drive_time_by_hand_against_the_session(build):
    """Derived from Peukert's law: 0.5 x 20 x (12 / (7.5 x 20))^1.2 h, against a session of 20 minutes."""
    one = found(build, LASTING)[RUN]
    assert one.value == pytest.approx(10 * (12 / 150) ** 1.2)
    assert (one.limit, one.verdict) == (0.334, "fits")


def test_a_session_longer_than_the_battery_asks_for_a_look(build):
    build.client.clearances.update(session_min=60)
    assert found(build, LASTING)[RUN].verdict == "check"


def test_without_a_clearance_it_is_known_and_not_judged(build):
    build.client.clearances.all().delete()
    one = found(build, LASTING)[RUN]
    assert one.value is not None
    assert (one.verdict, one.missing) == ("unknown", "how long it has to last")


def test_the_days_in_storage_use_the_measured_current(build):
    """Derived: 1 mA and 3 % a month, compounding, against the same without any current."""
    step = build.steps.get(tests="quiescent")
    result = step.results.get()
    days = found(build, LASTING)
    assert ("drain", f"{result.reading / 1000:g} A") in days[HALF].inputs
    assert 0 < days[HALF].value < days[EMPTY].value
    type(result).objects.filter(pk=result.pk).update(reading=F("reading") * 10)
    # Ten times the limit of the step: it passes no longer, so it is no measured fact.
    assert found(build, LASTING)[HALF].verdict == "unknown"


def test_a_reading_struck_or_failed_is_no_fact(build):
    build.steps.get(tests="quiescent").results.update(outcome="failed")
    assert found(build, LASTING)[HALF].missing == "drain"


@pytest.mark.parametrize(
    ("model", "column", "name", "missing"),
    [
        (Battery, "capacity_ah", RUN, "capacity"),
        (Battery, "hours_rate", RUN, "hours rate"),
        (Battery, "peukert", RUN, "Peukert exponent"),
        (Battery, "usable_share", RUN, "usable share"),
        (Configuration, "driving_current_a", RUN, "load"),
        (Battery, "self_discharge_percent", HALF, "self-discharge"),
        (Battery, "capacity_ah", HALF, "capacity"),
        (Charger, "current_a", DAY, "hours of charging"),
    ],
)
def test_whatever_nobody_recorded_is_named_and_never_assumed(build, model, column, name, missing):
    model.objects.update(**{column: None})
    one = found(build, LASTING, CHARGING)[name]
    assert (one.value, one.verdict) == (None, "unknown")
    assert missing in one.missing


def test_a_charge_that_does_not_end_by_bedtime_asks_for_a_look(build):
    Charger.objects.update(current_a=3.0)
    assert (found(build, CHARGING)[DAY].verdict, "morning" in found(build, CHARGING)[DAY].formula) == ("fits", False)
    Charger.objects.update(current_a=1.5)  # 12 Ah x 1.2 / 1.5 A are 10 h: too long after school, not from the morning
    assert (found(build, CHARGING)[DAY].verdict, "morning" in found(build, CHARGING)[DAY].formula) == ("fits", True)
    Charger.objects.update(current_a=0.5)
    assert found(build, CHARGING)[DAY].verdict == "check"


def test_a_build_without_a_battery_says_so(build):
    Configuration.objects.update(battery=None)
    assert found(build, LASTING)[RUN].missing == "the battery"


def test_what_cannot_be_is_unknown_in_words(build):
    Battery.objects.update(peukert=9.0)
    assert "Peukert exponent must be 1.6" in found(build, LASTING)[RUN].missing
