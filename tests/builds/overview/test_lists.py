"""Lists of work: a constant number of queries, and everybody sees their own."""

import pytest
from django.urls import reverse

from builds.demo import journey
from builds.demo.factories.clients import make_cleared_client
from builds.record import releasing
from builds.record.holds import Hold


def more(crew, count):
    return [journey.start("one-hand-stick", make_cleared_client(crew.coordinator), crew) for _ in range(count)]


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
    releasing.ask(build, Hold.SOUND_UNIT, crew.builder)
    browser = as_person(getattr(crew, who))
    with django_assert_max_num_queries(16) as one:
        assert build.number in browser.get(reverse(name)).content.decode()
    for other in more(crew, 2):
        releasing.ask(other, Hold.SOUND_UNIT, crew.builder)
    with django_assert_num_queries(len(one)):
        assert other.number in browser.get(reverse(name)).content.decode()


def test_a_builder_sees_only_their_own_builds(as_person, other_builder, build):
    for name in ("my_builds", "builds"):
        assert build.number not in as_person(other_builder).get(reverse(name)).content.decode()


def test_the_queue_shows_what_was_asked_until_it_is_answered(as_person, crew, build):
    releasing.ask(build, Hold.SOUND_UNIT, crew.builder)
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
