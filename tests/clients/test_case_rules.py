"""A case moves only when the next stage has what it needs; every move has a date, a person and a reason."""

import datetime

import pytest
from django.core.exceptions import ValidationError
from django.utils import timezone

from builds.demo.factories import clients as make
from clients import rules
from clients.models import CaseMove, Referral
from tests.clients.builds import make_build

Stage, Outcome = Referral.Stage, Referral.Outcome


def move(case, to, account, reason="", on=None):
    return rules.move_case(case, rules.Move(to, on or timezone.localdate(), reason), account)


def case_at(stage, coordinator, client=None, **facts):
    return make.ReferralFactory(client=client or make.ClientFactory(), made_by=coordinator, stage=stage, **facts)


def refused(act):
    with pytest.raises(ValidationError) as refusal:
        act()
    return refusal.value.message_dict if hasattr(refusal.value, "error_dict") else refusal.value.messages


def test_a_move_is_kept_with_date_person_and_reason(coordinator):
    case = case_at(Stage.REFERRAL, coordinator)
    make.CaregiverFactory(client=case.client)
    moved = move(case, Stage.INTAKE, coordinator, "Phone call")
    kept = CaseMove.objects.get()
    assert moved.stage == Stage.INTAKE
    assert (kept.from_stage, kept.to_stage, kept.reason) == ("referral", "intake", "Phone call")
    assert kept.made_by == coordinator
    assert kept.words() == "Referral → Intake"


def test_a_forward_move_without_words_says_what_made_it_possible(coordinator):
    case = case_at(Stage.REFERRAL, coordinator)
    make.CaregiverFactory(client=case.client)
    move(case, Stage.INTAKE, coordinator)
    assert CaseMove.objects.get().reason == "The family is reached"


def test_intake_without_a_caregiver_needs_a_reason(coordinator):
    case = case_at(Stage.REFERRAL, coordinator)
    assert refused(lambda: move(case, Stage.INTAKE, coordinator)) == {
        "reason": ["Enter the reason for going on: no caregiver is known yet"]
    }
    assert move(case, Stage.INTAKE, coordinator, "Foster family is being found").stage == Stage.INTAKE


def test_a_stage_is_not_skipped(coordinator):
    case = case_at(Stage.REFERRAL, coordinator)
    assert "The case is at Referral now" in refused(lambda: move(case, Stage.PLAN, coordinator, "Hurry"))[0]


def test_clearance_needs_the_access_profile_and_the_sitting_level(coordinator):
    case = case_at(Stage.ASSESSMENT, coordinator)
    assert "access profile first" in refused(lambda: move(case, Stage.CLEARANCE, coordinator))[0]
    make.AccessFactory(client=case.client)
    assert "sitting level first" in refused(lambda: move(case, Stage.CLEARANCE, coordinator))[0]
    make.SittingFactory(client=case.client)
    assert move(case, Stage.CLEARANCE, coordinator).stage == Stage.CLEARANCE


def test_an_unknown_side_goes_on_only_with_a_reason(coordinator):
    case = case_at(Stage.ASSESSMENT, coordinator)
    make.AccessFactory(client=case.client, side="unknown")
    make.SittingFactory(client=case.client, level=None)
    words = refused(lambda: move(case, Stage.CLEARANCE, coordinator))["reason"][0]
    assert words == "Enter the reason for going on: the side of the control is unknown and the sitting level is unknown"
    assert move(case, Stage.CLEARANCE, coordinator, "The clinician rates both").stage == Stage.CLEARANCE


def test_plan_needs_a_clearance_in_date(coordinator):
    case = case_at(Stage.CLEARANCE, coordinator)
    assert refused(lambda: move(case, Stage.PLAN, coordinator, "Hurry")) == [
        "Clearance. Record a clearance in date first."
    ]
    make.ClearanceFactory(client=case.client)
    assert move(case, Stage.PLAN, coordinator).stage == Stage.PLAN


def test_an_ended_clearance_does_not_let_it_through(coordinator):
    case = case_at(Stage.CLEARANCE, coordinator)
    make.ClearanceFactory(client=case.client, given_on=datetime.date(2025, 5, 3), expires_on=datetime.date(2026, 5, 3))
    words = refused(lambda: move(case, Stage.PLAN, coordinator, "Hurry"))[0]
    assert words == "Clearance ended 3 May 2026. Record a clearance in date first."


def test_going_back_needs_a_reason(coordinator):
    case = case_at(Stage.CLEARANCE, coordinator)
    assert refused(lambda: move(case, Stage.INTAKE, coordinator)) == {"reason": ["Enter the reason for going back"]}
    assert move(case, Stage.INTAKE, coordinator, "The family moved").stage == Stage.INTAKE


def test_a_move_is_not_dated_before_the_referral_or_after_today(coordinator):
    case = case_at(Stage.CLEARANCE, coordinator)
    early = case.received_on - datetime.timedelta(days=1)
    late = timezone.localdate() + datetime.timedelta(days=1)
    assert "or later" in refused(lambda: move(case, Stage.INTAKE, coordinator, "Back", early))["on"][0]
    assert "or earlier" in refused(lambda: move(case, Stage.INTAKE, coordinator, "Back", late))["on"][0]


def test_a_closed_case_keeps_its_outcome_and_opens_again_where_it_stood(coordinator):
    case = case_at(Stage.ASSESSMENT, coordinator)
    today = timezone.localdate()
    closed = rules.close_case(case, Outcome.NO_EQUIPMENT, today, "Walks well now", coordinator)
    assert (closed.outcome, closed.outcome_on, closed.outcome_reason) == ("no_equipment", today, "Walks well now")
    assert "Reopen it first" in refused(lambda: move(case, Stage.INTAKE, coordinator, "Back"))[0]
    opened = rules.reopen_case(case, "Needs it after all", coordinator)
    assert (opened.is_open, opened.stage, opened.outcome_on) == (True, Stage.ASSESSMENT, None)
    assert [one.words() for one in case.moves.all()] == [
        "Assessment → Assessed, no equipment needed",
        "Assessed, no equipment needed → Assessment",
    ]


def test_a_case_with_a_running_build_is_not_closed(coordinator):
    case = case_at(Stage.PLAN, coordinator)
    build = make_build(case.client)
    words = refused(lambda: rules.close_case(case, Outcome.WITHDRAWN, timezone.localdate(), "Moved", coordinator))[0]
    assert words == f"Build {build.number} is still going on. Cancel or finish it first."


def test_a_case_whose_equipment_is_in_use_is_closed_as_handed_off(coordinator):
    case = case_at(Stage.PLAN, coordinator)
    make_build(case.client, stage="in_use", referral=case)
    assert rules.next_step(case.client, case).page == "case_close"
    assert (
        rules.close_case(case, Outcome.EQUIPPED, timezone.localdate(), "Handed off", coordinator).outcome == "equipped"
    )


def test_the_build_of_an_earlier_case_does_not_speak_for_a_new_one(coordinator):
    first = case_at(Stage.PLAN, coordinator, outcome=Outcome.EQUIPPED)
    make_build(first.client, stage="in_use", referral=first)
    make.CaregiverFactory(client=first.client)
    again = case_at(Stage.REFERRAL, coordinator, client=first.client)
    assert rules.waits_for(again) == "Intake appointment"
    assert rules.next_step(again.client, again).page == "case_move"


def test_a_client_has_one_open_case(coordinator):
    case = case_at(Stage.PLAN, coordinator)
    second = Referral(client=case.client, received_on=timezone.localdate(), source="family", reason="Again")
    assert "has an open case already" in refused(lambda: rules.open_again(second, coordinator))[0]


def test_the_stages_that_end_a_builders_view_are_those_of_the_record():
    from builds.record.holds import Stage as BuildStage
    from builds.record.holds import Standing
    from clients.models import client as model

    assert set(model.OVER_STAGES) == {BuildStage.REISSUED, BuildStage.RESTORED, BuildStage.RETIRED}
    assert model.CANCELLED == Standing.CANCELLED
    assert rules.IN_USE == BuildStage.IN_USE


@pytest.mark.parametrize(
    ("stage", "words"),
    [
        (Stage.REFERRAL, "Intake appointment"),
        (Stage.INTAKE, "Assessment appointment"),
        (Stage.ASSESSMENT, "Access profile"),
        (Stage.CLEARANCE, "Clearance"),
    ],
)
def test_a_case_waits_for_the_next_thing(coordinator, stage, words):
    assert rules.waits_for(case_at(stage, coordinator)) == words


def test_a_case_waits_for_a_clearance_that_ended(coordinator):
    case = case_at(Stage.PLAN, coordinator)
    make.ClearanceFactory(client=case.client, given_on=datetime.date(2025, 5, 3), expires_on=datetime.date(2026, 5, 3))
    assert rules.waits_for(case) == "Clearance ended 3 May 2026"


def test_a_cleared_case_waits_for_a_build_and_then_for_its_stage(coordinator):
    case = case_at(Stage.PLAN, coordinator)
    make.ClearanceFactory(client=case.client)
    assert rules.waits_for(case) == "A build to be planned"
    build = make_build(case.client)
    assert rules.waits_for(case) == f"Build {build.number}: Plan"


def test_the_next_step_follows_the_path_of_the_case(coordinator):
    case = case_at(Stage.ASSESSMENT, coordinator)
    pages = []
    for make_it in (
        lambda client: make.MeasureFactory(client=client),
        lambda client: make.AccessFactory(client=client),
        lambda client: make.SittingFactory(client=client),
        lambda client: make.answer_cautions(client, coordinator),
        lambda client: make.GoalFactory(client=client),
        lambda client: make.CaregiverFactory(client=client),
        lambda client: make.ConsentFactory(client=client),
        lambda client: None,
    ):
        client = type(case.client).objects.get(pk=case.client_id)
        pages.append(rules.next_step(client, case).page)
        make_it(client)
    assert pages == [
        *("measure_new", "access_edit", "sitting_edit", "cautions_edit", "goal_new"),
        *("caregiver_new", "consent_new", "case_move"),
    ]


def next_of(case):
    client = type(case.client).objects.get(pk=case.client_id)
    return rules.next_step(client, case)


def test_a_new_case_names_the_caregiver_and_the_consent_that_are_missing(coordinator):
    case = case_at(Stage.REFERRAL, coordinator)
    step = next_of(case)
    assert step.page == "caregiver_new"
    assert "Intake needs one" in step.text and "needs the consent to the service" in step.text
    make.CaregiverFactory(client=case.client)
    step = next_of(case)
    assert step.page == "case_move"
    assert "Agree the intake appointment" in step.text and "Assessment needs the consent to the service" in step.text
    make.ConsentFactory(client=case.client)
    assert "consent" not in next_of(case).text


def test_a_consent_that_was_refused_is_no_reason_to_go_on(coordinator):
    case = case_at(Stage.INTAKE, coordinator)
    make.CaregiverFactory(client=case.client)
    assert next_of(case).text == "Record the consent to the service."
    make.ConsentFactory(client=case.client, given=False)
    step = next_of(case)
    assert step.page == "consent_new"
    assert "refused or withdrawn" in step.text and "close the case" in step.text
    make.ConsentFactory(client=case.client)
    assert next_of(case).text == "Move the case to Assessment."
