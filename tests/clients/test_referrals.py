"""A referral makes a case once; lists show it with a constant number of queries."""

import datetime
import uuid

import pytest
from django.urls import reverse
from django.utils import timezone

from builds.demo.factories import clients as make
from clients.models import Client, PersonFile, Referral
from tests.clients.builds import make_build
from tests.clients.conftest import at, errors, send

NEW = reverse("referral_new")
TYPED = {
    "given_name": "Mirela",
    "family_name": "Castellan",
    "birth_date": "2022-03-14",
    "received_on": "2026-05-04",
    "source": "therapist",
    "referrer_name": "Joanna Pell",
    "reason": "Wants to move about with other children",
    "need": "medium",
}


def test_a_referral_makes_a_case_code_a_person_file_and_a_case(desk, coordinator):
    answer = send(desk, NEW, **TYPED)
    case = Referral.objects.get()
    assert answer["Location"] == at("client_page", case.client)
    assert case.client.case_code == "C-1001"
    assert str(case.client.person) == "Mirela Castellan"
    assert (case.made_by, case.stage, case.moves.get().reason) == (coordinator, "referral", "Referred")


def test_an_unknown_birth_date_stays_unknown(desk):
    send(desk, NEW, **TYPED | {"birth_date": ""})
    assert PersonFile.objects.get().birth_date is None


def test_a_double_click_makes_one_case(desk):
    once = uuid.uuid4()
    first, second = (desk.post(NEW, TYPED | {"once": once}) for _ in range(2))
    assert first["Location"] == second["Location"]
    assert Referral.objects.count() == Client.objects.count() == 1


def test_an_empty_referral_says_what_to_enter(desk):
    refused = errors(desk.post(NEW, {"once": uuid.uuid4()}))
    assert refused["family_name"] == ["Enter the client's family name"]
    assert refused["reason"] == ["Enter the reason, in the referrer's words"]
    assert refused["source"] == ["Choose who referred"]
    assert not Client.objects.exists()


def test_a_text_of_100_000_characters_is_refused_and_kept_on_the_page(desk):
    answer = send(desk, NEW, **TYPED | {"reason": "long " * 20_000})
    assert errors(answer)["reason"] == ["Reason, in the referrer's words must be 5,000 characters or fewer"]
    assert b"long long long" in answer.content
    assert answer.content.startswith(b"<!doctype html>") and b"<title>Error: New referral" in answer.content


def test_dates_that_cannot_be_are_refused_beside_their_field(desk):
    today = timezone.localdate()
    later = str(today + datetime.timedelta(days=2))
    refused = errors(send(desk, NEW, **TYPED | {"birth_date": later, "received_on": later}))
    said = f"{today:%B %Y} or earlier"
    assert refused["birth_date"][0].startswith("Birth date must be") and said in refused["birth_date"][0]
    assert refused["received_on"][0].startswith("Date received must be") and said in refused["received_on"][0]


def test_a_birth_after_the_referral_is_refused(desk):
    assert "birth_date" in errors(send(desk, NEW, **TYPED | {"birth_date": "2026-05-05"}))


def test_the_same_child_gets_no_second_code_unless_somebody_says_so(desk):
    assert "another_person" not in desk.get(NEW).context["form"].fields
    send(desk, NEW, **TYPED)
    refused = errors(send(desk, NEW, **TYPED | {"given_name": "mirela"}))
    assert refused["another_person"][0].startswith("C-1001 has the same name.")
    send(desk, NEW, **TYPED | {"another_person": "on"})
    assert Client.objects.count() == 2


def test_a_client_comes_back_with_a_second_referral(desk, known, coordinator):
    typed = {name: TYPED[name] for name in ("received_on", "source", "reason", "need")}
    assert "has an open case already" in errors(send(desk, at("referral_again", known), **typed))["__all__"][0]
    known.referrals.update(outcome=Referral.Outcome.WITHDRAWN)
    assert send(desk, at("referral_again", known), **typed).status_code == 302
    assert known.referrals.count() == 2


def test_a_second_tab_is_told_what_changed(desk, known):
    case = known.referrals.get()
    address = at("referral_edit", known, case.pk)
    opened = desk.get(address).context["form"]
    typed = {bound.html_name: bound.value() or "" for bound in opened}
    send(desk, address, reason="Reads and paints now")
    answer = desk.post(address, typed | {"reason": "An older thought", "once": uuid.uuid4()})
    assert errors(answer)["reason"][0].startswith("Reason, in the referrer's words is now Reads and paints now (it was")
    case.refresh_from_db()
    assert case.reason == "Reads and paints now"


def test_a_case_moves_closes_and_opens_again_on_its_pages(desk, known):
    case = known.referrals.get()
    refused = errors(send(desk, at("case_move", known, case.pk)))
    assert refused["reason"] == ["Enter the reason for going on: no caregiver is known yet"]
    assert send(desk, at("case_move", known, case.pk), reason="Self-referral").status_code == 302
    closing = {"outcome": "referred_on", "reason": "Needs a powered wheelchair"}
    assert send(desk, at("case_close", known, case.pk), **closing).status_code == 302
    case.refresh_from_db()
    assert (case.stage, case.outcome) == ("intake", "referred_on")
    assert send(desk, at("case_reopen", known, case.pk), reason="Came back").status_code == 302
    case.refresh_from_db()
    assert case.is_open


def test_a_row_of_another_client_does_not_open_here(desk, known, cleared):
    case = cleared.referrals.get()
    assert desk.get(at("case_move", known, case.pk)).status_code == 404


@pytest.mark.parametrize("page", ["waiting_list", "clients"])
def test_a_list_takes_the_same_queries_for_one_row_and_for_three(page, desk, coordinator, django_assert_num_queries):
    make.make_cleared_client(coordinator)
    desk.get(reverse(page))
    with count_queries() as one:
        desk.get(reverse(page))
    for _ in range(2):
        make.make_cleared_client(coordinator)
    with django_assert_num_queries(len(one)):
        answer = desk.get(reverse(page))
    assert len(answer.context["rows"]) == 3


def count_queries():
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    return CaptureQueriesContext(connection)


def test_the_waiting_list_says_since_when_and_for_what(desk, coordinator):
    make.make_cleared_client(coordinator)
    first = make.ReferralFactory(
        client=make.ClientFactory(), made_by=coordinator, received_on=timezone.localdate() - datetime.timedelta(days=90)
    )
    rows = desk.get(reverse("waiting_list")).context["rows"]
    assert [(row["case"].client, row["days"], row["waits_for"]) for row in rows][0] == (
        first.client,
        90,
        "Intake appointment",
    )
    assert rows[1]["waits_for"] == "A build to be planned"


@pytest.mark.parametrize(("stage", "offered"), [("plan", False), ("in_use", True)])
def test_handed_off_is_an_outcome_only_once_the_equipment_is_in_use(stage, offered, desk, cleared):
    case = cleared.referrals.get()
    make_build(cleared, stage=stage, referral=case)
    outcomes = dict(desk.get(at("case_close", cleared, case.pk)).context["form"].fields["outcome"].choices)
    assert ("equipped" in outcomes) is offered


def test_closed_cases_do_not_wait(desk, coordinator):
    make.ReferralFactory(client=make.ClientFactory(), made_by=coordinator, outcome=Referral.Outcome.NO_EQUIPMENT)
    assert desk.get(reverse("waiting_list")).context["rows"] == []
