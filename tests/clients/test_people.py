"""Person file, caregivers, hours at home and places: kept by the desk, unknown stays unknown."""

import datetime
import uuid

import pytest
from django.utils import timezone
from django.utils.formats import date_format

from builds.demo.factories import clients as make
from clients.dates import years_ago
from clients.models import Household, PersonFile
from tests.clients.conftest import at, errors, send

CAREGIVER = {"name": "Ruth Hartigan", "relation": "Grandmother", "phone": "555 0131", "language": "es"}


@pytest.mark.parametrize("typed", ["1900-05-01", "0001-01-01"])
def test_a_birth_date_more_than_120_years_ago_is_refused_with_the_limit(typed, desk, cleared):
    limit = date_format(years_ago(120), "j F Y")
    refused = errors(send(desk, at("person_edit", cleared), birth_date=typed))
    assert refused["birth_date"] == [f"Birth date must be {limit} or later, at most 120 years ago"]


def test_a_client_of_120_years_is_kept(desk, cleared):
    send(desk, at("person_edit", cleared), birth_date=str(years_ago(120)))
    assert PersonFile.objects.get(client=cleared).birth_date == years_ago(120)


def test_years_ago_of_the_last_of_february(monkeypatch):
    monkeypatch.setattr(timezone, "localdate", lambda: datetime.date(2028, 2, 29))
    assert (years_ago(120), years_ago(121)) == (datetime.date(1908, 2, 29), datetime.date(1907, 2, 28))


def test_a_birth_date_after_the_first_measure_is_refused(desk, cleared):
    later = timezone.localdate() - datetime.timedelta(days=1)
    refused = errors(send(desk, at("person_edit", cleared), birth_date=str(later)))
    assert refused["birth_date"][0].startswith("Birth date must be") and "first measure" in refused["birth_date"][0]


def test_a_second_tab_on_the_person_file_is_told_what_changed(desk, cleared):
    address = at("person_edit", cleared)
    opened = {bound.html_name: bound.value() or "" for bound in desk.get(address).context["form"]}
    send(desk, address, address="2 Mill Row")
    refused = errors(desk.post(address, opened | {"address": "9 Old Row", "once": uuid.uuid4()}))
    assert refused["address"][0].startswith("Address is now 2 Mill Row (it was 17 Quarry Lane")


def test_a_caregiver_is_added_changed_and_removed(desk, known):
    send(desk, at("caregiver_new", known), **CAREGIVER, supervises="on")
    one = known.caregivers.get()
    assert (one.name, one.language, one.interpreter, one.supervises) == ("Ruth Hartigan", "es", "unknown", True)
    send(desk, at("caregiver_edit", known, one.pk), phone="555 0132")
    assert known.caregivers.get().phone == "555 0132"
    assert desk.post(at("caregiver_remove", known, one.pk), {"once": uuid.uuid4()}).status_code == 302
    assert not known.caregivers.exists()


def test_looking_at_the_removal_page_removes_nobody(desk, cleared):
    one = cleared.caregivers.get()
    assert desk.get(at("caregiver_remove", cleared, one.pk)).status_code == 200
    assert cleared.caregivers.get() == one


def test_only_one_caregiver_is_called_first(desk, cleared):
    send(desk, at("caregiver_new", cleared), **CAREGIVER, is_first_contact="on")
    assert [one.name for one in cleared.caregivers.filter(is_first_contact=True)] == ["Ruth Hartigan"]


@pytest.mark.parametrize("phone", ["", "none"])
def test_the_first_to_be_called_needs_a_phone(phone, desk, known):
    typed = CAREGIVER | {"phone": phone}
    assert "phone" in errors(send(desk, at("caregiver_new", known), **typed, is_first_contact="on"))


def test_hours_at_home_left_empty_stay_unknown(desk, known):
    assert send(desk, at("household_edit", known), wake_time="06:30").status_code == 302
    home = Household.objects.get(client=known)
    assert (home.wake_time, home.sleep_time, home.socket) == (datetime.time(6, 30), None, "unknown")


def test_plugging_in_while_everybody_sleeps_is_refused(desk, known):
    typed = {"wake_time": "06:30", "sleep_time": "22:00", "plug_in_time": "23:00"}
    refused = errors(send(desk, at("household_edit", known), **typed))
    assert refused["plug_in_time"] == ["Enter a time between 06:30 and 22:00, when an adult is up"]


def test_an_evening_may_run_past_midnight(desk, known):
    typed = {"wake_time": "08:00", "sleep_time": "00:30", "plug_in_time": "23:30"}
    assert send(desk, at("household_edit", known), **typed).status_code == 302


def test_a_second_person_who_begins_the_same_row_does_not_overwrite_it(desk, known):
    address = at("household_edit", known)
    opened = {bound.html_name: bound.value() or "" for bound in desk.get(address).context["form"]}
    send(desk, address, wake_time="06:30")
    refused = errors(desk.post(address, opened | {"wake_time": "09:00", "once": uuid.uuid4()}))
    assert "Check them and save again" in refused["__all__"][0]
    assert Household.objects.get().wake_time == datetime.time(6, 30)


def test_a_slope_left_empty_stays_unknown(desk, known):
    send(desk, at("place_new", known), kind="yard", name="Yard")
    assert known.places.get().slope_deg is None
    assert b"The slope is unknown at: Yard" in desk.get(at("client_page", known)).content


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("50", "Steepest slope must be 45 ° or less"),
        ("-3", "Steepest slope must be 0 ° or more"),
        ("4 kg", "kg is the unit of a mass"),
        ("steep", "Steepest slope must be an angle"),
    ],
)
def test_a_slope_that_cannot_be_is_refused(typed, words, desk, known):
    refused = errors(send(desk, at("place_new", known), kind="yard", name="Yard", slope_deg=typed))
    assert words in refused["slope_deg"][0]


def test_a_place_is_changed_and_removed(desk, cleared):
    place = cleared.places.get()
    send(desk, at("place_edit", cleared, place.pk), slope_deg="6")
    assert cleared.places.get().slope_deg == 6
    desk.post(at("place_remove", cleared, place.pk), {"once": uuid.uuid4()})
    assert not cleared.places.exists()


def test_a_missing_person_file_leaves_the_page_standing(desk, cleared):
    cleared.person.delete()
    assert b"The person file is not made yet" in desk.get(at("client_page", cleared)).content
    assert make.PersonFile.objects.count() == 0
