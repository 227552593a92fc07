"""A form of many rows: what stands on them is looked at once, when all are saved, and told of all that changed."""

import pytest
from django.urls import reverse

from builds.demo.factories.papers import make_build_with_papers_due
from builds.record import voiding
from builds.record.holds import Hold
from builds.record.models import Build
from clients import hooks
from clients.models import CautionAnswer
from tests.clients.conftest import send

pytestmark = pytest.mark.django_db


@pytest.fixture
def build(lab, coordinator, reviewer):
    return make_build_with_papers_due(coordinator=coordinator, reviewer=reviewer)


@pytest.fixture
def rechecked(monkeypatch):
    """The builds that are looked at, one entry for each time."""
    seen, recheck = [], voiding.recheck
    monkeypatch.setattr(voiding, "recheck", lambda build, *more: seen.append(build.pk) or recheck(build, *more))
    return seen


def test_two_changed_cautions_void_once_and_both_are_told(build, coordinator, as_person, rechecked):
    typed = {"seizures": "yes", "seizures_plan": "Medicine in the pocket", "shunt": "yes", "shunt_plan": "No bumps"}
    address = reverse("cautions_edit", args=[build.client.case_code])
    assert send(as_person(coordinator), address, **typed).status_code == 302
    release = build.hold_decisions.get(hold=Hold.FIRST_RIDE)
    told = " ".join(release.void_changes)
    assert release.voided_at and "Seizures" in told and "Shunt" in told
    assert set(rechecked) == {build.pk}
    assert len(rechecked) == 1


def test_a_fault_among_many_rows_keeps_none_of_them(build):
    answer = CautionAnswer.objects.filter(client=build.client).first()
    with pytest.raises(ZeroDivisionError), hooks.saved_together():
        answer.give("yes", "Kept only if all are", build.made_by)
        1 / 0  # noqa: B018
    answer.refresh_from_db()
    assert answer.plan != "Kept only if all are"
    assert not Build.objects.get(pk=build.pk).hold_decisions.filter(voided_at__isnull=False).exists()
