"""Two rounds of checks: who may make them, what counts, and that the second person sees nothing of the first."""

import re

import pytest
from django.urls import reverse

from builds.demo.factories.bench import BuildStepFactory
from builds.demo.factories.wiring import ALL_RIGHT, check_runs
from builds.models import Nonconformance, StepResult, WireCheck
from builds.record.rules import Refused
from builds.wiring.checks import checked_runs, run_digest
from builds.wiring.rules import record_check
from labsite.roles import Role
from tests.builds.wiring.making import fresh, make_planned_build
from tests.factory import make_account

FIRST, SECOND = WireCheck.Round.FIRST, WireCheck.Round.SECOND
BLIND_PAGES = ("second_check", "harness", "check_differences", "wire_checks")


@pytest.fixture
def checker(db, build):
    """A builder of the same lab who did nothing on this build, put on it to check."""
    account = make_account(Role.BUILDER, full_name="Ida Moss")
    build.builders.add(account)
    return account


def check(run, account, round, **ticks):
    return record_check(run, account, round, {**ALL_RIGHT, **ticks}, seen_digest=run_digest(run))


def text_of(answer):
    """What a person reads of a page: no markup, no tokens that differ at each opening."""
    body = re.sub(r'(csrfmiddlewaretoken|once)" value="[^"]*"', "", answer.content.decode())
    return " ".join(re.sub(r"<[^>]+>", " ", body).split())


def test_a_wire_that_does_not_conduct_can_be_said(page, build, builder):
    """A meter over its range shows no figure: the box says what to do, and the form takes the check without one."""
    run = build.wire_runs.first()
    answer = page.get("wire_check", run.pk)
    assert "Over range: leave it empty and say so in the note" in answer.content.decode()
    form = {**ALL_RIGHT, "seen_digest": answer.context["form"]["seen_digest"].value()}
    refused = page.post("wire_check", run.pk, data={**form, "resistance_ohm": "1.1e9"})
    assert "Resistance measured must be 1000000000 Ω or less" in refused.content.decode()
    answer = page.post("wire_check", run.pk, data={**form, "continuity": "wrong", "note": "Over range at 20 Mohm"})
    assert answer.status_code == 302
    kept = WireCheck.objects.get(run=run)
    assert (kept.resistance_ohm, kept.continuity, kept.note) == (None, "wrong", "Over range at 20 Mohm")


def test_the_first_check_goes_run_by_run(page, build, builder):
    run = build.wire_runs.first()
    form = page.get("wire_check", run.pk).context["form"]
    answer = page.post("wire_check", run.pk, data={**ALL_RIGHT, "seen_digest": form["seen_digest"].value()})
    following = build.wire_runs.all()[1]
    assert answer["Location"] == reverse("wire_check", args=[build.number, following.pk])
    assert run.checks.get().made_by == builder


def test_no_tick_is_given_beforehand(page, build):
    run = build.wire_runs.first()
    answer = page.post("wire_check", run.pk, data={"seen_digest": run_digest(run)})
    assert answer.status_code == 422
    assert len(answer.context["form"].errors) == len(WireCheck.TICKS)
    assert "checked>" not in page.get("wire_check", run.pk).content.decode()


def test_a_tick_that_is_not_right_needs_a_note(page, build):
    run = build.wire_runs.first()
    sent = {**ALL_RIGHT, "polarity": "not_seen", "seen_digest": run_digest(run)}
    assert page.post("wire_check", run.pk, data=sent).status_code == 422
    assert page.post("wire_check", run.pk, data={**sent, "note": "Plug is covered"}).status_code == 302


@pytest.mark.parametrize("typed", ["-1", "5 V", "much", "nan", "1e20 ohm"])
def test_a_resistance_that_cannot_be_is_refused(page, build, typed):
    run = build.wire_runs.first()
    sent = {**ALL_RIGHT, "resistance_ohm": typed, "seen_digest": run_digest(run)}
    assert page.post("wire_check", run.pk, data=sent).status_code == 422
    assert not run.checks.exists()


def test_a_run_changed_meanwhile_is_looked_at_again(page, build):
    run = build.wire_runs.first()
    seen = run_digest(run)
    run.gauge = "8 AWG"
    run.save(update_fields=["gauge"])
    answer = page.post("wire_check", run.pk, data={**ALL_RIGHT, "seen_digest": seen})
    assert answer.status_code == 422
    assert "was changed since this page was opened" in answer.content.decode()
    assert answer.context["form"]["seen_digest"].value() == run_digest(run)


@pytest.mark.parametrize(
    ("name", "value"),
    [("gauge", "8 AWG"), ("length_m", 0.9), ("end", "Elsewhere"), ("label_end", "W1 X"), ("fuse", None),
     ("termination_start", "solder"), ("in_arm", "yes"), ("stall_a", 99.0)],
)  # fmt: skip
def test_a_changed_run_makes_its_checks_stale(build, builder, name, value):
    run = build.wire_runs.first()
    check(run, builder, FIRST)
    setattr(run, name, value)
    run.save(update_fields=[name])
    assert next(row for row in checked_runs(fresh(build)) if row.run == run).first is None


def test_a_note_of_the_deviation_leaves_a_check_standing(build, builder):
    run = build.wire_runs.first()
    check(run, builder, FIRST)
    run.deviation_reason = "Only the reason"
    run.save(update_fields=["deviation_reason"])
    assert checked_runs(fresh(build))[0].first is not None


def test_a_wrong_tick_opens_one_nonconformance(build, builder):
    run = build.wire_runs.first()
    check(run, builder, FIRST, polarity="wrong")
    check(run, builder, FIRST, polarity="wrong", continuity="wrong")
    found = Nonconformance.objects.get(build=build)
    assert found.source == f"wire-run:{run.pk}"
    assert "olarity" not in found.text


def test_the_first_checker_is_not_the_second_person(build, builder):
    run = build.wire_runs.first()
    check(run, builder, FIRST)
    with pytest.raises(Refused, match="You did work on this build"):
        check(run, builder, SECOND)


def test_who_departed_from_the_plan_is_not_the_second_person(build, checker):
    run = build.wire_runs.first()
    run.deviation_by = checker
    run.save(update_fields=["deviation_by"])
    with pytest.raises(Refused, match="You did work on this build"):
        check(run, checker, SECOND)


def test_who_recorded_a_step_is_not_the_second_person(build, checker):
    step = BuildStepFactory(build=build)
    StepResult.objects.create(step=step, outcome="passed", made_by=checker)
    with pytest.raises(Refused, match="You did work on this build"):
        check(build.wire_runs.first(), checker, SECOND)


def test_the_second_person_makes_no_first_check(build, checker):
    run = build.wire_runs.first()
    check(run, checker, SECOND)
    with pytest.raises(Refused, match="as the second person"):
        check(run, checker, FIRST)


def test_the_second_person_reads_the_same_whatever_the_first_ticked(coordinator, builder, lab, as_person):
    read = []
    for ticks in ({}, {"polarity": "wrong"}, {"relief": "not_seen", "terminated": "wrong", "continuity": "wrong"}):
        build = make_planned_build(coordinator, builder)
        person = make_account(Role.BUILDER, full_name="Ida Moss")
        build.builders.add(person)
        check_runs(build, builder, FIRST, **ticks)
        browser = as_person(person)
        pages = [reverse(name, args=[build.number]) for name in BLIND_PAGES]
        pages += [reverse("second_check_run", args=[build.number, run.pk]) for run in build.wire_runs.all()]
        texts = [text_of(browser.get(address)).replace(build.number, "B") for address in pages]
        read.append([text.replace(build.client.case_code, "C").replace(build.unit.number, "U") for text in texts])
    assert read[0] == read[1] == read[2]
    assert "First check done" in read[0][1]


def test_the_second_person_reads_the_same_after_checking_all_runs_but_one(coordinator, builder, lab, as_person):
    read = []
    for ticks in ({}, {"polarity": "wrong"}):
        build = make_planned_build(coordinator, builder)
        person = make_account(Role.BUILDER, full_name="Ida Moss")
        build.builders.add(person)
        check_runs(build, builder, FIRST, **ticks)
        for run in list(build.wire_runs.all())[:-1]:
            check(run, person, SECOND)
        answer = as_person(person).get(reverse("check_differences", args=[build.number]))
        read.append(text_of(answer).replace(build.number, "B"))
    assert read[0] == read[1]
    assert "once every run has both checks" in read[0]


def test_the_first_person_sees_own_ticks_and_nobody_else_does(build, builder, coordinator, as_person):
    check_runs(build, builder, FIRST, polarity="not_seen")
    address = reverse("wire_checks", args=[build.number])
    assert "Polarity: Not checked" in text_of(as_person(builder).get(address))
    assert "Polarity: Not checked" not in text_of(as_person(coordinator).get(address))


def test_differences_are_shown_run_by_run_and_settled_by_a_new_check(build, builder, checker, as_person):
    check_runs(build, builder, FIRST)
    check_runs(build, checker, SECOND)
    odd = build.wire_runs.get(code="W5")
    check(odd, checker, SECOND, polarity="not_seen")
    address = reverse("check_differences", args=[build.number])
    shown = text_of(as_person(builder).get(address))
    assert "W5 They differ" in shown
    assert "Polarity Right Not checked Different" in shown
    check(odd, checker, SECOND)
    assert "They agree" in text_of(as_person(builder).get(address))


def test_a_struck_check_no_longer_counts(page, build, builder, reviewer, as_person):
    run = build.wire_runs.first()
    made = check(run, builder, FIRST)
    address = reverse("wire_check_strike", args=[build.number, made.pk])
    assert as_person(reviewer).post(address, {"reason": "Not mine"}).status_code == 422
    assert page.post("wire_check_strike", made.pk, data={"reason": "Wrong run"}).status_code == 302
    assert checked_runs(fresh(build))[0].first is None


def test_a_double_click_makes_one_check(page, build):
    run = build.wire_runs.first()
    sent = {**ALL_RIGHT, "seen_digest": run_digest(run), "once": "6f1c3c1e-9d0b-4c53-8f0e-0a4f1f3b6a11"}
    first, second = page.post("wire_check", run.pk, data=sent), page.post("wire_check", run.pk, data=sent)
    assert first["Location"] == second["Location"]
    assert run.checks.count() == 1
