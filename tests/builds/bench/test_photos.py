import uuid

import pytest
from django.urls import reverse
from django.utils import timezone

from builds.bench.models import Section
from builds.bench.rules import record_result
from builds.demo.factories.bench import BuildStepFactory, drawn_photo
from builds.models import Photo
from builds.record.holds import Hold
from builds.record.photos import keep_photo
from builds.record.rules import Refused
from tests.builds.bench.making import consent, let_stand
from tests.builds.bench.test_record_result import phone_photo


@pytest.fixture
def photo(build, builder):
    return keep_photo(build, builder, drawn_photo(), caption="The unit from its left")


def add(client, build, **typed):
    sent = {"once": uuid.uuid4(), "photo": phone_photo(), "caption": "The rear axle", "shows_client": "no"}
    return client.post(reverse("photo_add", args=[build.number]), {**sent, **typed})


def fetch(client, build, photo):
    return client.get(reverse("photo", args=[build.number, photo.pk]))


def test_a_photo_goes_to_those_who_may_see_the_build(
    build, photo, coordinator, builder, other_builder, reviewer, director, as_person
):
    statuses = {
        one.full_name: fetch(as_person(one), build, photo).status_code
        for one in (coordinator, builder, reviewer, director, other_builder)
    }
    assert list(statuses.values()) == [200, 200, 200, 200, 404]
    assert fetch(as_person(None), build, photo).status_code == 302


def test_it_is_shown_in_the_page_and_kept_by_no_shared_cache(build, photo, builder, as_person):
    answer = fetch(as_person(builder), build, photo)
    assert answer["Content-Type"] == "image/jpeg"
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Cache-Control"].startswith("private")
    assert answer["Content-Disposition"].startswith("inline")
    assert b"".join(answer.streaming_content)[:2] == b"\xff\xd8"


def test_a_photo_is_not_fetched_through_another_build(build, opened_build, photo, builder, as_person):
    assert fetch(as_person(builder), opened_build, photo).status_code == 404


def test_a_photo_whose_file_is_gone_is_not_found(build, photo, builder, as_person):
    photo.file.storage.delete(photo.file.name)
    assert fetch(as_person(builder), build, photo).status_code == 404


def test_a_photo_is_added_to_the_record(build, builder, as_person):
    assert add(as_person(builder), build).status_code == 302
    kept = Photo.objects.get()
    assert (kept.caption, kept.made_by, kept.shows_client) == ("The rear axle", builder, False)
    page = as_person(builder).get(reverse("build_photos", args=[build.number])).content.decode()
    assert "The rear axle" in page


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"photo": ""}, "Choose the photo"),
        ({"caption": ""}, "Enter what it shows"),
        ({"caption": "c" * 100_000}, "What it shows must be 200 characters or fewer"),
        ({"shows_client": ""}, "Choose whether the client can be seen in the photo"),
    ],
)
def test_a_photo_lacking_something_is_refused(build, builder, as_person, typed, message):
    answer = add(as_person(builder), build, **typed)
    assert answer.status_code == 422
    assert message in answer.content.decode()
    assert not Photo.objects.exists()


def test_a_photo_of_the_client_needs_the_familys_consent(build, builder, coordinator, as_person):
    answer = add(as_person(builder), build, shows_client="yes")
    assert answer.status_code == 422
    assert "The family has not agreed to photos for the record" in answer.content.decode()
    assert not Photo.objects.exists()
    consent(build, coordinator)
    assert add(as_person(builder), build, shows_client="yes").status_code == 302
    assert Photo.objects.get().shows_client


def test_a_withdrawn_consent_hides_the_photos_of_the_client(build, builder, coordinator, as_person):
    given = consent(build, coordinator)
    kept = keep_photo(build, builder, drawn_photo(), caption="Seated", shows_client=True)
    client = as_person(builder)
    assert fetch(client, build, kept).status_code == 200
    given.withdrawn_on = timezone.localdate()
    given.save(update_fields=["withdrawn_on"])
    assert fetch(client, build, kept).status_code == 403
    page = client.get(reverse("build_photos", args=[build.number])).content.decode()
    assert reverse("photo", args=[build.number, kept.pk]) + '"' not in page
    assert "consent to photos for the record is not in force" in page


def test_the_rule_keeps_no_photo_of_the_client_without_consent(build, builder, coordinator):
    consent(build, coordinator, given=False)
    with pytest.raises(Refused):
        keep_photo(build, builder, drawn_photo(), shows_client=True)


def test_at_the_fitting_it_is_asked_whether_the_client_can_be_seen(opened_build, builder, reviewer, as_person):
    step = BuildStepFactory(build=opened_build, section=Section.FITTING)
    let_stand(opened_build, reviewer, Hold.SOUND_UNIT, Hold.FIRST_POWER, Hold.FIRST_RIDE)
    address = reverse("step_record", args=[opened_build.number, step.pk])
    for seen, said in (("", "Choose whether the client can be seen"), ("yes", "The family has not agreed to photos")):
        sent = {"once": uuid.uuid4(), "outcome": "passed", "photo": phone_photo(), "shows_client": seen}
        answer = as_person(builder).post(address, sent)
        assert answer.status_code == 422
        assert said in answer.content.decode()
    assert not Photo.objects.exists()
    sent = {"once": uuid.uuid4(), "outcome": "passed", "photo": phone_photo(), "shows_client": "no"}
    assert as_person(builder).post(address, sent).status_code == 302


def strike(client, build, photo, reason="It shows a face"):
    address = reverse("photo_strike", args=[build.number, photo.pk])
    return client.post(address, {"once": uuid.uuid4(), "reason": reason})


def test_a_struck_photo_is_shown_to_the_desk_only(build, photo, builder, coordinator, reviewer, director, as_person):
    assert strike(as_person(builder), build, photo).status_code == 302
    people = (coordinator, director, builder, reviewer)
    assert [fetch(as_person(one), build, photo).status_code for one in people] == [200, 200, 403, 403]
    page = as_person(builder).get(reverse("build_photos", args=[build.number])).content.decode()
    assert "It shows a face" in page


def test_a_photo_that_a_result_stands_on_is_not_struck(build, builder, as_person):
    step = BuildStepFactory(build=build, needs_photo=True)
    result = record_result(step, builder, outcome="passed", photo_file=drawn_photo())
    answer = strike(as_person(builder), build, result.photo)
    assert answer.status_code == 422
    assert "Strike the result first" in answer.content.decode()


def test_striking_a_photo_needs_a_reason_and_the_right_person(
    build, photo, builder, reviewer, other_builder, as_person
):
    assert strike(as_person(builder), build, photo, "").status_code == 422
    assert [strike(as_person(one), build, photo).status_code for one in (reviewer, other_builder)] == [403, 404]
    photo.refresh_from_db()
    assert not photo.is_struck


def test_a_photo_may_be_meant_for_the_family_s_guide_when_it_shows_nobody(build, builder, coordinator, as_person):
    assert add(as_person(builder), build, on_guide="on").status_code == 302
    assert Photo.objects.get().on_guide
    consent(build, coordinator)
    refused = add(as_person(builder), build, on_guide="on", shows_client="yes")
    assert refused.status_code == 422 and b"Take a photo of the unit without the client" in refused.content
    assert Photo.objects.count() == 1
