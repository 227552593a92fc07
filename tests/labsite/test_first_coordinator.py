"""The command that makes the first account of an empty database."""

import getpass
import io

import pytest
from django.core.management import CommandError, call_command

from labsite.models import Account
from labsite.roles import Role

PASSWORD = "seven quiet otters"


def run(monkeypatch, *, password=PASSWORD, username="Cora", full_name="Cora Ames"):
    monkeypatch.setattr("sys.stdin", io.StringIO(f"{password}\n"))
    said = io.StringIO()
    call_command("first_coordinator", username=username, full_name=full_name, password_stdin=True, stdout=said)
    return said.getvalue()


def test_it_makes_a_coordinator_who_can_sign_in(db, monkeypatch):
    assert "signs in as cora" in run(monkeypatch)
    account = Account.objects.get()
    assert account.roles == [Role.COORDINATOR]
    assert account.check_password(PASSWORD)
    assert not account.must_change_password


def test_it_asks_for_what_was_not_given(db, monkeypatch):
    answers = iter(["Cora Ames", "cora"])
    monkeypatch.setattr("builtins.input", lambda prompt: next(answers))
    monkeypatch.setattr(getpass, "getpass", lambda prompt: PASSWORD)
    call_command("first_coordinator", stdout=io.StringIO())
    assert Account.objects.get().username == "cora"


def test_two_passwords_that_differ_are_refused(db, monkeypatch):
    passwords = iter([PASSWORD, "seven loud otters"])
    monkeypatch.setattr(getpass, "getpass", lambda prompt: next(passwords))
    with pytest.raises(CommandError, match="The two passwords differ"):
        call_command("first_coordinator", username="cora", full_name="Cora Ames")
    assert not Account.objects.exists()


@pytest.mark.parametrize(
    ("given", "message"),
    [
        ({"password": "short"}, "12 characters or more"),
        ({"username": "x" * 61}, "60 characters"),
        ({"full_name": "x" * 121}, "120 characters"),
    ],
)
def test_what_a_page_would_refuse_is_refused(db, monkeypatch, given, message):
    with pytest.raises(CommandError, match=message):
        run(monkeypatch, **given)
    assert not Account.objects.exists()


def test_it_refuses_when_a_coordinator_exists(coordinator, monkeypatch):
    with pytest.raises(CommandError, match="A lab coordinator exists"):
        run(monkeypatch, username="second")
    assert Account.objects.count() == 1
