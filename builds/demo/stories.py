"""The builds of the demo lab that the family has, or had. Each function tells one story and returns its build."""

from datetime import timedelta

from django.utils import timezone

from builds.demo import journey
from builds.demo.factories.clients import GoalFactory, GoalScoreFactory, MeasureFactory
from builds.demo.families import cleared
from builds.followup import rules as contacts
from builds.papers.models import HandOff
from builds.record import rules
from builds.record.holds import Stage

HANDED_OFF_AFTER = 38  # days from the start of a build to its hand-off


def hand_off_build(clock, crew, plan, family, started, *, terms=HandOff.Terms.LOAN, **settings):
    """A build from its start to the family, that many days ago."""
    clock.go_to(started)
    client = cleared(family, crew.coordinator, expires_on=in_days(360))
    pace = clock.pace_of(started)
    build = journey.start(plan, client, crew, **settings)
    journey.take_to(build, Stage.HAND_OFF, crew, pace)
    journey.through_hand_off(build, crew, pace, terms=terms)
    clock.go_to(started - HANDED_OFF_AFTER)
    return build


def in_days(days):
    return timezone.localdate() + timedelta(days=days)


def reach_family(build, account, outcome, done_on=None):
    """The next dated contact takes place."""
    contact = build.contacts.coming().order_by("due_on", "pk").first()
    contacts.finish(contact, account, done_on=done_on or timezone.localdate(), outcome=outcome)


def overdue_for_contact(clock, people):
    """A Spanish-speaking family; the second call is overdue. Its builder has graduated."""
    crew = people.crew(builder="tomas", second="pia")
    build = hand_off_build(clock, crew, "one-hand-stick", "quintero", HANDED_OFF_AFTER + 25)
    clock.go_to(22)
    reach_family(build, people.nadia, "She drives to the gate and back. The straps are fine.")
    return build


def outgrown_soon(clock, people):
    """The client grew: little is left of the rated load, though nothing is void yet. The goals were scored thrice."""
    crew = people.crew(builder="pia", second="ben", reviewer="samir")
    build = hand_off_build(clock, crew, "press-switch", "hartwig", HANDED_OFF_AFTER + 50)
    clock.go_to(51)
    goals = goals_of(build.client, people.nadia)
    score(goals, people.nadia, -2, -1)
    for days_ago, outcome, levels in (
        (47, "Uses it every day after school.", None), (36, "No trouble. The charging light works.", (-1, 0)),
        (8, "Visited. He fills the seat now.", (0, 1)),
    ):  # fmt: skip
        clock.go_to(days_ago)
        reach_family(build, people.nadia, outcome)
        if levels:
            score(goals, people.nadia, *levels)
    clock.go_to(6)
    MeasureFactory(client=build.client, made_by=people.nadia, value_si=26.2, taken_by="The school nurse",
                   taken_on=timezone.localdate())  # fmt: skip
    return build


def goals_of(client, account):
    """The goal that the family came with, and a second one."""
    GoalFactory(
        client=client, made_by=account, text="Stops when his sister calls", importance=2, difficulty=3,
        much_less="Goes on until somebody stops him", less="Stops after the third call",
        expected="Stops after the second call", more="Stops after the first call",
        much_more="Stops before he is called, and waits",
    )  # fmt: skip
    return list(client.goals.standing())


def score(goals, account, *levels):
    """What each goal reached on the demo's day."""
    for goal, level in zip(goals, levels, strict=True):
        GoalScoreFactory(goal=goal, made_by=account, level=level, on=timezone.localdate())


def given_as_a_gift(clock, people):
    """A toy that the family keeps."""
    crew = people.crew(builder="yuki", second="ben")
    build = hand_off_build(clock, crew, "switch-socket", "trivedi", HANDED_OFF_AFTER + 10, terms=HandOff.Terms.GIFT)
    clock.go_to(7)
    reach_family(build, people.nadia, "He presses it with the elbow too.")
    return build


def returned_and_ready(clock, people):
    """It came back outgrown, was cleaned and inspected, and is ready for another client."""
    crew = people.crew(builder="tomas", second="ben", reviewer="samir")
    build = hand_off_build(clock, crew, "one-hand-stick", "braonain", 190)
    for days_ago in (149, 138, 110):
        clock.go_to(days_ago)
        reach_family(build, people.nadia, "All is well.")
    clock.go_to(24)
    build = rules.move(build, Stage.RETURNED, people.nadia, "She has grown out of it")
    clock.go_to(15)
    return rules.move(build, Stage.REISSUED, people.nadia, "Cleaned, inspected, battery tested")


def matched_to_waiting_client(clock, people):
    """The unit that came back goes to a client who was waiting."""
    returned = returned_and_ready(clock, people)
    clock.go_to(4)
    client = cleared("oyang", people.nadia)
    return journey.start("one-hand-stick", client, people.crew(builder="yuki", second="pia"), unit=returned.unit)


IN_USE = (overdue_for_contact, outgrown_soon, given_as_a_gift, matched_to_waiting_client)
