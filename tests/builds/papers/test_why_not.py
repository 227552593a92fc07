"""What is unknown keeps a paper in the lab; a preview of it is a draft on every page."""

import pytest

from builds.demo.factories.papers import SOCKET, STICK, configure_fully, make_build_for, make_build_with_papers_due
from builds.papers import rules
from builds.papers.render import PaperError
from builds.record import rules as record
from builds.record.models import Build
from labsite.models import Lab
from tests.builds.papers.conftest import again, pdf_pages

DRAFT = "DRAFT: NOT FOR THE FAMILY"


def reasons(kind, build):
    return " ".join(rules.why_not(kind, again(build)))


def test_nothing_keeps_a_ready_build_from_its_papers(ready):
    waiting = {kind: rules.why_not(kind, ready) for kind in rules.kinds(ready)}
    assert {kind: why for kind, why in waiting.items() if why} == {
        "clinician_summary": ["The family has not agreed to sharing with the clinician, so there is no summary."],
        "restore_sheet": ["Nothing is written down of the restore kit."],
    }


@pytest.mark.parametrize(
    ("setting", "kind", "said"),
    [
        ({"side": "unknown"}, "use_guide", "The side of the stick is unknown."),
        ({"ceiling_m_s": None}, "supervision_card", "The speed ceiling is unknown."),
        ({"charger": None}, "charging_guide", "Not known for charging: the charger"),
        ({"battery": None}, "charging_guide", "the battery"),
        ({"disconnect": ""}, "use_guide", "The battery disconnect, and where it is, is unknown."),
        ({"stop_switch": ""}, "use_guide", "Where the stop switch is, is unknown."),
        ({"stop_switch": ""}, "stop_use_card", "Where the stop switch is, is unknown."),
        ({"power_switch": ""}, "supervision_card", "Where the power switch is, is unknown."),
        ({"straps_open": ""}, "supervision_card", "How the straps open is unknown."),
        ({"straps_open": "", "supports": ["belt"]}, "stop_use_card", "How the straps open is unknown."),
    ],
)
def test_an_unknown_setting_keeps_the_paper(ready, coordinator, reviewer, setting, kind, said):
    build = make_build_with_papers_due(coordinator=coordinator, reviewer=reviewer, **setting)
    assert said in reasons(kind, build)
    with pytest.raises(PaperError, match="unknown|Not known"):
        rules.issue(build, kind, coordinator)


def test_no_stop_switch_keeps_the_papers_of_a_plan_that_speaks_of_one(ready, coordinator, reviewer):
    build = make_build_with_papers_due(coordinator=coordinator, reviewer=reviewer, stop_switch="None")
    told = "The plan tells the family of a stop switch, and the record says that there is none."
    for kind in ("use_guide", "supervision_card", "stop_use_card"):
        assert rules.why_not(kind, again(build)) == [told]
    assert told not in reasons("storage_card", build)


def test_fitted_straps_are_not_none(ready, coordinator, reviewer):
    build = make_build_with_papers_due(coordinator=coordinator, reviewer=reviewer, straps_open="None")
    assert "Straps are fitted, and the record says that there are none." in reasons("use_guide", build)
    record.configure(again(build), coordinator, "No straps", supports=["pelvis", "foot"])
    assert "straps" not in reasons("use_guide", build).lower()


def test_a_toy_waits_for_its_own_switch_and_for_no_stop_switch(ready, coordinator, reviewer):
    build = make_build_with_papers_due(SOCKET, coordinator=coordinator, reviewer=reviewer, power_switch="")
    assert rules.why_not("use_guide", again(build)) == ["Where the own on/off switch of the toy is, is unknown."]
    record.configure(again(build), coordinator, "Looked", power_switch="on the underside")
    assert "switch" not in reasons("stop_use_card", build)


def test_a_lab_without_an_emergency_number_issues_nothing_and_a_draft_names_none(ready):
    Lab.objects.update(emergency_number="")
    told = "The lab settings lack: Emergency number of your country or region."
    assert told in rules.why_not("use_guide", again(ready))
    assert told in rules.why_not("stop_use_card", again(ready))
    text = " ".join(pdf_pages("stop_use_card", ready))
    assert DRAFT in text
    assert "Call the emergency number of your region." in text and "911" not in text


def test_unknown_hours_keep_the_charging_guide_and_no_time_is_guessed(ready):
    ready.client.household.delete()
    assert "when an adult is up" in reasons("charging_guide", ready)
    text = " ".join(pdf_pages("charging_guide", ready))
    assert "Ask the lab before you charge." in text
    assert "Plug in at" not in text


def test_a_charge_that_fits_no_waking_day_keeps_the_guide(ready):
    charger = ready.configuration().charger
    charger.current_a = 0.5
    charger.save(update_fields=["current_a"])
    assert "does not fit between getting up and going to bed" in reasons("charging_guide", ready)


def test_a_lab_without_a_phone_issues_nothing_to_families(ready):
    Lab.objects.update(phone="")
    assert "Lab phone" in reasons("use_guide", ready)
    assert "phone" not in reasons("as_built", ready)


def test_papers_wait_for_first_ride(ready, coordinator):
    build = make_build_for(STICK, coordinator=coordinator)
    configure_fully(build, coordinator)
    assert "The hold point First ride is not released." in reasons("use_guide", build)


def test_a_unit_marked_do_not_use_gets_no_papers(ready, coordinator):
    ready.unit.mark_do_not_use(coordinator, "It smells hot")
    assert "marked do not use" in reasons("use_guide", ready)


def test_a_caution_without_a_plan_keeps_what_hangs_on_the_unit(ready):
    ready.client.cautions.filter(kind="seizures").update(answer="yes", plan="")
    assert "has no plan" in reasons("supervision_card", ready)


def test_a_plan_that_names_the_client_keeps_the_paper(ready):
    name = ready.client.person.given_name
    ready.client.cautions.filter(kind="seizures").update(answer="yes", plan=f"Lay {name}'s head to the side")
    assert "names the client" in reasons("supervision_card", ready)
    assert name not in reasons("supervision_card", ready)


PLACES_OF_TEXT = {
    "hazards at a place": lambda build, text: build.client.places.update(hazards=text),
    "conditions": lambda build, text: build.client.clearances.update(conditions=text),
    **{
        name: lambda build, text, name=name: build.configurations.update(**{name: text})
        for name in ("disconnect", "ceiling_position", "stop_switch", "power_switch", "stop_reset", "straps_open")
    },
}


@pytest.mark.parametrize("put", PLACES_OF_TEXT.values(), ids=PLACES_OF_TEXT)
def test_nothing_that_hangs_on_the_unit_names_the_family(ready, put):
    """However it is cased and accented, and a caregiver as much as the child; the reason does not repeat it."""
    caregiver = ready.client.caregivers.first()
    caregiver.name = "Ottoline Crane"
    caregiver.save(update_fields=["name"])
    put(ready, "beside óttoline on the left")
    for kind in ("use_guide", "stop_use_card"):
        assert "This names the client or the family" in reasons(kind, ready)
        assert "ttoline" not in reasons(kind, ready)


def test_a_stop_use_card_may_say_the_shed_will_do(ready):
    """A name that is an everyday word counts only where it is written as a name."""
    ready.client.person.__class__.objects.filter(pk=ready.client.person.pk).update(given_name="Will", family_name="An")
    ready.configurations.update(disconnect="pull an end of the plug, either will do")
    assert reasons("use_guide", ready) == ""


def test_without_a_configuration_nothing_is_issued(ready):
    Build.objects.get(pk=ready.pk)
    ready.configurations.all()
    build = make_build_for(STICK)
    build.hold_decisions.all().delete()
    build.configurations.all().delete()
    assert rules.why_not("use_guide", again(build)) == ["There is no configuration yet."]


def test_a_draft_says_so_on_every_page(ready):
    ready.client.household.delete()
    pages = pdf_pages("charging_guide", ready)
    assert pages
    assert all(DRAFT in text.upper() for text in pages)


def test_what_may_leave_is_no_draft(ready):
    assert all("draft" not in text.lower() for text in pdf_pages("use_guide", ready))


@pytest.mark.parametrize("left_kg", [-1.0, 0.0, 0.3])
def test_where_nothing_is_left_for_a_rider_no_paper_gives_a_weight(ready, left_kg):
    """Printed, what is left would round down to 0 kg or 0 lb: no limit, but nobody's weight."""
    added = [part for part in ready.parts.all() if part.counts_as_added]
    heaviest = sum(part.mass_kg * part.count for part in added)
    kind = ready.unit.type
    type(kind).objects.filter(pk=kind.pk).update(rated_load_kg=heaviest + left_kg)
    assert "What was added must weigh at least 0.5 kg less than the rated load" in reasons("use_guide", ready)
    text = " ".join(pdf_pages("use_guide", ready))
    assert "The child may weigh" not in text
    assert "Nobody may ride it now. Call the lab." in text
