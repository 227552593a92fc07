"""What we keep about your child: true when it is printed, and replaced when an answer or a kind of thing changes."""

import pytest
from django.utils import timezone

from builds.demo.factories import clients as make
from builds.papers import keeping, rules
from builds.papers.models import PaperKind
from builds.record.models import Build, Task
from clients.models import Consent
from tests.builds.papers.test_workshop_papers import text_of


@pytest.fixture
def copies(ready, coordinator):
    """A copy of what we keep, and a use guide that must not be touched by it."""
    return [rules.issue(ready, kind, coordinator) for kind in (PaperKind.WHAT_WE_KEEP, PaperKind.USE_GUIDE)]


def standing(copies):
    for one in copies:
        one.refresh_from_db()
    return [one.is_current for one in copies]


def agree(build, coordinator, purpose, given=True):
    return make.ConsentFactory(client=build.client, made_by=coordinator, purpose=purpose, given=given)


def test_a_consent_given_replaces_this_paper_only(ready, coordinator, copies):
    agree(ready, coordinator, Consent.Purpose.PHOTO_RECORD)
    assert standing(copies) == [False, True]
    (change,) = copies[0].superseded_changes
    assert change.startswith("Answer to “Photos for the record”: answer was Not asked: no, now Yes ")
    assert copies[0] in rules.to_collect(Build.objects.get(pk=ready.pk))


def test_a_consent_taken_back_replaces_it_again(ready, coordinator, copies):
    consent = agree(ready, coordinator, Consent.Purpose.PHOTO_TEACHING)
    again = rules.issue(Build.objects.get(pk=ready.pk), PaperKind.WHAT_WE_KEEP, coordinator)
    consent.withdrawn_on = timezone.localdate()
    consent.save(update_fields=["withdrawn_on"])
    assert standing([again, copies[1]]) == [False, True]
    assert "You took it back: no" in again.superseded_changes[0]


def test_taking_back_a_yes_to_photos_asks_nobody_to_stop_the_use(ready, coordinator, copies):
    """The hand-off stands on what it asks for: the service and the measures."""
    asked = [one.evidence["consent"] for one in ready.hold_decisions.all() if "consent" in one.evidence]
    consent = agree(ready, coordinator, Consent.Purpose.PHOTO_PUBLICITY)
    consent.withdrawn_on = timezone.localdate()
    consent.save(update_fields=["withdrawn_on"])
    assert not Task.objects.filter(build=ready).exists()
    assert not ready.hold_decisions.exclude(voided_at=None).exists()
    assert all(set(one["fields"]["given"]) == {"The service itself", "Taking and keeping measures"} for one in asked)


def test_a_new_kind_of_thing_replaces_it_and_another_of_that_kind_does_not(ready, coordinator, copies):
    ready.client.goals.all().delete()
    assert standing(copies) == [False, True]
    assert copies[0].superseded_changes == ["What we keep: The goals you told us was taken away"]
    again = rules.issue(Build.objects.get(pk=ready.pk), PaperKind.WHAT_WE_KEEP, coordinator)
    make.GoalFactory(client=ready.client, made_by=coordinator)
    assert standing([again]) == [False]
    last = rules.issue(Build.objects.get(pk=ready.pk), PaperKind.WHAT_WE_KEEP, coordinator)
    make.GoalFactory(client=ready.client, made_by=coordinator, text="Waits at the gate")
    assert standing([last]) == [True]


def test_an_address_that_is_first_written_down_replaces_it(ready, coordinator):
    person = ready.client.person
    person.address = ""
    person.save(update_fields=["address"])
    copy = rules.issue(Build.objects.get(pk=ready.pk), PaperKind.WHAT_WE_KEEP, coordinator)
    person.address = "4 Marrowbone Row"
    person.save(update_fields=["address"])
    copy.refresh_from_db()
    assert copy.superseded_changes == ["What we keep: Your address was added"]
    person.address = "5 Marrowbone Row"
    person.save(update_fields=["address"])
    assert len(copy.superseded_changes) == 1


def test_the_evidence_holds_kinds_and_no_things(ready):
    person, adult = ready.client.person, ready.client.caregivers.first()
    told = str(list(keeping.evidence(ready.client)))
    for secret in (person.given_name, person.family_name, adult.name, adult.phone, str(person.birth_date)):
        assert secret not in told


def test_the_paper_says_how_to_have_it_erased_and_what_stays(ready):
    text = text_of("what_we_keep", ready)
    assert "you may ask us to erase your file" in text
    assert "It holds a case code and no name." in text
    assert "Old safety copies hold it for a while." in text
