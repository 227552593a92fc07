"""The front door: who comes in, where they land, and what too many wrong tries cost."""

from datetime import timedelta
from zoneinfo import ZoneInfo

import pytest
from axes.models import AccessAttempt
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from labsite.models import Account
from labsite.roles import Role
from labsite.views import own_work_of
from tests.factory import PASSWORD, make_account


def sign_in(client, username, password=PASSWORD, **more):
    return client.post(reverse("sign_in"), {"username": username, "password": password, **more})


def test_the_right_password_opens_the_door(client, builder):
    response = sign_in(client, builder.username)
    assert response.status_code == 302
    assert response["Location"] == reverse("home")
    assert client.session["_auth_user_id"] == str(builder.pk)


def test_capitals_in_the_sign_in_name_do_not_matter(client, builder):
    assert sign_in(client, f" {builder.username.upper()} ").status_code == 302


@pytest.mark.parametrize("password", ["", "wrong-password-here", "x" * 100_000, "nul\x00inside"])
def test_another_password_does_not(client, builder, password):
    response = sign_in(client, builder.username, password)
    assert response.status_code == 422
    assert "_auth_user_id" not in client.session
    assert builder.username in response.content.decode()
    assert "x" * 1000 not in response.content.decode()


def test_the_page_does_not_say_which_of_the_two_was_wrong(client, builder):
    known = sign_in(client, builder.username, "wrong-password-here").context["form"].errors
    unknown = sign_in(client, "nobody", "wrong-password-here").context["form"].errors
    assert known == unknown


def test_after_signing_in_the_page_asked_for_is_shown(client, coordinator):
    asked = client.get(reverse("accounts"))
    assert asked["Location"] == f"{reverse('sign_in')}?next={reverse('accounts')}"
    response = client.post(asked["Location"], {"username": coordinator.username, "password": PASSWORD})
    assert response["Location"] == reverse("accounts")


@pytest.mark.parametrize(
    ("came_from", "back"),
    [
        ("http://testserver/accounts/?page=2", "/accounts/%3Fpage%3D2"),
        ("https://elsewhere.example.org/accounts/", "/"),
        ("", "/"),
    ],
)
def test_who_pressed_a_button_too_late_comes_back_to_its_page(client, db, came_from, back):
    """The address that the button sends to would answer with nothing that a person can use."""
    answer = client.post(reverse("password_change"), headers={"Referer": came_from} if came_from else None)
    assert answer.url == f"{reverse('sign_in')}?next={back}"


def test_an_address_that_only_a_button_sends_to_says_so(client, builder):
    client.force_login(builder)
    answer = client.get(reverse("sign_out"))
    assert (answer.status_code, answer["Allow"]) == (405, "POST")
    assert "Only a button leads here" in answer.text and "Nothing was done." in answer.text


def test_no_page_elsewhere_is_shown_after_signing_in(client, builder):
    response = client.post(
        f"{reverse('sign_in')}?next=https://elsewhere.example/", {"username": builder.username, "password": PASSWORD}
    )
    assert response["Location"] == reverse("home")


def test_signing_out_is_a_change_and_ends_the_session(client, builder):
    client.force_login(builder)
    assert client.get(reverse("sign_out")).status_code == 405
    client.post(reverse("sign_out"))
    assert "_auth_user_id" not in client.session


def test_an_empty_database_says_how_to_begin(client, db):
    assert "python manage.py first_coordinator" in client.get(reverse("sign_in")).content.decode()


def test_a_database_with_people_does_not(client, builder):
    assert "first_coordinator" not in client.get(reverse("sign_in")).content.decode()


def test_a_closed_account_does_not_come_in(client, builder):
    builder.close("Graduated")
    assert sign_in(client, builder.username).status_code == 422


def test_a_closed_account_is_out_at_once(client, builder):
    client.force_login(builder)
    assert client.get(reverse("password_change")).status_code == 200
    Account.objects.get(pk=builder.pk).close("Graduated")
    assert client.get(reverse("password_change"))["Location"].startswith(reverse("sign_in"))


def test_a_person_without_a_role_is_told_whom_to_ask(client, db):
    client.force_login(make_account())
    assert "Ask the lab coordinator for a role" in client.get(reverse("home")).content.decode()


@pytest.mark.parametrize(
    ("roles", "own_page"),
    [
        ({"is_director": True, "is_reviewer": True, "is_builder": True, "is_coordinator": True}, "desk"),
        ({"is_director": True, "is_reviewer": True, "is_builder": True}, "my_builds"),
        ({"is_director": True, "is_reviewer": True}, "review_queue"),
        ({"is_director": True}, "board"),
    ],
)
def test_the_first_role_decides_the_landing_page(monkeypatch, roles, own_page):
    monkeypatch.setattr("labsite.views.reverse", lambda name: f"/{name}/")
    assert own_work_of(Account(**roles)) == f"/{own_page}/"


@pytest.fixture
def throttle(settings):
    settings.AXES_ENABLED = True


def try_wrongly(client, username, times):
    return [sign_in(client, username, "wrong-password-here").status_code for _ in range(times)]


def test_six_wrong_tries_close_the_door_for_a_quarter_of_an_hour(client, builder, lab, throttle):
    assert try_wrongly(client, builder.username, 6) == [422] * 5 + [429]
    refused = sign_in(client, builder.username)
    assert refused.status_code == 429
    assert "_auth_user_id" not in client.session
    AccessAttempt.objects.update(attempt_time=timezone.now() - timedelta(minutes=14))
    assert sign_in(client, builder.username).status_code == 429
    AccessAttempt.objects.update(attempt_time=timezone.now() - timedelta(minutes=16))
    assert sign_in(client, builder.username).status_code == 302


def test_behind_a_proxy_one_person_s_tries_lock_nobody_else_out(client, builder, lab, throttle, settings):
    settings.SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
    stranger, home = Client(HTTP_X_FORWARDED_FOR="203.0.113.9"), Client(HTTP_X_FORWARDED_FOR="203.0.113.8")
    assert try_wrongly(stranger, builder.username, 6)[-1] == 429
    assert sign_in(home, builder.username).status_code == 302


def test_the_page_says_when_to_try_again_and_whom_to_ask(client, builder, lab, throttle):
    try_wrongly(client, builder.username, 6)
    last = timezone.now() - timedelta(minutes=5)
    AccessAttempt.objects.update(attempt_time=last)
    page = sign_in(client, builder.username).content.decode()
    again_at = timezone.localtime(last + timedelta(minutes=16), timezone=ZoneInfo(lab.time_zone))
    assert f"{again_at:%H:%M}" in page
    assert "ask the lab coordinator" in page
    assert lab.phone in page


def test_capitals_do_not_win_further_tries(client, builder, throttle):
    names = [builder.username, builder.username.upper(), builder.username.title()]
    codes = [sign_in(client, name, "wrong-password-here").status_code for name in names * 2]
    assert codes[-1] == 429


def test_somebody_else_may_still_come_in(client, builder, other_builder, throttle):
    try_wrongly(client, builder.username, 6)
    assert sign_in(client, other_builder.username).status_code == 302


def test_the_list_of_tries_holds_no_password(client, builder, throttle):
    sign_in(client, builder.username, "wrong-password-here")
    attempt = AccessAttempt.objects.get()
    assert "wrong-password-here" not in attempt.post_data


def test_a_new_password_lifts_the_wait(client, as_person, builder, coordinator, throttle):
    try_wrongly(client, builder.username, 6)
    desk = as_person(coordinator)
    desk.post(reverse("account_reset_password", args=[builder.pk]))
    password = desk.get(reverse("accounts")).context["handed_over"]["password"]
    assert sign_in(client, builder.username, password).status_code == 302


def test_roles_are_read_from_the_account(db):
    account = make_account(Role.BUILDER, is_reviewer=True)
    assert account.roles == [Role.BUILDER, Role.REVIEWER]
