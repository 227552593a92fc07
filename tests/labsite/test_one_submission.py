"""A form counts once however often it is sent; a refused form leaves nothing behind and may be sent again."""

import threading
from uuid import uuid4

import pytest
from django.db import connections
from django.urls import reverse

from labsite.models import Account, Submission
from tests.factory import make_account

NEW = {"full_name": "Ines Vale", "username": "ines", "is_builder": "on"}


def ines():
    return Account.objects.filter(username="ines")


def test_a_double_click_makes_one_record_and_both_go_to_the_same_page(as_person, coordinator):
    desk, sent = as_person(coordinator), {**NEW, "once": uuid4()}
    first = desk.post(reverse("account_new"), sent)
    second = desk.post(reverse("account_new"), sent)
    assert ines().count() == 1
    assert first.status_code == second.status_code == 302
    assert first["Location"] == second["Location"] == reverse("accounts")


def test_the_second_sending_does_not_answer_with_an_error(as_person, coordinator):
    desk, sent = as_person(coordinator), {**NEW, "once": uuid4()}
    desk.post(reverse("account_new"), sent)
    page = desk.post(reverse("account_new"), sent, follow=True)
    assert "This form was already sent. It was saved once." in page.content.decode()


def test_two_forms_are_two_changes(as_person, coordinator):
    desk = as_person(coordinator)
    desk.post(reverse("account_new"), {**NEW, "once": uuid4()})
    desk.post(reverse("account_new"), {**NEW, "username": "ines2", "once": uuid4()})
    assert Account.objects.filter(username__startswith="ines").count() == 2


def test_a_refused_form_leaves_nothing_and_may_be_sent_again(as_person, coordinator):
    desk, once = as_person(coordinator), uuid4()
    refused = desk.post(reverse("account_new"), {**NEW, "full_name": "", "once": once})
    assert refused.status_code == 422
    assert not Submission.objects.exists()
    assert desk.post(reverse("account_new"), {**NEW, "once": once}).status_code == 302
    assert ines().count() == 1


def test_a_forbidden_form_leaves_nothing(as_person, builder):
    assert as_person(builder).post(reverse("account_new"), {**NEW, "once": uuid4()}).status_code == 403
    assert not Submission.objects.exists()


def test_what_a_view_wrote_before_it_refused_is_taken_back(as_person, coordinator, monkeypatch):
    def writes_then_breaks(account):
        account.set_one_time_password("abcd-efgh-jkmn-pqrs")
        raise RuntimeError("broken halfway")

    monkeypatch.setattr("labsite.account_rules.give_one_time_password", writes_then_breaks)
    desk = as_person(coordinator)
    desk.raise_request_exception = False
    assert desk.post(reverse("account_new"), {**NEW, "once": uuid4()}).status_code == 500
    assert not ines().exists()
    assert not Submission.objects.exists()


def test_somebody_elses_token_does_not_swallow_a_form(as_person, coordinator, director):
    once = uuid4()
    as_person(coordinator).post(reverse("account_new"), {**NEW, "once": once})
    response = as_person(director).post(reverse("account_new"), {**NEW, "username": "ines2", "once": once})
    assert response["Location"] == reverse("accounts")
    assert Account.objects.filter(username="ines2").exists()


@pytest.mark.parametrize("once", ["", "not-a-token", "x" * 100_000])
def test_a_form_without_a_proper_token_counts_as_a_form_of_its_own(as_person, coordinator, once):
    assert as_person(coordinator).post(reverse("account_new"), {**NEW, "once": once}).status_code == 302
    assert ines().exists()
    assert not Submission.objects.exists()


@pytest.mark.postgres
@pytest.mark.django_db(transaction=True)
def test_two_sendings_at_the_same_moment_make_one_record(as_person):
    coordinator = make_account("coordinator")
    browsers = [as_person(coordinator), as_person(coordinator)]
    sent, answers, start = {**NEW, "once": uuid4()}, [], threading.Barrier(2)

    def send(browser):
        try:
            start.wait(timeout=10)
            answers.append(browser.post(reverse("account_new"), sent))
        finally:
            connections.close_all()

    threads = [threading.Thread(target=send, args=(browser,)) for browser in browsers]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=30)
    assert [answer.status_code for answer in answers] == [302, 302]
    assert {answer["Location"] for answer in answers} == {reverse("accounts")}
    assert ines().count() == 1
