"""Goals are scored day by day; the first score is the baseline, and from then on the goal stays as it is."""

import datetime
import uuid

import pytest
from django.db import IntegrityError, connection, transaction
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from builds.demo.factories import clients as make
from clients import goal_scores
from clients.models import Goal, GoalScore
from tests.clients.builds import make_build
from tests.clients.conftest import at, errors, send


def day(ago):
    return timezone.localdate() - datetime.timedelta(days=ago)


@pytest.fixture
def goals(known, coordinator):
    """Two goals, with the weights 6 and 2."""
    made = {"client": known, "made_by": coordinator}
    return [make.GoalFactory(**made), make.GoalFactory(**made, text="Waits at the gate", importance=1, difficulty=2)]


def score(goal, level, ago, coordinator):
    return make.GoalScoreFactory(goal=goal, level=level, on=day(ago), made_by=coordinator)


def days(client):
    return goal_scores.days_of(client.goals.with_scores())


def test_all_goals_of_a_day_are_scored_on_one_page(desk, known, goals, coordinator):
    first, second = goals
    send(
        desk, at("goal_scores_new", known), on=str(day(3)), scored_by="Joanna Pell",
        **{f"level_{first.pk}": "-2", f"note_{first.pk}": "Looked on", f"level_{second.pk}": "0"},
    )  # fmt: skip
    rows = {row.goal: row for row in GoalScore.objects.all()}
    assert {goal.pk: row.level for goal, row in rows.items()} == {first.pk: -2, second.pk: 0}
    row = rows[first]
    assert (row.on, row.scored_by, row.note, row.made_by) == (day(3), "Joanna Pell", "Looked on", coordinator)


def test_expected_is_a_score_and_not_nothing(desk, known, goals):
    """A level of 0 is falsy and still a score."""
    send(desk, at("goal_scores_new", known), **{f"level_{goals[0].pk}": "0"})
    assert GoalScore.objects.get().level == 0


def test_a_page_without_any_level_is_refused(desk, known, goals):
    refused = errors(send(desk, at("goal_scores_new", known)))
    assert refused == {f"level_{goals[0].pk}": ["Score one goal or more"]}


def test_a_note_without_a_level_is_asked_about_and_not_lost(desk, known, goals):
    first, second = goals
    answer = send(desk, at("goal_scores_new", known), **{f"level_{first.pk}": "1", f"note_{second.pk}": "Waited"})
    assert "Choose a level for Waits at the gate" in errors(answer)[f"level_{second.pk}"][0]
    assert not GoalScore.objects.exists()


@pytest.mark.parametrize(("ago", "words"), [(-1, "or earlier"), (9000, "or later, the client's birth date")])
def test_a_day_that_cannot_be_is_refused(ago, words, desk, known, goals):
    answer = send(desk, at("goal_scores_new", known), on=str(day(ago)), **{f"level_{goals[0].pk}": "1"})
    assert words in errors(answer)["on"][0]


@pytest.mark.parametrize(("ago", "words"), [(10, "is scored on"), (11, "The baseline of")])
def test_no_second_score_of_a_day_and_none_before_the_baseline(ago, words, desk, known, goals, coordinator):
    score(goals[0], -2, 10, coordinator)
    answer = send(desk, at("goal_scores_new", known), on=str(day(ago)), **{f"level_{goals[0].pk}": "1"})
    assert words in errors(answer)[f"level_{goals[0].pk}"][0]
    assert GoalScore.objects.count() == 1


def test_the_database_keeps_one_standing_score_a_day(goals, coordinator):
    score(goals[0], -2, 10, coordinator).strike(coordinator, "Another child")
    score(goals[0], -1, 10, coordinator)
    with pytest.raises(IntegrityError), transaction.atomic():
        score(goals[0], 0, 10, coordinator)


def test_nothing_to_score_is_no_page(desk, known):
    assert desk.get(at("goal_scores_new", known)).status_code == 404


def test_a_goal_with_a_baseline_is_frozen(desk, known, goals, coordinator):
    first, second = goals
    send(desk, at("goal_edit", known, first.pk), more="Waits for the others")
    score(first, -2, 10, coordinator)
    address = at("goal_edit", known, first.pk)
    assert desk.get(address).status_code == 403
    answer = desk.post(address, {"text": "Easier", "expected": "Easier", "importance": 1, "difficulty": 1,
                                 "once": uuid.uuid4()})  # fmt: skip
    assert answer.status_code == 403
    assert b"strike it and add a new one" in answer.content
    assert Goal.objects.get(pk=first.pk).text == first.text
    page = desk.get(at("client_page", known)).content.decode()
    assert "Frozen: its baseline is of" in page
    assert f'href="{at("goal_edit", known, first.pk)}"' not in page
    assert f'href="{at("goal_edit", known, second.pk)}"' in page


def test_striking_the_only_score_thaws_the_goal(desk, known, goals, coordinator):
    row = score(goals[0], -2, 10, coordinator)
    send(desk, at("goal_score_strike", known, row.pk), reason="Another child's score")
    assert desk.get(at("goal_edit", known, goals[0].pk)).status_code == 200
    assert b"Another child&#x27;s score" in desk.get(at("client_page", known)).content
    assert days(known) == []


def test_a_score_is_not_struck_from_another_client_s_page(desk, known, goals, cleared, coordinator):
    row = score(goals[0], -2, 10, coordinator)
    assert desk.get(at("goal_score_strike", cleared, row.pk)).status_code == 404


def test_t_of_a_day_is_weighted_with_importance_times_difficulty(known, goals, coordinator):
    """By hand: 50 + 10 (6 - 2 x 2) / sqrt(0.7 (36 + 4) + 0.3 x 64) = 50 + 20 / sqrt(47.2); source of the form:
    Kiresuk and Sherman 1968."""
    score(goals[0], 1, 10, coordinator)
    score(goals[1], -2, 10, coordinator)
    (only,) = days(known)
    assert only.t == pytest.approx(50 + 20 / 47.2**0.5)
    assert only.is_baseline and only.change is None


def test_later_days_are_told_against_the_baseline(desk, known, goals, coordinator):
    """Derived: T lies as far above 50 for all at +1 as below it for all at -1."""
    for ago, levels in ((30, (-1, -1)), (20, (0, 0)), (2, (1, 1))):
        for goal, level in zip(goals, levels, strict=True):
            score(goal, level, ago, coordinator)
    first, second, third = days(known)
    assert second.t == 50
    assert second.change == pytest.approx(50 - first.t)
    assert third.change == pytest.approx(2 * second.change)
    page = desk.get(at("client_page", known)).content.decode()
    assert "the baseline" in page and "over-time-baseline" in page and f"+{second.change:.1f}" in page


def test_a_goal_left_out_makes_the_day_unknown_and_is_named(desk, known, goals, coordinator):
    for goal in goals:
        score(goal, -2, 10, coordinator)
    score(goals[0], 1, 2, coordinator)
    later = days(known)[-1]
    assert (later.t, later.change, later.finding.missing) == (None, None, "the score of: Waits at the gate")
    assert b"Missing: the score of: Waits at the gate" in desk.get(at("client_page", known)).content


def test_a_goal_that_came_later_is_not_compared_with_the_baseline(known, goals, coordinator):
    score(goals[0], -2, 10, coordinator)
    score(goals[0], 1, 2, coordinator)
    score(goals[1], 1, 2, coordinator)
    later = days(known)[-1]
    assert later.t is not None
    assert (later.same_goals, later.change) == (False, None)
    assert "do not compare" in later.set_in_words


def test_a_struck_goal_counts_no_more(known, goals, coordinator):
    for goal in goals:
        score(goal, -2, 10, coordinator)
    goals[1].strike(coordinator, "Not a goal of the family")
    (only,) = days(known)
    assert [goal for goal, _ in only.scores] == [goals[0]]


def test_builders_see_no_scores(known, goals, coordinator, builder, as_person):
    make_build(known, builder)
    score(goals[0], -2, 10, coordinator)
    page = as_person(builder).get(at("client_page", known)).content.decode()
    assert "Scores over time" not in page and goals[0].text not in page


def test_every_score_is_in_the_trail_of_its_client(desk, known, goals):
    send(desk, at("goal_scores_new", known), **{f"level_{goals[0].pk}": "1"})
    trail = desk.get(reverse("client_trail", args=[known.case_code])).context["changes"]
    assert ("goal score", "create") in [(one["what"], one["action"]) for one in trail]


def test_more_goals_and_scores_take_no_more_queries(desk, known, goals, coordinator, django_assert_num_queries):
    score(goals[0], -2, 30, coordinator)
    address = at("client_page", known)
    desk.get(address)
    with CaptureQueriesContext(connection) as few:
        desk.get(address)
    for ago in (20, 10, 5):
        for goal in goals:
            score(goal, 0, ago, coordinator)
    with django_assert_num_queries(len(few)):
        desk.get(address)
