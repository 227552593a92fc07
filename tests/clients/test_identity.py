"""Builders see what a client needs and never who the client is; every look at who it is leaves a trace."""

import pytest
from django.urls import reverse

from builds.demo.factories import clients as make
from clients.models import Client
from labsite.models import FileOpening
from tests.access.clients import ROWS
from tests.clients.builds import make_build
from tests.clients.conftest import at, errors, send
from tests.instants import without_instants

PAGES = sorted({row.name for row in ROWS if row.method == "GET" and row.expected["builder"] == 200})
IDENTIFYING = {
    "given name": "Zephyrine",
    "family name": "Quillfeather",
    "birth date": "2021",
    "address": "Marrowbone",
    "caregiver": "Ottoline",
    "phone": "5550199",
    "mail": "ottoline@example.org",
    "referrer": "Balthazar",
    "referrer's clinic": "Larkspur",
    "reason in the referrer's words": "Squeals with delight",
    "signer": "Persephone",
    "measurer": "Wilhelmina",
    "goal in the family's words": "Chase cousin",
    "withdrawal": "Telephoned on Sunday",
    "hours at home": "05:17",
}


@pytest.fixture
def told(lab, coordinator, builder):
    """A client with something identifying in every field that may hold it."""
    client = make.make_cleared_client(
        coordinator,
        person__given_name="Zephyrine",
        person__family_name="Quillfeather",
        person__birth_date="2021-07-19",
        person__address="4 Marrowbone Row",
        case__referrer_name="Balthazar Stone",
        case__referrer_organisation="Larkspur Clinic",
        case__referrer_contact="5550198",
        case__reason="Squeals with delight when moved",
    )
    client.caregivers.update(name="Ottoline Quillfeather", phone="5550199", email="ottoline@example.org")
    client.consents.update(signer="Persephone Quillfeather", withdrawn_note="Telephoned on Sunday")
    client.measures.update(taken_by="Wilhelmina Crane")
    client.goals.update(text="Chase cousin Zephyrine")
    client.household.wake_time = "05:17"
    client.household.save(update_fields=["wake_time"])
    make_build(client, builder)
    return client


def arguments(name, client):
    return {
        "waiting_list": {},
        "clients": {},
        "measure_history": {"case_code": client.case_code, "kind": "mass"},
    }.get(name, {"case_code": client.case_code})


def told_by(page):
    text = page.content.decode() + "".join(f"{key}: {value}" for key, value in page.items())
    text = without_instants(text)
    return [what for what, string in IDENTIFYING.items() if string in text]


@pytest.mark.parametrize("name", PAGES)
def test_no_page_tells_a_builder_who_the_client_is(name, told, builder, as_person):
    page = as_person(builder).get(reverse(name, kwargs=arguments(name, told)))
    assert page.status_code == 200
    assert told_by(page) == []


@pytest.mark.parametrize("name", ["waiting_list", "clients", "client_page"])
def test_no_page_tells_a_reviewer_the_name(name, told, reviewer, as_person):
    page = as_person(reviewer).get(reverse(name, kwargs=arguments(name, told)))
    assert set(told_by(page)) <= {"goal in the family's words", "given name"}
    assert "Quillfeather" not in page.content.decode()


def test_the_desk_sees_all_of_it(told, coordinator, as_person):
    page = as_person(coordinator).get(at("client_page", told))
    assert set(told_by(page)) == set(IDENTIFYING) - {"measurer", "withdrawal"}


def test_the_queryset_of_the_workshop_fetches_nobody(told, django_assert_num_queries):
    client = Client.objects.with_needs().get(pk=told.pk)
    fetched = set(client._state.fields_cache) | set(client._prefetched_objects_cache)
    assert fetched == {"access", "sitting", "household", "measures", "clearances", "cautions", "places"}


def test_opening_a_page_with_identity_is_written_down(told, director, as_person):
    as_person(director).get(at("client_page", told))
    opening = FileOpening.objects.get()
    assert (opening.account, opening.case_code, opening.what) == (director, told.case_code, "Client page")


def test_a_page_without_identity_is_not_an_opening(told, builder, reviewer, as_person):
    for account in (builder, reviewer):
        as_person(account).get(at("client_page", told))
    assert not FileOpening.objects.exists()


def test_a_builder_of_a_finished_build_finds_the_client_no_longer(told, builder, as_person):
    told.builds.update(stage="retired")
    assert as_person(builder).get(at("client_page", told)).status_code == 404


def test_a_builder_of_a_cancelled_build_finds_the_client_no_longer(told, builder, as_person):
    told.builds.update(standing="cancelled")
    assert as_person(builder).get(at("client_page", told)).status_code == 404


@pytest.mark.parametrize(
    ("name", "field"),
    [
        ("access_edit", "fatigue_note"),
        ("cautions_edit", "seizures_plan"),
        ("place_new", "hazards"),
        ("measure_new", "supports_worn"),
        ("clearance_new", "conditions"),
        ("sitting_edit", "reason"),
    ],
)
@pytest.mark.parametrize("text", ["Zephyrine leans left", "ask OTTOLINE first", "for Zéphyrine"])
def test_text_that_builders_read_names_nobody(name, field, text, told, desk):
    refused = errors(send(desk, at(name, told), **{field: text}))
    assert "is read by builders" in refused[field][0]


def test_the_message_after_a_change_names_nobody(told, desk):
    answer = send(desk, at("person_edit", told), given_name="Zephyrina")
    assert told_by(desk.get(at("measure_history", told, "mass"))) == ["measurer"]
    assert answer.status_code == 302
