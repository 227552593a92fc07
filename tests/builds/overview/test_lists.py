"""Lists of work: a constant number of queries, and everybody sees their own."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from builds.demo import journey
from builds.demo.factories.clients import make_cleared_client
from builds.models import HoldRequest, Task
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
    as_person, crew, build, django_assert_num_queries, django_assert_max_num_queries, name, who, reported
):
    asked(build, crew)
    reported(build)
    browser = as_person(getattr(crew, who))
    with django_assert_max_num_queries(16) as one:
        assert build.number in browser.get(reverse(name)).content.decode()
    for other in more(crew, 2):
        asked(other, crew)
        reported(other)
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


def test_the_desk_begins_with_the_call_that_stops_a_use(as_person, crew, build, reported):
    earlier = timezone.localdate() - timedelta(days=9)
    screws = Task.objects.create(build=build, text="Order two screws.", due_on=earlier)
    call = reported(build)
    answer = as_person(crew.coordinator).get(reverse("desk"))
    assert list(answer.context["tasks"]) == [call, screws]
    first, second = answer.content.decode().split("<h2>To do</h2>")[1].split("<li>")[1:3]
    assert 'state-word">Urgent: call today' in first and "<svg" in first and "somebody is hurt" in first
    assert "Urgent" not in second and "Order two screws" in second
    call.finish(crew.coordinator, "Called them")
    assert "Urgent: call today" not in as_person(crew.coordinator).get(reverse("desk")).content.decode()


def test_what_begins_as_such_a_call_does_comes_after_it(crew, build, reported):
    """A call stops the use since a rule says so, not by the words that somebody chose."""
    call = reported(build)
    earlier = timezone.localdate() - timedelta(days=9)
    alike = Task.objects.create(build=build, text=call.text, due_on=earlier)
    assert not alike.is_urgent and not alike.told_by_the_family
    assert list(Task.objects.to_do()) == [call, alike]
    call.text = "Ring them"
    call.save(update_fields=["text"])
    assert call.is_urgent and list(Task.objects.to_do()) == [call, alike]


def test_a_call_that_was_made_is_no_longer_to_do(crew, build, reported):
    call = reported(build)
    call.finish(crew.coordinator, "Called them")
    assert call.stops_use and not call.is_urgent
    assert not Task.objects.to_do().exists() and build.urgent_tasks() == [] and build.call_today() == ""


def test_the_end_of_a_problem_is_not_the_end_of_its_call(crew, build, reported):
    """Whoever strikes or settles a line of the log has not called the family."""
    struck, settled = reported(build), reported(build, text="It fell over")
    struck.problem.strike(crew.builder, "Of another unit")
    settled.problem.settle(crew.builder, "A screw was tightened")
    assert list(Task.objects.to_do()) == [struck, settled]
    assert build.call_today() == "Family reported a problem: call today"
    struck.problem.delete()
    (left, _) = Task.objects.to_do()
    assert left.problem is None and left.is_urgent and not left.told_by_the_family


FAMILY, LAB = "Family reported a problem: call today", "Stop use: call the family today"


@pytest.mark.parametrize(
    ("call_for", "said"),
    [
        (lambda build, reported: reported(build, hurt="yes"), FAMILY),
        (lambda build, reported: reported(build, hurt="unknown"), FAMILY),
        (lambda build, reported: reported(build, hurt="no", danger="yes"), FAMILY),
        (lambda build, _: Task.objects.stop_use(build, "On hold: a crack was found on the same type"), LAB),
        (lambda build, _: Task.objects.stop_use(build, "The family reports that somebody is hurt."), LAB),
    ],
)
def test_the_row_of_the_board_says_that_the_family_must_be_called(as_person, crew, build, reported, call_for, said):
    def row():
        page = as_person(crew.reviewer).get(reverse("board")).content.decode()
        return page.split(f">{build.number}</a>")[1].split("</tr>")[0]

    assert 'state-word">Open' in row() and "call" not in row()
    call = call_for(build, reported)
    assert f'state-word">{said}' in row() and 'state-word">Open' not in row()
    call.finish(crew.coordinator, "Called them")
    assert 'state-word">Open' in row() and "call" not in row()
