"""The door: the word opens it, nothing else does, every dead link looks the same, and guessing ends soon."""

import re
from datetime import datetime, timedelta
from threading import Thread
from zoneinfo import ZoneInfo

import pytest
from django.core import signing
from django.db import connection, transaction
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from builds.demo.factories.papers import make_build_for
from builds.papers.family import links
from builds.papers.family.models import FamilyLink
from builds.record.models import Build
from labsite.models import FileOpening, Knock, Lab
from labsite.roles import Role
from tests.builds.papers.family.conftest import WORD, at, door
from tests.factory import make_account


def fresh(made):
    return FamilyLink.objects.get(pk=made.link.pk)


def change(made, **values):
    FamilyLink.objects.filter(pk=made.link.pk).update(**values)


def test_without_the_word_every_page_leads_to_the_door(stranger, made):
    assert "Type your word" in stranger.get(door(made)).text
    for name, more in (("family_report", {}), ("family_diary", {}), ("family_paper", {"kind": "use_guide"})):
        assert stranger.get(at(made, name, **more))["Location"] == door(made)


@pytest.mark.parametrize("typed", [WORD, "BAMOTU", " ba motu ", "bámotu", "Bamotu."])
def test_the_word_opens_it_however_a_phone_writes_it(stranger, made, typed):
    assert stranger.post(door(made), {"word": typed}).status_code == 302
    assert "Your pages" in stranger.get(door(made)).text
    assert fresh(made).opened_at is not None


@pytest.mark.parametrize("typed", ["", "bamot", "bamotuu", "x" * 90, "a\x00b"])
def test_another_word_does_not(stranger, made, typed):
    assert stranger.post(door(made), {"word": typed}).status_code == 422
    assert "Type your word" in stranger.get(door(made)).text


def cut(made):
    return made.token[:-3]


def guessed(made):
    return "a" * 22 + "." + "b" * 43


def of_another_site(made):
    return signing.Signer(key="another site's key", salt=links.SALT, sep=".").sign(made.token.partition(".")[0])


def expired(made):
    change(made, expires_at=timezone.now())
    return made.token


def revoked(made):
    change(made, revoked_at=timezone.now())
    return made.token


def returned(made):
    Build.objects.filter(pk=made.link.build_id).update(stage="returned")
    return made.token


DEAD = [cut, guessed, of_another_site, expired, revoked, returned]


@pytest.mark.parametrize("fault", DEAD)
def test_a_dead_link_says_nothing_of_its_fault(phone, stranger, made, fault):
    token = fault(made)
    told = stranger.get(reverse("family_link", args=["nonsense"]))
    answer = phone.get(reverse("family_link", args=[token]))
    assert (answer.status_code, answer.text) == (404, told.text)
    assert "This link no longer works" in answer.text
    assert phone.post(reverse("family_link", args=[token]), {"word": WORD}).text == told.text
    assert phone.get(reverse("family_report", args=[token]))["Location"] == reverse("family_link", args=[token])


def test_five_wrong_words_lock_the_link_for_everybody_and_each_five_more_for_twice_as_long(stranger, made):
    for _ in range(4):
        assert links.try_word(made.link, "wrong") == "wrong"
    assert links.try_word(made.link, "wrong") == "locked"
    assert fresh(made).locked_until - timezone.now() > timedelta(minutes=14)
    answer = stranger.post(door(made), {"word": WORD})
    assert answer.status_code == 429
    assert "Too many tries" in answer.text
    change(made, locked_until=timezone.now())
    for _ in range(5):
        links.try_word(made.link, "wrong")
    assert fresh(made).locked_until - timezone.now() > timedelta(minutes=29)


def test_a_dead_link_says_to_check_the_address_in_every_language_the_browser_s_first(stranger, db):
    for asked, first, second in (("en-GB,en", "en", "es"), ("es-MX,es", "es", "en"), ("fi", "en", "es")):
        page = stranger.get("/family/nonsense/", headers={"accept-language": asked}).text
        assert f'<html lang="{first}">' in page
        _, own, other = re.split(r'<div lang="(?:en|es)">', page)
        assert page.index(f'<div lang="{first}">') < page.index(f'<div lang="{second}">')
        told = {"en": own, "es": other} if first == "en" else {"en": other, "es": own}
        assert "Scan the square on your sheet again, or type all of the address." in told["en"]
        assert "Lea otra vez el cuadro de su hoja con la cámara, o escriba toda la dirección." in told["es"]
        assert "Call the emergency number" in told["en"] and "número de emergencia" in told["es"]
        assert page.count("<h1>") == 1
        ids = re.findall(r' id="(.*?)"', page)
        assert len(ids) == len(set(ids))


TOKYO = ZoneInfo("Asia/Tokyo")


@pytest.fixture
def lab_clock(made, monkeypatch):
    """Sets the clock of a lab that is hours away from the server's own zone."""
    Lab.objects.update(time_zone="Asia/Tokyo")

    def stop_at(moment):
        monkeypatch.setattr(timezone, "now", lambda: moment)

    return stop_at


def test_a_locked_link_says_until_when_by_the_lab_s_clock(stranger, made, lab_clock):
    lab_clock(datetime(2026, 11, 30, 13, 5, 20, tzinfo=TOKYO))
    for _ in range(5):
        page = stranger.post(door(made), {"word": "wrong"}).text
    assert "Wait until 1:21 pm (13:21), or call the lab." in page  # 15 minutes, to the next full one
    assert "At the lab it is now 1:05 pm (13:05)." in page
    lab_clock(datetime(2026, 11, 30, 13, 21, tzinfo=TOKYO))
    assert stranger.post(door(made), {"word": WORD}).status_code == 302


def test_a_wait_beyond_midnight_names_the_day(stranger, made, lab_clock):
    lab_clock(datetime(2026, 11, 30, 23, 50, tzinfo=TOKYO))
    for _ in range(5):
        page = stranger.post(door(made), {"word": "wrong"}).text
    assert "Wait until 12:06 am (00:06) on 1 Dec 2026, or call the lab." in page


def test_a_locked_link_tells_nobody_whether_the_word_was_right(stranger, made, lab_clock):
    lab_clock(datetime(2026, 11, 30, 13, 5, 20, tzinfo=TOKYO))
    change(made, locked_until=timezone.now() + timedelta(minutes=9))
    right, wrong = (stranger.post(door(made), {"word": word}) for word in (WORD, "wrong"))
    assert (right.status_code, right.text) == (wrong.status_code, wrong.text)


@pytest.mark.postgres
@pytest.mark.django_db(transaction=True)
def test_guesses_sent_at_the_same_time_are_counted_one_by_one():
    with transaction.atomic():
        made = links.make_link(make_build_for(), make_account(Role.COORDINATOR), days=30, word=WORD)

    def guess():
        for _ in range(4):
            links.try_word(made.link, "wrong")
        connection.close()

    threads = [Thread(target=guess) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert fresh(made).failures == 5  # the sixth of sixteen already found it locked
    assert fresh(made).is_locked


def test_the_right_word_forgets_the_failures(made):
    links.try_word(made.link, "wrong")
    assert links.try_word(made.link, WORD) == "open"
    assert fresh(made).failures == 0


def test_waits_never_grow_beyond_a_day():
    assert links.wait_after(5) == timedelta(minutes=15)
    assert links.wait_after(5_000) == timedelta(days=1)


def test_one_address_may_not_try_without_end(stranger, made):
    statuses = [stranger.post(door(made), {"word": ""}).status_code for _ in range(32)]
    assert statuses[:30] == [422] * 30
    assert set(statuses[30:]) == {429}
    change(made, locked_until=timezone.now() + timedelta(hours=3))
    page = stranger.post(door(made), {"word": WORD}).text
    assert "Wait 15 minutes, or call the lab." in page
    assert "until" not in page and "At the lab it is now" not in page


def test_dead_links_are_counted_by_address_too(stranger, made):
    address = reverse("family_link", args=["nonsense"])
    assert [stranger.get(address).status_code for _ in range(31)][-1] == 429
    assert Knock.objects.get(door="family link").times == 31


def test_the_cookie_opens_no_other_link_and_lasts_half_an_hour(phone, build, coordinator, made):
    cookie = phone.cookies["family"]
    assert cookie["path"] == door(made)
    assert cookie["httponly"] is True
    assert cookie["max-age"] == 1800
    other = links.make_link(build, coordinator, days=30, word="other")
    phone.cookies["family"]["path"] = "/"
    assert "Type your word" in phone.get(door(other)).text


def test_a_revoked_link_is_closed_to_whoever_had_it_open(phone, made, coordinator):
    made.link.revoke(coordinator)
    assert phone.get(door(made)).status_code == 404


def test_closing_takes_the_cookie_away(phone, made):
    phone.post(at(made, "family_close"))
    assert "Type your word" in phone.get(door(made)).text


def test_the_link_is_no_sign_in(phone, build):
    assert phone.get(reverse("ticket", args=[build.number])).status_code == 302


def test_every_opening_stands_in_the_trail(phone, made):
    phone.get(at(made, "family_paper", kind="use_guide"))
    phone.get(at(made, "family_diary"))
    whats = FileOpening.objects.filter(by=f"Family link 1 of {made.link.build.number}").order_by("pk")
    assert [one.what for one in whats] == ["Opened", "Use guide", "Use diary"]


def test_neither_the_address_nor_the_word_is_kept(made):
    from auditlog.models import LogEntry
    from django.core import serializers

    kept = serializers.serialize("json", FamilyLink.objects.all())
    trail = str([entry.changes for entry in LogEntry.objects.all()])
    key = made.token.partition(".")[0]
    for secret in (key, WORD):
        assert secret not in kept
        assert secret not in trail


def test_nobody_lists_or_keeps_these_pages(phone, stranger, made):
    for client in (phone, stranger):
        for address in (door(made), at(made, "family_paper", kind="use_guide"), reverse("family_link", args=["no"])):
            answer = client.get(address, follow=True)
            assert "no-store" in answer["Cache-Control"]
            assert "noindex" in answer["X-Robots-Tag"]
            assert answer["Referrer-Policy"] == ("same-origin" if "<form" in answer.text else "no-referrer")


def test_words_are_read_alike_and_differ():
    words = {links.new_word() for _ in range(200)}
    assert len(words) > 190
    assert all(len(word) == 6 and word.isascii() and word.isalpha() for word in words)
    assert not any(part in word for word in words for part in links.UNFIT)


@pytest.mark.parametrize("rest", ["", "x/y/", "papers/use_guide/"])
def test_an_address_with_too_much_or_too_little_says_what_a_family_needs(made, rest):
    for address in (f"/family/{rest}", f"/family/{made.token}/{rest}more/"):
        answer = Client().get(address)
        assert answer.status_code == 404
        assert "This link no longer works" in answer.text and "lab coordinator" not in answer.text
    assert Client().get(f"/family/{made.token}")["Location"] == f"/family/{made.token}/"
