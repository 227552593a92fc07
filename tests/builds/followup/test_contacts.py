"""Dated contacts: the usual ones, their condition, done and struck."""

import datetime

import pytest
from django.urls import reverse
from django.utils import timezone

from builds.demo.factories.papers import make_build_for, settle
from builds.followup import rules
from builds.followup.models import PlannedContact
from builds.record.models import Build
from builds.record.registry import reports
from builds.record.rules import Refused
from tests.factory import make_lab


@pytest.fixture
def build(db, coordinator):
    make_lab()
    return make_build_for(coordinator=coordinator)


def report(build):
    return reports(Build.objects.get(pk=build.pk))["followup"]


def test_usual_dates_are_3_days_2_weeks_6_weeks_3_and_6_months():
    days = [day.isoformat() for _, day in rules.suggested(datetime.date(2026, 11, 30))]
    assert days == ["2026-12-03", "2026-12-14", "2027-01-11", "2027-02-28", "2027-05-30"]


def test_without_a_date_of_the_hand_off_nothing_is_suggested(build, coordinator):
    with pytest.raises(Refused, match="date of the hand-off first"):
        rules.suggest(build, coordinator)
    assert report(build).conditions[0].met is False


def test_suggested_contacts_meet_the_condition_and_are_added_once(build, coordinator):
    settle(build, coordinator)
    build = Build.objects.get(pk=build.pk)
    assert rules.suggest(build, coordinator) == 5
    assert rules.suggest(build, coordinator) == 0
    assert report(build).conditions[0].met is True


def test_contacts_after_the_first_two_weeks_do_not_count(build, coordinator):
    settle(build, coordinator)
    for days in (15, 30):
        day = timezone.localdate() + datetime.timedelta(days=days)
        PlannedContact.objects.create(build=build, kind="call", due_on=day, made_by=coordinator)
    assert report(build).conditions[0].met is False


def test_a_later_contact_changes_no_evidence_but_striking_a_first_one_does(build, coordinator):
    settle(build, coordinator)
    build = Build.objects.get(pk=build.pk)
    rules.suggest(build, coordinator)
    before = report(build).evidence[0].fields
    day = timezone.localdate() + datetime.timedelta(days=300)
    PlannedContact.objects.create(build=build, kind="visit", due_on=day, made_by=coordinator)
    assert report(build).evidence[0].fields == before
    build.contacts.first().strike(coordinator, "Wrong day")
    assert report(build).evidence[0].fields != before


def post(as_person, account, name, build, data, **more):
    return as_person(account).post(reverse(name, kwargs={"number": build.number, **more}), data)


@pytest.mark.parametrize("day", ["2020-01-01", "2090-01-01", "soon", ""])
def test_an_impossible_date_is_refused(build, coordinator, as_person, day):
    answer = post(as_person, coordinator, "contact_new", build, {"kind": "call", "due_on": day})
    assert answer.status_code == 422
    assert not build.contacts.exists()


def test_a_contact_is_done_once_and_not_in_the_future(build, coordinator, as_person):
    today = timezone.localdate()
    contact = PlannedContact.objects.create(build=build, kind="call", due_on=today, made_by=coordinator)
    late = {"done_on": today + datetime.timedelta(days=1), "outcome": "In use every day"}
    assert "must be today or earlier" in post(as_person, coordinator, "contact_done", build, late, pk=contact.pk).text
    now = {**late, "done_on": today}
    assert post(as_person, coordinator, "contact_done", build, now, pk=contact.pk).status_code == 302
    again = post(as_person, coordinator, "contact_done", build, now, pk=contact.pk)
    assert "recorded as done already" in again.text


def test_the_due_list_costs_the_same_for_one_and_for_three(
    build, coordinator, as_person, django_assert_max_num_queries
):
    client = as_person(coordinator)
    counts = []
    for _ in range(2):
        PlannedContact.objects.create(build=build, kind="call", due_on=timezone.localdate(), made_by=coordinator)
        with django_assert_max_num_queries(60) as asked:
            assert client.get(reverse("contacts_due")).status_code == 200
        counts.append(len(asked))
    assert counts[0] == counts[1]
