"""Calls and reports of before are known by the words that they were written in."""

from datetime import timedelta
from importlib import import_module

import pytest
from django.apps import apps
from django.utils import timezone

from builds.demo.factories.clients import make_cleared_client
from builds.papers.family import links, rules
from builds.papers.family.models import FamilyReport
from builds.record.models import Build, Problem, Task
from tests.clients.builds import make_build

ANSWERS = [(hurt, danger) for hurt in ("yes", "no", "unknown") for danger in ("yes", "no", "unknown")]


@pytest.fixture
def known(lab, coordinator):
    return make_cleared_client(coordinator)


@pytest.fixture
def build(known, builder):
    return make_build(known, builder, stage="in_use")


@pytest.fixture
def link(build, coordinator):
    return links.make_link(build, coordinator, days=9).link


def know():
    import_module("builds.migrations.0017_calls_as_data").known_by_words(apps, None)


def forget():
    """The rows as they were before there was anything but words."""
    Task.objects.update(stops_use=False, problem=None)
    FamilyReport.objects.update(danger="unknown")


def calls():
    return list(Task.objects.order_by("pk").values_list("stops_use", "problem"))


def test_every_answer_is_known_again_except_a_no_that_was_never_written_down(link):
    for hurt, danger in ANSWERS:
        rules.report(link, text=f"It hums {hurt} {danger}", hurt=hurt, danger=danger)
    before = calls()
    assert len({problem for _, problem in before}) == len(ANSWERS)
    assert [stops for stops, _ in before] == [(hurt, danger) != ("no", "no") for hurt, danger in ANSWERS]
    forget()
    know()
    assert calls() == before
    told = FamilyReport.objects.order_by("pk").values_list("hurt", "danger")
    assert list(told) == [(hurt, "unknown" if danger == "no" else danger) for hurt, danger in ANSWERS]


def test_what_the_lab_stopped_was_told_by_no_family(link, build):
    problem = rules.report(link, text="It hums", hurt="no", danger="no").problem
    for why in (
        "On hold: a crack",
        "The family is away",
        "Void: First ride. The family reports that somebody is hurt.",
    ):
        Task.objects.stop_use(build, why)
    forget()
    know()
    assert calls() == [(False, problem.pk), *[(True, None)] * 3]


def test_words_of_others_are_taken_for_nothing(link, build, coordinator):
    """Neither what merely begins alike, nor what a family itself writes, nor a problem that the lab wrote."""
    said = "It hums. Family link 1. Anyone hurt: no. Smoke, fire, heat or moving by itself: yes."
    kept = rules.report(link, text=said, hurt="no", danger="no")
    own = Task.objects.create(build=build, text=f"Look at it: {Task.objects.get().text}", due_on=timezone.localdate())
    Task.objects.exclude(pk=own.pk).delete()
    for text in ("Call the family today about a screw", "call the family today: stop use of a bag"):
        Task.objects.create(build=build, text=text, due_on=timezone.localdate())
    forget()
    know()
    kept.refresh_from_db()
    assert calls() == [(False, None)] * 3 and kept.danger == "unknown"
    Problem.objects.update(made_by=coordinator)
    Task.objects.stop_use(build, "The family reports that somebody is hurt. It fell")
    forget()
    know()
    assert calls()[-1] == (True, None)


@pytest.mark.parametrize(("apart", "is_joined"), [(-1, False), (0, True), (59, True), (61, False)])
def test_a_call_is_joined_to_the_problem_that_was_written_just_before_it(link, build, apart, is_joined):
    problem = rules.report(link, text="It hums", hurt="yes", danger="no").problem
    Problem.objects.update(made_at=problem.made_at - timedelta(days=2))
    Task.objects.update(made_at=problem.made_at - timedelta(days=2) + timedelta(seconds=apart))
    forget()
    know()
    assert calls() == [(True, problem.pk if is_joined else None)]


def test_two_reports_of_one_moment_and_one_of_another_build_keep_their_calls(link, known, builder, coordinator):
    other = make_build(known, builder, stage="in_use")
    for one in (link, links.make_link(other, coordinator, days=9).link, link):
        rules.report(one, text="It hums", hurt="yes", danger="no")
    before, now = calls(), timezone.now()
    Problem.objects.update(made_at=now)
    Task.objects.update(made_at=now)
    forget()
    know()
    assert calls() == before


def test_a_problem_whose_words_are_erased_still_says_what_they_answered(link, build):
    kept = rules.report(link, text="It hums", hurt="no", danger="yes")
    for row in (kept.problem, kept.problem.tasks.get()):
        row.text = rules.without_their_words(row.text)
        row.save(update_fields=["text"])
    before = calls()
    forget()
    know()
    kept.refresh_from_db()
    assert kept.danger == "yes" and calls() == before == [(True, kept.problem_id)]


# Which call first


GRAVE = [("no", "unknown"), ("no", "yes"), ("unknown", "yes"), ("yes", "no")]  # as answered, the gravest last


def test_the_gravest_call_is_made_first_whenever_it_came(link, build):
    void = Task.objects.stop_use(build, "Void: First ride")
    told = [rules.report(link, text="It hums", hurt=hurt, danger=danger) for hurt, danger in (("no", "no"), *GRAVE)]
    wanted = [*(one.problem.tasks.get() for one in reversed(told[1:])), void, told[0].problem.tasks.get()]
    assert list(Task.objects.to_do()) == wanted
    assert Build.objects.get(pk=build.pk).urgent_tasks() == wanted[:-1]


def test_a_call_of_before_is_as_grave_as_the_answers(link, build):
    Task.objects.stop_use(build, "Void: First ride")
    for hurt, danger in (("no", "no"), *GRAVE):
        rules.report(link, text="It hums", hurt=hurt, danger=danger)
    told = list(Task.objects.order_by("pk").values_list("gravity", flat=True))
    assert told == [1, 0, 2, 3, 4, 5]
    Task.objects.update(gravity=0)
    import_module("builds.migrations.0019_gravity_of_calls").from_the_reports(apps, None)
    assert list(Task.objects.order_by("pk").values_list("gravity", flat=True)) == told
