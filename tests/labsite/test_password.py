"""One's own password, and one that somebody else chose."""

import pytest
from django.urls import reverse

from tests.factory import PASSWORD

NEW = "seven quiet otters"


@pytest.fixture
def inside(client, builder):
    client.force_login(builder)
    return client


def change(client, old=PASSWORD, new=NEW, again=None):
    return client.post(reverse("password_change"), {"old": old, "new": new, "again": new if again is None else again})


def test_a_new_password_works_from_now_on_and_the_person_stays_signed_in(inside, builder):
    assert change(inside)["Location"] == reverse("home")
    builder.refresh_from_db()
    assert builder.check_password(NEW)
    assert inside.get(reverse("password_change")).status_code == 200


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"old": "wrong-password-here"}, "Enter the password you sign in with now."),
        ({"new": PASSWORD}, "Choose a new password that is not the one you have now."),
        ({"new": "short"}, "Choose a password of 12 characters or more."),
        ({"new": "1qaz2wsx3edc"}, "Choose a password that is not one of the common ones."),
        ({"again": "another quiet otter"}, "Type the new password twice alike."),
        ({"old": ""}, "Enter the password now"),
        ({"new": "x" * 100_000}, "must be 200 characters or fewer"),
    ],
)
def test_a_refused_password_changes_nothing(inside, builder, typed, message):
    response = change(inside, **typed)
    assert response.status_code == 422
    assert message in " ".join(text for texts in response.context["form"].errors.values() for text in texts)
    builder.refresh_from_db()
    assert builder.check_password(PASSWORD)


def test_a_password_like_the_name_is_refused(inside, builder):
    builder.full_name = "Bartholomew Lindqvist"
    builder.save(update_fields=["full_name"])
    assert change(inside, new="bartholomewlindqvist").status_code == 422


def test_a_changed_password_ends_other_sessions(inside, as_person, builder):
    elsewhere = as_person(builder)
    change(inside)
    assert elsewhere.get(reverse("password_change"))["Location"].startswith(reverse("sign_in"))


def test_a_one_time_password_opens_only_its_own_change(client, builder):
    builder.set_one_time_password("abcd-efgh-jkmn-pqrs")
    client.force_login(builder)
    assert client.get(reverse("home"))["Location"] == reverse("password_change")
    assert client.post(reverse("home"))["Location"] == reverse("password_change")
    change(client, old="abcd-efgh-jkmn-pqrs")
    builder.refresh_from_db()
    assert not builder.must_change_password
    assert client.get(reverse("home")).get("Location") != reverse("password_change")


def test_a_one_time_password_does_not_hinder_signing_out(client, builder):
    builder.set_one_time_password("abcd-efgh-jkmn-pqrs")
    client.force_login(builder)
    assert client.post(reverse("sign_out"))["Location"] == reverse("sign_in")
