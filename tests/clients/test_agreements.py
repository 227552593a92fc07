"""Goals, consents one by one, and clearances with their scope, conditions and end."""

import datetime
import uuid

import pytest
from django.utils import timezone

from builds.demo.factories import clients as make
from clients.models import Clearance, Consent
from labsite.models import Lab
from tests.clients.conftest import at, errors, send

GOAL = {"text": "Goes to the sandpit", "expected": "Drives there alone", "importance": "3", "difficulty": "2"}
CONSENT = {"purpose": "photo_record", "given": "True", "version": "2026-1", "signer": "Elena Castellan"}
CLEARANCE = {
    "clinician": "Dr. Imre Solt",
    "profession": "Physiotherapist, register number 40817",
    "equipment": "ride_on",
    "scope": "left",
    "greatest_speed_m_s": "0.8",
    "supports": ["trunk", "pelvis"],
    "session_min": "20",
    "places": ["yard", "clinic"],
}


def on(days):
    return str(timezone.localdate() + datetime.timedelta(days=days))


def test_a_goal_is_added_changed_and_struck(desk, known):
    send(desk, at("goal_new", known), **GOAL)
    goal = known.goals.get()
    assert (goal.expected, goal.importance, goal.difficulty) == ("Drives there alone", 3, 2)
    send(desk, at("goal_edit", known, goal.pk), more="Waits for the others")
    send(desk, at("goal_strike", known, goal.pk), reason="The family chose another")
    goal.refresh_from_db()
    assert (goal.more, goal.struck_reason) == ("Waits for the others", "The family chose another")
    assert b"The family chose another" in desk.get(at("client_page", known)).content


def test_a_goal_says_its_expected_level_and_weights(desk, known):
    refused = errors(send(desk, at("goal_new", known), text="Plays", importance="4", difficulty="2"))
    assert refused["expected"] == ["Enter the expected level (0)"]
    assert "importance" in refused


def test_a_consent_is_recorded_for_one_purpose(desk, known):
    send(desk, at("consent_new", known), **CONSENT)
    assert known.consent_allows("photo_record")
    assert not known.consent_allows("photo_teaching")


def test_neither_yes_nor_no_is_chosen_beforehand(desk, known):
    typed = {name: value for name, value in CONSENT.items() if name != "given"}
    assert errors(send(desk, at("consent_new", known), **typed))["given"] == ["Choose the answer"]


def test_the_purpose_of_the_link_is_chosen_beforehand(desk, known):
    form = desk.get(at("consent_new", known, query="?purpose=research")).context["form"]
    assert form["purpose"].value() == "research"


def test_a_withdrawn_consent_allows_nothing_more(desk, known):
    consent = make.ConsentFactory(client=known, purpose=Consent.Purpose.PHOTO_RECORD)
    send(desk, at("consent_withdraw", known, consent.pk), withdrawn_note="By phone")
    assert not known.consent_allows("photo_record")
    assert desk.get(at("consent_withdraw", known, consent.pk)).status_code == 404


def test_a_withdrawal_before_the_signature_is_refused(desk, known):
    consent = make.ConsentFactory(client=known)
    early = str(consent.signed_on - datetime.timedelta(days=1))
    refused = errors(send(desk, at("consent_withdraw", known, consent.pk), withdrawn_on=early))
    assert "the day it was signed" in refused["withdrawn_on"][0]


def test_a_signature_in_the_future_is_refused(desk, known):
    refused = errors(send(desk, at("consent_new", known), **CONSENT, signed_on=on(1)))
    assert refused["signed_on"][0].startswith("Date signed must be")


def test_a_reviewer_records_a_clearance_with_its_conditions(lab, known, reviewer, as_person):
    send(as_person(reviewer), at("clearance_new", known), **CLEARANCE, expires_on=on(180))
    clearance = Clearance.objects.get()
    assert (clearance.scope, clearance.greatest_speed_m_s, clearance.session_min) == ("left", 0.8, 20)
    assert (clearance.supports, clearance.places) == (["trunk", "pelvis"], ["yard", "clinic"])
    assert (clearance.made_by, clearance.given_on) == (reviewer, timezone.localdate())


def test_a_speed_left_empty_stays_unknown(desk, known):
    send(desk, at("clearance_new", known), **CLEARANCE | {"greatest_speed_m_s": ""}, expires_on=on(180))
    assert Clearance.objects.get().greatest_speed_m_s is None
    assert b"Greatest speed</dt><dd>unknown" in desk.get(at("client_page", known)).content


def test_a_speed_is_read_in_the_unit_that_was_typed(desk, known):
    Lab.objects.update(units=Lab.Units.US)
    send(desk, at("clearance_new", known), **CLEARANCE | {"greatest_speed_m_s": "2 mph"}, expires_on=on(180))
    # 1 mile is 1609.344 m by definition: 2 mph is 0.89408 m/s
    assert Clearance.objects.get().greatest_speed_m_s == pytest.approx(0.89408)


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        ({"expires_on": -1}, "expires_on", "or later, the date of the clearance"),
        ({"expires_on": 800}, "expires_on", "or earlier, 731 days at most"),
        ({"expires_on": ""}, "expires_on", "Enter the last day of the clearance"),
        ({"given_on": 1}, "given_on", "or earlier"),
        ({"greatest_speed_m_s": "30"}, "greatest_speed_m_s", "Greatest speed must be 3 m/s or less"),
        ({"greatest_speed_m_s": "fast"}, "greatest_speed_m_s", "Greatest speed must be a speed"),
        ({"session_min": "10000"}, "session_min", "Longest session must be 240 minutes or less"),
        ({"supports": ["trunk"]}, "supports", "Choose pelvic support or lap belt too"),
        ({"scope": ""}, "scope", "Choose the side cleared"),
    ],
)
def test_a_clearance_that_cannot_be_is_refused(typed, field, words, desk, known):
    typed = {name: on(value) if isinstance(value, int) else value for name, value in typed.items()}
    refused = errors(send(desk, at("clearance_new", known), **CLEARANCE | {"expires_on": on(180)} | typed))
    assert words in refused[field][0]
    assert not Clearance.objects.exists()


def test_the_page_says_how_many_days_are_left(desk, cleared):
    cleared.clearances.update(expires_on=timezone.localdate())
    assert b"1 day left" in desk.get(at("client_page", cleared)).content


def test_a_struck_clearance_stays_readable_and_counts_no_more(desk, cleared):
    clearance = cleared.clearances.get()
    send(desk, at("clearance_strike", cleared, clearance.pk), reason="Signed for another client")
    assert cleared.clearance() is None
    page = desk.get(at("client_page", cleared)).content
    assert b"Signed for another client" in page
    assert b"record the clearance of a named clinician" in page


def test_every_change_is_in_the_trail_with_who_and_what(desk, known, coordinator):
    send(desk, at("person_edit", known), given_name="Mirela Ana")
    caregiver = make.CaregiverFactory(client=known)
    desk.post(at("caregiver_remove", known, caregiver.pk), {"once": uuid.uuid4()})
    trail = desk.get(at("client_trail", known)).context
    told = [(one["what"], one["action"], str(one["who"])) for one in trail["changes"]]
    assert ("caregiver", "delete", "Cora Ames") in told
    changed = next(one for one in trail["changes"] if one["action"] == "update")
    assert [(label, new) for label, old, new in changed["values"]] == [("Given name", "Mirela Ana")]
    assert {one["what"] for one in trail["openings"]} >= {"Person file", "Caregivers", "Trail"}


def test_the_trail_of_another_client_stays_apart(desk, known, cleared):
    send(desk, at("person_edit", known), given_name="Mirela Ana")
    trail = desk.get(at("client_trail", cleared)).context
    assert "Mirela Ana" not in str(trail["changes"])
