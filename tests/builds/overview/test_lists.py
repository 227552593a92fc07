"""Lists of work: a constant number of queries, and everybody sees their own."""

import pytest
from django.urls import reverse

from builds.demo import journey
from builds.demo.factories.clients import make_cleared_client
from builds.models import HoldRequest
from builds.record import releasing, rules
from builds.record.holds import Hold, Standing
from labsite.pages import navigation


def more(crew, count):
    return [journey.start("one-hand-stick", make_cleared_client(crew.coordinator), crew) for _ in range(count)]


def asked(build, crew):
    """A reviewer has been asked, whatever came up since."""
    HoldRequest.objects.create(build=build, hold=Hold.SOUND_UNIT, made_by=crew.builder)


LISTS = [
    ("my_builds", "builder"),
    ("builds", "coordinator"),
    ("board", "reviewer"),
    ("review_queue", "reviewer"),
    ("desk", "coordinator"),
]


@pytest.mark.parametrize(("name", "who"), LISTS)
def test_the_queries_do_not_grow_with_the_rows(
    as_person, crew, build, django_assert_num_queries, django_assert_max_num_queries, name, who
):
    asked(build, crew)
    browser = as_person(getattr(crew, who))
    with django_assert_max_num_queries(16) as one:
        assert build.number in browser.get(reverse(name)).content.decode()
    for other in more(crew, 2):
        asked(other, crew)
    with django_assert_num_queries(len(one)):
        assert other.number in browser.get(reverse(name)).content.decode()


def test_a_builder_sees_only_their_own_builds(as_person, other_builder, build):
    for name in ("my_builds", "builds"):
        assert build.number not in as_person(other_builder).get(reverse(name)).content.decode()


def test_a_builder_still_sees_a_build_that_was_put_on_hold(as_person, crew, build):
    rules.set_standing(build, Standing.ON_HOLD, crew.coordinator, "The family is away")
    page = as_person(crew.builder).get(reverse("my_builds")).content.decode()
    assert build.number in page and "The family is away" in page
    rules.set_standing(build, Standing.CANCELLED, crew.coordinator, "The family moved")
    assert build.number not in as_person(crew.builder).get(reverse("my_builds")).content.decode()


def test_the_queue_shows_what_was_asked_until_it_is_answered(as_person, crew, build):
    asked(build, crew)
    page = as_person(crew.reviewer).get(reverse("review_queue")).content.decode()
    assert reverse("hold_point", args=[build.number, Hold.SOUND_UNIT]) in page
    releasing.refuse(build, Hold.SOUND_UNIT, crew.reviewer, "No photo")
    page = as_person(crew.reviewer).get(reverse("review_queue")).content.decode()
    assert reverse("hold_point", args=[build.number, Hold.SOUND_UNIT]) not in page


@pytest.mark.parametrize(
    ("who", "name"), [("coordinator", "desk"), ("builder", "my_builds"), ("reviewer", "review_queue")]
)
def test_each_lands_on_a_page_of_their_own_work(as_person, crew, who, name):
    assert as_person(getattr(crew, who)).get(reverse("home"))["Location"] == reverse(name)


def test_the_board_shows_what_waits_for_a_reviewer_and_what_is_on_hold(as_person, crew, build, director):
    page = as_person(director).get(reverse("board")).content.decode()
    assert "Nothing waits for a reviewer." in page and "No build is on hold." in page
    stopped, cancelled = more(crew, 2)
    asked(build, crew)
    asked(stopped, crew)
    rules.set_standing(stopped, Standing.ON_HOLD, crew.coordinator, "The family is away")
    rules.set_standing(cancelled, Standing.CANCELLED, crew.coordinator, "The family moved")
    answer = as_person(director).get(reverse("board"))
    page = answer.content.decode()
    assert answer.context["waiting"] == [build] and answer.context["on_hold"] == [stopped]
    assert "Waiting for a reviewer: 1" in page and "On hold: 1" in page
    by_stage, held = page.split('id="on-hold"')
    assert build.number in by_stage and "Waits for a reviewer" in by_stage and stopped.number not in by_stage
    assert stopped.number in held and "The family is away" in held
    assert "Waits for a reviewer" not in held  # nobody reviews what is stopped
    assert cancelled.number not in page


def test_the_director_finds_what_waits_in_the_menu(as_person, director):
    assert (reverse("review_queue"), "To review") in navigation(director)
    answer = as_person(director).get(reverse("review_queue"))
    assert answer.status_code == 200
    assert "Builds you review" not in answer.content.decode()
