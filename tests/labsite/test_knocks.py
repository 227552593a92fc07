"""Knocks are counted per door and place, for a stretch of time, without keeping the address."""

from datetime import timedelta
from threading import Thread

import pytest
from django.db import IntegrityError, connection, transaction
from django.test import RequestFactory
from django.utils import timezone

from labsite import audit, knocks
from labsite.models import FileOpening, Knock

MINUTE = timedelta(minutes=1)
THREADS, EACH = 4, 5


@pytest.mark.django_db
def test_the_next_after_the_most_is_too_many():
    answers = [knocks.too_many("gate", "10.0.0.1", most=2, within=MINUTE) for _ in range(4)]
    assert answers == [False, False, True, True]


@pytest.mark.django_db
def test_doors_and_places_are_counted_apart():
    knocks.count("gate", "10.0.0.1", within=MINUTE)
    assert knocks.count("gate", "10.0.0.2", within=MINUTE) == 1
    assert knocks.count("shed", "10.0.0.1", within=MINUTE) == 1
    assert knocks.count("gate", "10.0.0.1", within=MINUTE) == 2


@pytest.mark.django_db
def test_the_count_begins_again_after_the_time():
    knocks.count("gate", "10.0.0.1", within=MINUTE)
    Knock.objects.update(since=timezone.now() - MINUTE)
    assert knocks.count("gate", "10.0.0.1", within=MINUTE) == 1


@pytest.mark.django_db
def test_no_address_is_kept_and_old_counts_are_forgotten():
    knocks.count("gate", "10.0.0.1", within=MINUTE)
    assert "10.0.0.1" not in str(list(Knock.objects.values()))
    Knock.objects.update(since=timezone.now() - timedelta(days=2))
    knocks.count("gate", "10.0.0.2", within=MINUTE)
    assert Knock.objects.get().who == knocks.digest_of("10.0.0.2")


@pytest.mark.postgres
@pytest.mark.django_db(transaction=True)
def test_several_at_once_are_all_counted():
    def knock():
        for _ in range(EACH):
            knocks.count("gate", "10.0.0.1", within=MINUTE)
        connection.close()

    threads = [Thread(target=knock) for _ in range(THREADS)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert Knock.objects.get().times == THREADS * EACH


def request_from(address, **headers):
    return RequestFactory().get("/", REMOTE_ADDR=address, **headers)


def test_the_address_is_the_one_that_knocks(settings):
    settings.SECURE_PROXY_SSL_HEADER = None
    forged = request_from("10.0.0.9", HTTP_X_FORWARDED_FOR="10.0.0.1")
    assert knocks.address_of(forged) == "10.0.0.9"


def test_behind_a_proxy_only_the_address_that_the_proxy_wrote_counts(settings):
    settings.SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
    named = request_from("127.0.0.1", HTTP_X_FORWARDED_FOR="10.9.9.9, 10.0.0.1")
    assert knocks.address_of(named) == "10.0.0.1"
    assert knocks.address_of(request_from("127.0.0.1")) == "127.0.0.1"
    for odd in ("unknown", "10.0.0.1:4711", "", "'"):
        assert knocks.address_of(request_from("127.0.0.1", HTTP_X_FORWARDED_FOR=odd)) == "127.0.0.1"


@pytest.mark.django_db
def test_an_opening_says_by_whom():
    with pytest.raises(IntegrityError), transaction.atomic():
        FileOpening.objects.create(case_code="C-0001", what="Guide")


@pytest.mark.django_db
def test_an_opening_without_an_account_is_kept(coordinator):
    from clients.models import Client
    from clients.trail import openings

    client = Client(case_code="C-0001")
    audit.note_opening_without_account("family link 2", client, "Use guide")
    assert [(one["who"], one["what"]) for one in openings(client)] == [("family link 2", "Use guide")]
