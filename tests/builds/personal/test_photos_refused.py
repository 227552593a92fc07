"""The lab keeps photos that show the client only as far as the family says yes."""

import uuid

import pytest
from django.core.files.storage import default_storage
from django.urls import reverse
from django.utils import timezone

from builds.demo.factories import clients as make
from builds.demo.factories.bench import drawn_photo
from builds.papers.family import links
from builds.papers.family import rules as family
from builds.papers.family.models import FamilyReport
from builds.record import photos
from clients.models import Consent
from tests.clients.builds import make_build
from tests.clients.conftest import send

PURPOSE = Consent.Purpose.PHOTO_RECORD


@pytest.fixture
def client_of_lab(lab, coordinator):
    return make.make_cleared_client(coordinator)


@pytest.fixture
def consent(client_of_lab, coordinator):
    return make.ConsentFactory(client=client_of_lab, made_by=coordinator, purpose=PURPOSE)


@pytest.fixture
def kept(consent, client_of_lab, coordinator, builder):
    """A photo of the client, one of the unit, and three of reports: name -> whether it may show the client."""
    build = make_build(client_of_lab, builder, stage="in_use")
    rows = {
        photos.keep_photo(build, builder, drawn_photo("Smile"), shows_client=True).file.name: True,
        photos.keep_photo(build, builder, drawn_photo("Wheel")).file.name: False,
    }
    link = links.make_link(build, coordinator, days=9).link
    for shows in ("yes", "unknown", "no"):
        told = family.report(link, text="It squeaks", hurt="no", photo=drawn_photo(shows), shows_client=shows)
        rows[told.photo.name] = shows != "no"
    return rows


def still_there(kept):
    return {name for name in kept if default_storage.exists(name)}


def withdraw(desk, consent):
    address = reverse("consent_withdraw", args=[consent.client.case_code, consent.pk])
    return send(desk, address, withdrawn_note="By telephone")


def test_a_yes_taken_back_deletes_what_may_show_the_client(
    as_person, coordinator, consent, kept, django_capture_on_commit_callbacks
):
    assert still_there(kept) == set(kept)
    desk = as_person(coordinator)
    page = desk.get(reverse("consent_withdraw", args=[consent.client.case_code, consent.pk])).text
    assert "deletes those in which the client may be seen, for good" in page
    with django_capture_on_commit_callbacks(execute=True):
        answer = withdraw(desk, consent)
    assert answer.status_code == 302
    assert still_there(kept) == {name for name, shows in kept.items() if not shows}
    assert "Deleted: 3 photos in which the client may be seen." in desk.get(answer["Location"]).text
    assert FamilyReport.objects.filter(photo="", photo_refused=True).count() == 2


def test_a_no_deletes_them_too(as_person, coordinator, consent, kept, django_capture_on_commit_callbacks):
    said = {"purpose": PURPOSE, "given": "False", "version": "2", "signer": "E. Castellan", "once": uuid.uuid4()}
    address = reverse("consent_new", args=[consent.client.case_code])
    with django_capture_on_commit_callbacks(execute=True):
        answer = as_person(coordinator).post(address, {**said, "signed_on": timezone.localdate()})
    assert answer.status_code == 302 and len(still_there(kept)) == 2


def test_another_consent_deletes_none(as_person, coordinator, consent, kept, django_capture_on_commit_callbacks):
    other = make.ConsentFactory(client=consent.client, made_by=coordinator, purpose=Consent.Purpose.PHOTO_TEACHING)
    with django_capture_on_commit_callbacks(execute=True):
        assert withdraw(as_person(coordinator), other).status_code == 302
    assert still_there(kept) == set(kept)


def test_what_was_refused_deletes_nothing(as_person, coordinator, consent, kept, django_capture_on_commit_callbacks):
    address = reverse("consent_withdraw", args=[consent.client.case_code, consent.pk])
    with django_capture_on_commit_callbacks(execute=True):
        assert send(as_person(coordinator), address, withdrawn_on="1999-01-01").status_code == 422
    assert still_there(kept) == set(kept)


def test_the_page_of_the_photos_still_opens(
    as_person, coordinator, builder, consent, kept, django_capture_on_commit_callbacks
):
    with django_capture_on_commit_callbacks(execute=True):
        withdraw(as_person(coordinator), consent)
    (build,) = consent.client.builds.all()
    for account in (coordinator, builder):
        assert "is erased" in as_person(account).get(reverse("build_photos", args=[build.number])).text
    assert as_person(coordinator).get(reverse("family_links", args=[build.number])).status_code == 200
