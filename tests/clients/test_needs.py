"""Access, sitting and supports, cautions: unknown is said on purpose, a difference has its reason."""

import uuid

import pytest

from builds.demo.factories import clients as make
from clients import seating
from clients.models import AccessProfile, CautionAnswer, SittingProfile
from tests.clients.conftest import at, errors, send

ACCESS = {"side": "left", "purpose": "better", "site": "hand", "method": "stick", "releases_on_request": "unknown"}
NO_TO_ALL = dict.fromkeys(CautionAnswer.Kind.values, "no")


def test_nothing_of_a_new_access_profile_is_chosen_beforehand(desk, known):
    refused = errors(send(desk, at("access_edit", known)))
    assert set(refused) == set(ACCESS)
    assert refused["side"] == ["Choose the side of the control"]


def test_unknown_said_on_purpose_is_kept(desk, known):
    send(desk, at("access_edit", known), **ACCESS | {"side": "unknown"})
    profile = AccessProfile.objects.get()
    assert (profile.side, profile.releases_on_request, profile.tires_after_min) == ("unknown", "unknown", None)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("soon", "Tires after must be a whole number, for example 12"),
        ("9000", "Tires after must be 480 minutes or less"),
        ("-5", "Tires after must be 1 minutes or more"),
    ],
)
def test_a_time_that_cannot_be_is_refused(typed, words, desk, known):
    refused = errors(send(desk, at("access_edit", known), **ACCESS, tires_after_min=typed))
    assert refused["tires_after_min"] == [words]


def test_the_side_is_drawn_and_said_on_the_page(desk, cleared):
    page = desk.get(at("client_page", cleared)).content
    assert b"The control is on the occupant&#x27;s left." in page or b"The control is on the occupant's left." in page


# Level to supports as in the house's rule (common practice): 2 head, trunk, pelvis; 3 trunk, pelvis; 4 pelvis; 5+ belt.
@pytest.mark.parametrize(
    ("level", "supports"),
    [
        (None, None),
        (1, ["head", "trunk", "pelvis", "belt"]),
        (2, ["head", "trunk", "pelvis"]),
        (3, ["trunk", "pelvis"]),
        (4, ["pelvis"]),
        (5, ["belt"]),
        (8, ["belt"]),
    ],
)
def test_a_level_suggests_supports(level, supports):
    assert seating.suggestion(level) == supports


def test_the_suggestion_taken_needs_no_reason(desk, known):
    typed = {"level": "3", "supports": ["trunk", "pelvis", "foot"], "supports_decided": "on"}
    assert send(desk, at("sitting_edit", known), **typed).status_code == 302
    profile = SittingProfile.objects.get()
    assert (profile.level, profile.supports, profile.supports_decided) == (3, ["trunk", "pelvis", "foot"], True)


@pytest.mark.parametrize("supports", [["pelvis"], ["head", "trunk", "pelvis"]])
def test_a_different_decision_needs_a_reason(supports, desk, known):
    typed = {"level": "3", "supports": supports, "supports_decided": "on"}
    refused = errors(send(desk, at("sitting_edit", known), **typed))
    assert refused["reason"][0].startswith("Enter the reason: level 3 suggests")
    assert send(desk, at("sitting_edit", known), **typed, reason="Tried in the seat").status_code == 302


def test_an_unknown_level_suggests_nothing_and_a_decision_needs_a_reason(desk, known):
    typed = {"level": "unknown", "supports": ["pelvis"], "supports_decided": "on"}
    assert "nothing is suggested" in errors(send(desk, at("sitting_edit", known), **typed))["reason"][0]
    assert send(desk, at("sitting_edit", known), level="unknown").status_code == 302
    assert SittingProfile.objects.get().level is None


def test_a_chest_harness_is_never_without_support_of_the_pelvis(desk, known):
    refused = errors(send(desk, at("sitting_edit", known), level="3", supports=["trunk"], reason="No room"))
    assert refused["supports"][0].startswith("Choose pelvic support or lap belt too")


def test_a_level_must_be_chosen(desk, known):
    assert errors(send(desk, at("sitting_edit", known)))["level"] == ["Choose the sitting level"]
    assert "level" in errors(send(desk, at("sitting_edit", known), level="9"))


def test_a_saved_profile_opens_with_what_was_saved(desk, known):
    make.SittingFactory(client=known, level=None, supports=[], supports_decided=False)
    form = desk.get(at("sitting_edit", known)).context["form"]
    assert form["level"].value() == "unknown"
    assert send(desk, at("sitting_edit", known)).status_code == 302


def test_every_caution_is_answered_on_one_page(desk, known, coordinator):
    refused = errors(send(desk, at("cautions_edit", known)))
    assert set(refused) == set(CautionAnswer.Kind.values)
    send(desk, at("cautions_edit", known), **NO_TO_ALL | {"shunt": "unknown"})
    assert known.cautions.count() == 14
    assert (known.cautions.get(kind="shunt").answer, known.cautions.get(kind="heat").made_by) == (
        "unknown",
        coordinator,
    )


def test_a_yes_demands_a_plan(desk, known):
    typed = NO_TO_ALL | {"seizures": "yes"}
    refused = errors(send(desk, at("cautions_edit", known), **typed))
    assert refused == {"seizures_plan": ["Enter what is done about it: Seizures is answered with yes"]}
    assert not known.cautions.exists()
    assert send(desk, at("cautions_edit", known), **typed, seizures_plan="Stop, call, time it").status_code == 302


def test_only_a_changed_answer_is_written_again(desk, cleared):
    before = {row.kind: row.made_at for row in cleared.cautions.all()}
    send(desk, at("cautions_edit", cleared), heat="yes", heat_plan="Shade and water")
    after = {row.kind: row.made_at for row in cleared.cautions.all()}
    assert {kind for kind in before if before[kind] != after[kind]} == {"heat"}


def test_a_second_tab_of_the_cautions_is_told_what_changed(desk, cleared):
    address = at("cautions_edit", cleared)
    opened = {bound.html_name: bound.value() or "" for bound in desk.get(address).context["form"]}
    send(desk, address, heat="yes", heat_plan="Shade and water")
    answer = desk.post(address, opened | {"once": uuid.uuid4()})
    refused = errors(answer)
    assert refused["heat"][0].startswith("Does not cope with heat is now Yes (it was No")
    assert cleared.cautions.get(kind="heat").plan == "Shade and water"
    fresh = {bound.html_name: bound.value() or "" for bound in answer.context["form"]}
    assert desk.post(address, fresh | {"once": uuid.uuid4()}).status_code == 302
