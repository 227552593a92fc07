"""The file of a family is erased by two people, and only when nothing is built for the client any more."""

import uuid

import pytest
from auditlog.models import LogEntry
from django.contrib.contenttypes.models import ContentType
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction
from django.utils import timezone

from builds.demo.factories import clients as make
from clients import erasing
from clients.export import records
from clients.models import CaseMove, Client, Erasure, Referral
from clients.naming import ERASED, Identity
from labsite.models import FileOpening
from labsite.roles import Role
from tests.clients.builds import make_build
from tests.clients.conftest import at, errors, send
from tests.factory import make_account

SAID = {"asked_by": "parent", "asked_on": "2026-02-03", "reason": "They moved away"}
STAYING = {Referral, CaseMove, Erasure}


@pytest.fixture
def closed(lab, coordinator):
    """A client whose case is closed and who has no build."""
    client = make.make_cleared_client(coordinator, case__outcome="withdrawn", case__outcome_on=timezone.localdate())
    case = client.referrals.get()
    case.moves.create(
        from_stage="", to_stage="referral", on=case.received_on, reason="Grandmother rang", made_by=coordinator
    )
    return client


@pytest.fixture
def begun(closed, coordinator):
    return make.ErasureFactory(client=closed, begun_by=coordinator)


@pytest.fixture
def hall(lab, director, as_person):
    return as_person(director)


def confirm(browser, client, **typed):
    return browser.post(at("erasure_confirm", client), {"once": uuid.uuid4(), "case_code": client.case_code, **typed})


# Begin


def test_the_coordinator_begins_it_and_nothing_is_gone_yet(desk, closed, coordinator):
    page = desk.get(at("client_erase", closed)).text
    assert "Person file" in page and "Backups of the lab keep the file until newer ones replace them." in page
    assert send(desk, at("client_erase", closed), **SAID).status_code == 302
    erasure = closed.erasures.get()
    assert (erasure.asked_by, erasure.begun_by, erasure.waits) == ("parent", coordinator, True)
    assert Client.objects.get(pk=closed.pk).person and not Client.objects.get(pk=closed.pk).is_erased
    assert "Waits for the lab director" in desk.get(at("client_page", closed)).text
    assert closed.case_code in desk.get("/desk/").text


def test_what_is_written_down_names_nobody(desk, closed):
    reason = f"The mother of {closed.person.given_name} asked"
    refused = errors(send(desk, at("client_erase", closed), **{**SAID, "reason": reason}))
    assert "stays when the file is gone" in refused["reason"][0]


def test_it_waits_for_the_day_asked_to_come(desk, closed):
    assert "asked_on" in errors(send(desk, at("client_erase", closed), **{**SAID, "asked_on": "2999-01-01"}))


def test_it_is_begun_once(desk, closed, begun):
    assert desk.get(at("client_erase", closed)).status_code == 302
    with pytest.raises(ValidationError, match="begun already"):
        erasing.begin(Erasure(client=closed, begun_by=begun.begun_by, **SAID))
    with transaction.atomic(), pytest.raises(IntegrityError):
        make.ErasureFactory(client=closed, begun_by=begun.begun_by)


def test_an_open_case_stands_in_the_way(desk, cleared):
    page = desk.get(at("client_erase", cleared))
    assert "The case is open. Close it with its outcome first." in page.text and 'class="lab-form"' not in page.text
    answer = desk.post(at("client_erase", cleared), {"once": uuid.uuid4(), **SAID})
    assert answer.status_code == 422 and not Erasure.objects.exists()


@pytest.mark.parametrize(
    ("facts", "told"),
    [
        ({"stage": "adaptation"}, "is at Adaptation. Finish it and take it back, or cancel it."),
        ({"stage": "in_use"}, "is with the family. Take the unit back first"),
        ({"stage": "plan", "standing": "on_hold"}, "is at Plan."),
        ({"stage": "in_use", "standing": "cancelled"}, "is with the family."),
        ({"stage": "plan", "standing": "cancelled"}, ""),
        ({"stage": "returned"}, ""),
        ({"stage": "retired"}, ""),
    ],
)
def test_a_build_that_goes_on_stands_in_the_way(closed, builder, facts, told):
    build = make_build(closed, builder, **facts)
    found = erasing.what_stands_in_the_way(closed)
    assert len(found) == bool(told) and all(told in one and build.number in one for one in found)


def test_an_open_task_stands_in_the_way(closed, builder):
    build = make_build(closed, builder, stage="returned")
    build.tasks.create(text="Call the family today", due_on=timezone.localdate())
    (found,) = erasing.what_stands_in_the_way(closed)
    assert "Call the family today" in found


# Confirm


def test_the_director_confirms_with_the_case_code(hall, closed, begun, director):
    page = hall.get(at("erasure_confirm", closed)).text
    assert begun.reason in page and "Erase the file now" in page
    assert "must be" in errors(confirm(hall, closed, case_code="C-9"))["case_code"][0]
    assert confirm(hall, closed, case_code=f" {closed.case_code.lower()} ").status_code == 302
    begun.refresh_from_db()
    closed.refresh_from_db()
    assert (begun.confirmed_by, closed.is_erased) == (director, True)
    assert "The file of the client and the family is gone" in hall.get(at("client_page", closed)).text


def test_whoever_began_it_does_not_confirm_it(closed, as_person):
    both = make_account(Role.COORDINATOR, username="both")
    both.is_director = True
    both.save(update_fields=["is_director"])
    begun = make.ErasureFactory(client=closed, begun_by=both)
    browser = as_person(both)
    assert "Erase the file now" not in browser.get(at("erasure_confirm", closed)).text
    assert "Two people" in str(errors(confirm(browser, closed)))
    with pytest.raises(IntegrityError), transaction.atomic():
        Erasure.objects.filter(pk=begun.pk).update(confirmed_by=both)


def test_a_build_begun_meanwhile_stops_it(hall, closed, begun, builder):
    make_build(closed, builder, stage="adaptation")
    assert "is at Adaptation" in str(errors(confirm(hall, closed)))
    assert not Client.objects.get(pk=closed.pk).is_erased


def test_it_may_be_taken_back_and_begun_again(desk, closed, begun, coordinator):
    assert send(desk, at("erasure_take_back", closed), reason="They want to stay").status_code == 302
    begun.refresh_from_db()
    assert (begun.declined_by, begun.waits) == (coordinator, False)
    assert desk.get(at("erasure_take_back", closed)).status_code == 404
    assert send(desk, at("client_erase", closed), **SAID).status_code == 302


def test_what_was_taken_back_is_not_confirmed(hall, closed, begun, coordinator, director):
    erasing.take_back(begun, coordinator, "They want to stay")
    assert hall.get(at("erasure_confirm", closed)).status_code == 404
    with pytest.raises(ValidationError, match="taken back"):
        erasing.confirm(begun, director)


# What is gone


@pytest.mark.postgres
def test_every_record_of_the_family_goes_and_the_case_stays(closed, begun, director):
    referral = closed.referrals.get()
    erasing.confirm(begun, director)
    left = {model for model, path in records() if model._default_manager.filter(**{path: closed}).exists()}
    assert left == STAYING
    stands = Referral.objects.get(pk=referral.pk)
    assert (stands.reason, stands.referrer_name) == (ERASED, ERASED if referral.referrer_name else "")
    assert (stands.received_on, stands.outcome, stands.source) == (referral.received_on, "withdrawn", referral.source)
    assert CaseMove.objects.get(referral=referral).reason == ERASED


def test_every_text_of_what_stays_is_emptied(closed):
    """A new column of a referral is emptied or is said here to stay."""
    stay = {Referral: set(), CaseMove: {"from_stage", "to_stage"}}
    for model in (Referral, CaseMove):
        texts = {
            field.name for field in model._meta.concrete_fields
            if field.get_internal_type() in ("CharField", "TextField") and not field.choices
        }  # fmt: skip
        assert texts - set(erasing.WORDS[model]) == stay[model]


@pytest.mark.postgres
def test_the_trail_keeps_who_and_when_without_values(closed, begun, director, hall):
    before = set(LogEntry.objects.filter(additional_data__client=closed.pk).values_list("pk", flat=True))
    erasing.confirm(begun, director)
    entries = LogEntry.objects.filter(additional_data__client=closed.pk)
    assert before <= set(entries.values_list("pk", flat=True))
    of_erasure = ContentType.objects.get_for_model(Erasure)
    assert not entries.exclude(content_type=of_erasure).exclude(changes={}).exists()
    assert not entries.exclude(content_type=of_erasure).exclude(object_repr=ERASED).exists()
    assert hall.get(at("client_trail", closed)).status_code == 200


def test_done_twice_it_is_done_once(closed, begun, director, django_capture_on_commit_callbacks):
    with django_capture_on_commit_callbacks(execute=True):
        erasing.confirm(begun, director)
    at_first = Client.objects.get(pk=closed.pk).erased_at
    with django_capture_on_commit_callbacks(execute=True):
        erasing.confirm(begun, director)
    assert Client.objects.get(pk=closed.pk).erased_at == at_first


def test_nothing_is_gone_when_it_fails_halfway(closed, begun, director, monkeypatch):
    def fail(client):
        raise RuntimeError("the power went")

    monkeypatch.setattr(erasing, "empty_trail", fail)
    with pytest.raises(RuntimeError):
        erasing.confirm(begun, director)
    stands = Client.objects.get(pk=closed.pk)
    assert stands.person and not stands.is_erased


def test_files_that_cannot_be_deleted_are_tried_again(
    closed, begun, director, hall, monkeypatch, django_capture_on_commit_callbacks
):
    monkeypatch.setattr(erasing.hooks, "erase_elsewhere", [lambda client, names, account: ["photos/one.jpg"]])
    monkeypatch.setattr(erasing, "is_deleted", lambda name: False)
    with django_capture_on_commit_callbacks(execute=True):
        erasing.confirm(begun, director)
    page = hall.get(at("client_page", closed)).text
    assert "1 file could not be deleted" in page and "Delete them again" in page
    monkeypatch.setattr(erasing, "is_deleted", lambda name: True)
    with django_capture_on_commit_callbacks(execute=True):
        assert hall.post(at("erasure_confirm", closed), {"once": uuid.uuid4()}).status_code == 302
    begun.refresh_from_db()
    assert begun.files_left == []


# Afterwards


@pytest.mark.parametrize("name", ["person_edit", "caregiver_new", "consent_new", "measure_new", "referral_again"])
def test_nothing_is_added_any_more(name, closed, begun, director, desk):
    erasing.confirm(begun, director)
    answer = desk.get(at(name, closed))
    assert answer.status_code == 403 and "is erased" in answer.text


@pytest.mark.parametrize("role", ["coordinator", "reviewer", "director"])
def test_lists_mark_the_case_code(role, closed, begun, director, request, as_person):
    erasing.confirm(begun, director)
    browser = as_person(request.getfixturevalue(role))
    assert f"{closed.case_code} (erased)" in browser.get("/clients/").text
    assert "Erased" in browser.get(at("client_page", closed)).text


def test_a_client_of_whom_little_is_known_is_not_called_erased(desk, known):
    page = desk.get("/clients/").text
    assert known.case_code in page and "erased" not in page.lower()


def test_who_looked_stays_known(closed, begun, director, hall):
    FileOpening.objects.create(account=director, case_code=closed.case_code, what="Client page")
    erasing.confirm(begun, director)
    assert FileOpening.objects.filter(case_code=closed.case_code, what="Client page").exists()


# Names


@pytest.fixture
def names(closed):
    closed.person.given_name, closed.person.family_name = "Zephyrine", "May"
    closed.person.birth_date = timezone.datetime(2021, 7, 19).date()
    closed.person.address = "4 Marrowbone Row\nAlder Creek"
    closed.person.save()
    closed.caregivers.update(name="你好 Quillfeather", phone="555 0199 77", email="otto@example.org")
    make_account(Role.BUILDER, username="q", full_name="Quentin Quillfeather")
    return Identity(Client.objects.get(pk=closed.pk))


@pytest.mark.parametrize(
    ("text", "left"),
    [
        ("zephyrine leans left", f"{ERASED} leans left"),
        ("Ask QUILLFEATHER first", f"Ask {ERASED} first"),
        ("May leans; it may rain", f"{ERASED} leans; it may rain"),
        ("at 4 Marrowbone  Row, yard", f"at {ERASED}, yard"),
        ("ring 555 0199 77 or otto@example.org", f"ring {ERASED} or {ERASED}"),
        ("born 2021-07-19, 19 July 2021, 19 Jul 2021", f"born {ERASED}, {ERASED}, {ERASED}"),
        ("checked by Quentin Quillfeather", "checked by Quentin Quillfeather"),
        ("Zephyrinetown, 1555 0199 775", "Zephyrinetown, 1555 0199 775"),
        ("", ""),
    ],
)
def test_names_are_taken_out_of_text(names, text, left):
    assert names.out_of(text) == left


def test_names_are_taken_out_of_what_json_holds(names):
    assert names.out_of({"side": ["Zephyrine", 1, None, {"x": "May 4"}]}) == {
        "side": [ERASED, 1, None, {"x": f"{ERASED} 4"}]
    }
