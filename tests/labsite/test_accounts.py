"""People are added, given roles, closed, reopened, and helped when a password is forgotten."""

import logging

import pytest
from auditlog.models import LogEntry
from django.core.exceptions import ValidationError
from django.urls import reverse

from labsite.account_rules import refuse_if_last_coordinator
from labsite.models import Account
from labsite.roles import Role
from tests.factory import make_account

NEW = {"full_name": "Ines Vale", "username": "Ines", "is_builder": "on", "is_reviewer": "on"}


@pytest.fixture
def desk(as_person, coordinator):
    return as_person(coordinator)


def address(name, account):
    return reverse(name, args=[account.pk])


def errors_of(response):
    return " ".join(message for messages in response.context["form"].errors.values() for message in messages)


def edited(desk, account, **typed):
    """Send the edit page's form as the browser would, with what was typed."""
    form = desk.get(address("account_edit", account)).context["form"]
    shown = {name: form[name].value() for name in form.fields}
    sent = {name: value for name, value in {**shown, **typed}.items() if value not in (False, None)}
    return desk.post(address("account_edit", account), sent)


def test_an_added_person_gets_several_roles_and_a_password_for_one_sign_in(desk, client):
    assert desk.post(reverse("account_new"), NEW)["Location"] == reverse("accounts")
    account = Account.objects.get(username="ines")
    assert account.roles == [Role.BUILDER, Role.REVIEWER]
    assert account.must_change_password
    desk.head(reverse("accounts"))
    handed_over = desk.get(reverse("accounts")).context["handed_over"]
    assert account.check_password(handed_over["password"])
    signed_in = client.post(reverse("sign_in"), {"username": "ines", "password": handed_over["password"]})
    assert signed_in.status_code == 302
    assert client.get(reverse("home"))["Location"] == reverse("password_change")


def test_the_one_time_password_is_shown_once_and_written_nowhere_else(desk, builder, caplog):
    caplog.set_level(logging.DEBUG)
    response = desk.post(address("account_reset_password", builder), follow=True)
    password = response.context["handed_over"]["password"]
    assert password in response.content.decode()
    assert response.redirect_chain == [(reverse("accounts"), 302)]
    assert password not in desk.get(reverse("accounts")).content.decode()
    assert password not in caplog.text


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"full_name": ""}, "Enter the full name"),
        ({"username": ""}, "Enter the sign-in name"),
        ({"username": "x" * 100_000}, "60 characters or fewer"),
        ({"is_builder": "", "is_reviewer": ""}, "Choose one or more roles."),
    ],
)
def test_an_account_with_something_missing_is_not_added(desk, typed, message):
    sent = {name: value for name, value in {**NEW, **typed}.items() if value or name in ("full_name", "username")}
    response = desk.post(reverse("account_new"), sent)
    assert response.status_code == 422
    assert message in errors_of(response)
    assert not Account.objects.filter(full_name="Ines Vale").exists()


def test_a_sign_in_name_is_never_given_twice(desk, builder):
    response = desk.post(reverse("account_new"), {**NEW, "username": builder.username.upper()})
    assert "Choose a sign-in name that nobody else has or had." in errors_of(response)


def test_roles_are_given_and_taken(desk, builder):
    assert edited(desk, builder, is_builder=False, is_reviewer="on").status_code == 302
    builder.refresh_from_db()
    assert builder.roles == [Role.REVIEWER]


def test_a_second_tab_does_not_overwrite_silently(desk, builder):
    form = desk.get(address("account_edit", builder)).context["form"]
    sent = {name: form[name].value() for name in form.fields if form[name].value() not in (False, None)}
    edited(desk, builder, full_name="Bo Lindgren")
    response = desk.post(address("account_edit", builder), {**sent, "full_name": "Bo Linden"})
    assert response.status_code == 422
    assert "Full name is now Bo Lindgren" in errors_of(response)
    builder.refresh_from_db()
    assert builder.full_name == "Bo Lindgren"


def test_a_closed_account_keeps_its_reason_and_opens_again(desk, builder):
    assert desk.post(address("account_close", builder), {"reason": "Graduated in May"}).status_code == 302
    builder.refresh_from_db()
    assert not builder.is_active
    assert builder.closed_at is not None
    assert builder.closed_reason == "Graduated in May"
    desk.post(address("account_reopen", builder))
    builder.refresh_from_db()
    assert builder.is_active


def test_closing_needs_a_reason(desk, builder):
    response = desk.post(address("account_close", builder), {"reason": "", "once": "x"})
    assert response.status_code == 422
    builder.refresh_from_db()
    assert builder.is_active


def test_nobody_closes_their_own_account(desk, coordinator, director):
    make_account(Role.COORDINATOR)
    response = desk.post(address("account_close", coordinator), {"reason": "Leaving"})
    assert response.status_code == 422
    assert "You cannot close your own account." in errors_of(response)
    coordinator.refresh_from_db()
    assert coordinator.is_active


def test_the_last_coordinator_is_not_closed(as_person, coordinator, director):
    make_account(Role.COORDINATOR).close("Graduated")
    response = as_person(director).post(address("account_close", coordinator), {"reason": "Leaving"})
    assert response.status_code == 422
    assert "is the last lab coordinator" in errors_of(response)
    coordinator.refresh_from_db()
    assert coordinator.is_active


def test_the_last_coordinator_keeps_the_role(desk, coordinator):
    response = edited(desk, coordinator, is_coordinator=False, is_builder="on")
    assert response.status_code == 422
    assert "is the last lab coordinator" in errors_of(response)
    coordinator.refresh_from_db()
    assert coordinator.roles == [Role.COORDINATOR]


def test_one_of_two_coordinators_may_leave(as_person, coordinator, director):
    second = make_account(Role.COORDINATOR)
    refuse_if_last_coordinator(second)
    second.close("Graduated")
    with pytest.raises(ValidationError):
        refuse_if_last_coordinator(coordinator)


def test_nobody_resets_their_own_password_here(desk, coordinator):
    before = coordinator.password
    assert desk.post(address("account_reset_password", coordinator)).status_code == 403
    coordinator.refresh_from_db()
    assert coordinator.password == before


def test_a_reset_password_ends_the_sessions_of_that_person(desk, as_person, builder):
    signed_in = as_person(builder)
    desk.post(address("account_reset_password", builder))
    assert signed_in.get(reverse("password_change"))["Location"].startswith(reverse("sign_in"))


def test_the_list_asks_the_database_the_same_for_one_and_for_many(
    desk, coordinator, django_assert_max_num_queries, django_assert_num_queries
):
    with django_assert_max_num_queries(8) as counted:
        desk.get(reverse("accounts"))
    for _ in range(3):
        make_account(Role.BUILDER)
    with django_assert_num_queries(len(counted)):
        desk.get(reverse("accounts"))


def test_a_name_with_marks_in_it_is_shown_as_text(desk):
    make_account(Role.BUILDER, full_name="<script>alert(1)</script>")
    page = desk.get(reverse("accounts")).content.decode()
    assert "<script>alert" not in page
    assert "&lt;script&gt;alert(1)" in page


def test_the_trail_says_who_changed_what_and_keeps_no_password(desk, coordinator, builder):
    edited(desk, builder, is_reviewer="on")
    desk.post(address("account_reset_password", builder))
    changes = LogEntry.objects.get_for_object(builder).filter(action=LogEntry.Action.UPDATE)
    assert {entry.actor for entry in changes} == {coordinator}
    assert any("is_reviewer" in entry.changes for entry in changes)
    assert not any("password" in entry.changes for entry in changes)
