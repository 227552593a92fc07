"""The smaller papers for the family: dates, what the lab keeps, who was taught, how the unit is carried."""

import datetime
import re

import pytest

from builds.demo.factories.papers import PRESS, SOCKET, STICK, make_build_with_papers_due, teach_all
from builds.demo.factories.parts import BatteryFactory
from builds.papers import home, kinds, rules
from builds.papers.facts import Facts
from builds.papers.render import render_html
from builds.record import rules as record
from clients.models import Consent
from tests.builds.papers.conftest import again, pdf_pages
from tests.builds.papers.test_as_built import identifying
from tests.builds.papers.test_workshop_papers import text_of

SMALL = ("stop_use_card", "storage_card", "teach_back_sheet", "use_diary", "follow_up_form", "what_we_keep")


@pytest.mark.parametrize("kind", [kind for kind in SMALL if kind not in kinds.NAMES_ADULTS])
def test_a_paper_that_lies_about_names_nobody(ready, kind):
    text = text_of(kind, ready)
    assert [word for word in identifying(ready.client) if word in text] == []


@pytest.mark.parametrize("kind", SMALL)
@pytest.mark.parametrize("plan", [STICK, PRESS, SOCKET])
def test_sentences_have_twenty_words_or_fewer(ready, kind, plan):
    html = render_html(kind, make_build_with_papers_due(plan))
    html = re.sub(r"(?s)<head>.*?</head>|<svg.*?</svg>", "", html)
    blocks = re.split(r"</?(?:p|li|h1|h2|h3|dt|dd|td|th|caption|div|tr)\b[^>]*>", html)
    sentences = [one for block in blocks for one in re.split(r"[.!?](?:\s|$)", re.sub(r"<[^>]+>", " ", block))]
    assert [one.split() for one in sentences if len(one.split()) > 20] == []


# What a caregiver asks, and the sentence on the paper that answers it
QUESTIONS = [
    ("It smells hot at six in the evening", "stop_use_card", "You smell something hot."),
    ("There are flames", "stop_use_card", "Get everybody away and out of the house."),
    ("The battery has swollen", "stop_use_card", "Do not touch it. Keep everybody away. Call the lab."),
    ("Something got into an eye", "stop_use_card", "Liquid on skin or in an eye? Rinse with a lot of water."),
    ("It moves by itself: then what?", "stop_use_card", "Take away the power here: pull the red plug behind the seat"),
    ("May I mend it myself?", "stop_use_card", "Do not open it. Do not mend it."),
    ("When may we use it again?", "stop_use_card", "Do not use it until the lab says yes."),
    ("Nobody answers the phone", "stop_use_card", "Outside these hours: Stop using the equipment"),
    ("We put it away for the winter", "storage_card", "Unplug the battery. Leave it unplugged."),
    ("We forgot to charge it all winter", "storage_card", "Missed it for three months? Do not charge it."),
    ("Where do we keep it?", "storage_card", "It must be dry, and neither hot nor freezing."),
    ("Who lifts it, and how heavy is it?", "use_guide", "Two adults lift it."),
    ("Where do we hold it?", "use_guide", "Never lift it by the arm, the straps or the wires."),
    ("We take it along in the car", "use_guide", "unplug the battery and tie it all down. It is no car seat."),
    ("It is too small now", "use_guide", "Call the lab. We say where to bring it."),
    ("Who can read our name?", "what_we_keep", "They see no name."),
    ("I no longer want photos", "what_we_keep", "I take back my yes to photos."),
    ("Who sees the photos?", "what_we_keep", "we keep and show them only as far as you said yes."),
    ("I want to see our file", "what_we_keep", "I want a copy of what you keep."),
    ("What do I write down?", "use_diary", "One line for each use."),
    ("My sister now helps, too", "follow_up_form", "Another adult now helps. We have to teach that adult."),
]


def test_every_question_has_its_sentence(ready):
    said = {kind: text_of(kind, ready) for _, kind, _ in QUESTIONS}
    assert [question for question, kind, sentence in QUESTIONS if sentence not in said[kind]] == []


@pytest.mark.parametrize("written", ["no selector fitted", "No selector.", "none"])
def test_nobody_is_sent_to_a_selector_that_is_not_there(ready, coordinator, written):
    assert "selector" in text_of("use_guide", ready)
    record.configure(again(ready), coordinator, "No selector", ceiling_position=written)
    for kind in ("use_guide", "supervision_card"):
        assert "selector" not in text_of(kind, again(ready))


def test_a_toy_without_a_plug_is_switched_off(ready):
    build = make_build_with_papers_due(SOCKET)
    build.configuration().__class__.objects.filter(build=build).update(disconnect="")
    for kind in ("use_guide", "supervision_card", "stop_use_card", "use_diary", "follow_up_form"):
        text = text_of(kind, again(build))
        assert "unplug," not in text
        assert re.search("[Ss]witch it off, call", text), kind
        assert ("Switch it off here: on the underside" in text) == (kind not in ("use_diary", "follow_up_form"))


def test_a_toy_without_a_switch_of_its_own_is_stopped_by_unplugging_the_press_switch(ready, coordinator):
    build = make_build_with_papers_due(SOCKET, coordinator=coordinator, disconnect="", power_switch="None.")
    assert rules.why_not("use_guide", again(build)) == []
    for kind in ("use_guide", "supervision_card", "stop_use_card", "use_diary", "follow_up_form"):
        text = text_of(kind, again(build))
        assert re.search("[Uu]nplug the switch, call", text), kind
        assert not re.search("[Ss]witch it o", text), kind


@pytest.mark.parametrize("kind", ["use_guide", "supervision_card", "stop_use_card"])
def test_who_is_sent_to_the_stop_switch_is_told_where_it_is(ready, kind):
    text = text_of(kind, ready)
    where = " It is here: on the push handle at the back, the red knob."
    after = re.findall(r"(?<!and )[Pp]ress the stop switch\.(.{,70})", text)  # one of the plan's five checks has "and"
    assert after and all(said.startswith(where) for said in after)


def test_a_ride_on_without_a_power_switch_is_plugged_in(ready, coordinator):
    record.configure(again(ready), coordinator, "No switch", power_switch="none")
    text = text_of("use_guide", again(ready))
    assert "Unplug the battery." in text and "Plug the battery in." in text
    assert "Switch the power" not in text
    assert "Switch the power" not in text_of("charging_guide", again(ready))


def test_a_ride_on_is_unplugged_even_where_nobody_wrote_down_where(ready):
    ready.configuration().__class__.objects.filter(build=ready).update(disconnect="")
    assert "Trouble? Stop, unplug, call 555 0142." in text_of("supervision_card", again(ready))


# Stop-use card


@pytest.mark.parametrize("size", ["letter", "a4"])
@pytest.mark.parametrize("plan", [STICK, PRESS, SOCKET])
def test_all_that_is_to_be_done_stands_on_the_front(ready, plan, size):
    build = make_build_with_papers_due(plan)
    pages = pdf_pages("stop_use_card", build, size)
    assert len(pages) == 2  # the cautions of the build are on the back
    for line in ("You smell something hot.", "emergency number: 911.", "Do not touch it. Keep", "555 0142"):
        assert line in pages[0]
    assert "Outside these hours" in pages[0]


def test_the_card_says_where_to_take_away_the_power_and_lifts_the_child_out(ready):
    text = text_of("stop_use_card", ready)
    assert "pull the red plug behind the seat, on the adult's side" in text
    assert text.index("Lift the child out first.") < text.index("Call the emergency number: 911.")


def test_a_toy_asks_nobody_to_lift_a_child(ready):
    text = text_of("stop_use_card", make_build_with_papers_due(SOCKET))
    assert "Lift the child" not in text
    assert "Take the batteries out" in text


# To start again


AGAIN = ("use_guide", "stop_use_card")


@pytest.mark.parametrize("kind", AGAIN)
@pytest.mark.parametrize(("plan", "control"), [(STICK, "the stick"), (PRESS, "the child's switch")])
def test_who_stopped_it_with_nothing_wrong_is_told_how_it_goes_again_and_when_not(ready, kind, plan, control):
    text = text_of(kind, make_build_with_papers_due(plan))
    assert (
        f"Was nothing wrong? To start again: let go of {control}. "
        "To set the stop switch back: turn the red knob to the right until it comes up. "
        "Power taken away too? Put it back with nobody in the seat. "
        "Was it smoke, heat, a fall, water, a loose part or a move by itself? Or are you not sure? "
        "Leave the power off. Call the lab first."
    ) in text


@pytest.mark.parametrize("kind", AGAIN)
def test_a_way_back_that_is_not_written_down_is_what_the_lab_showed(ready, coordinator, kind):
    record.configure(again(ready), coordinator, "Not known", stop_reset="")
    assert "Set the stop switch back as the lab showed you." in text_of(kind, again(ready))


@pytest.mark.parametrize("kind", ["use_guide", "supervision_card", "stop_use_card"])
def test_who_lifts_the_child_out_is_told_how_the_straps_open(ready, coordinator, kind):
    assert "To open the straps: press the red button of each buckle" in text_of(kind, ready)
    record.configure(again(ready), coordinator, "No straps", supports=["pelvis"], straps_open="none")
    assert "open the straps" not in text_of(kind, again(ready))
    assert "open the straps" not in text_of(kind, make_build_with_papers_due(SOCKET, straps_open="press it"))


@pytest.mark.parametrize("kind", AGAIN)
def test_nobody_sets_back_a_stop_switch_that_is_not_there(ready, coordinator, kind):
    assert "start again" not in text_of(kind, make_build_with_papers_due(SOCKET))
    record.configure(again(ready), coordinator, "No stop switch", stop_switch="none")
    assert "start again" not in text_of(kind, again(ready))


def test_the_stop_use_card_leaves_the_power_off_until_the_lab_says_yes(ready):
    assert "Leave the power off. Do not use it until the lab says yes." in text_of("stop_use_card", ready)
    assert "Leave the power off" not in text_of("stop_use_card", make_build_with_papers_due(SOCKET))


# Storage card


def test_the_first_saturdays_are_those_of_the_calendar():
    # Calendar of 2026 and 2027: 5 Dec 2026, 2 Jan, 6 Feb, 6 Mar 2027 are the first Saturdays of their months.
    found = home.first_saturdays(datetime.date(2026, 11, 25))
    assert [one.isoformat() for one in found[:4]] == ["2026-12-05", "2027-01-02", "2027-02-06", "2027-03-06"]
    assert len(found) == 12


@pytest.mark.parametrize("start", range(0, 366, 13))
def test_no_two_charges_are_further_apart_than_the_rule_allows(start):
    from builds.engineering.battery import RECHARGE_DAYS

    today = datetime.date(2026, 1, 1) + datetime.timedelta(days=start)
    days = [today, *home.first_saturdays(today)]
    apart = [(after - before).days for before, after in zip(days, days[1:], strict=False)]
    assert all(one.weekday() == 5 for one in days[1:])
    assert apart[0] >= 7
    assert max(apart) <= 42 < RECHARGE_DAYS


def test_the_dates_stand_on_the_card(ready):
    facts = Facts(ready)
    text = text_of("storage_card", ready)
    assert all(home.a_date(one) in text for one in home.first_saturdays(facts.today))
    assert "Missed it for three months? Do not charge it. Call the lab." in text


@pytest.mark.parametrize(
    ("chemistry", "said"),
    [
        ("unknown", "We do not know this battery well enough. Ask the lab before you store it."),
        ("li_ion", "This kind of battery is stored in its own way. Ask the lab before you store it."),
        ("nimh", "This kind of battery is stored in its own way. Ask the lab before you store it."),
    ],
)
def test_another_battery_gets_no_dates_and_asks_the_lab(ready, coordinator, reviewer, chemistry, said):
    battery = BatteryFactory(chemistry=chemistry)
    build = make_build_with_papers_due(coordinator=coordinator, reviewer=reviewer, battery=battery)
    text = text_of("storage_card", build)
    assert said in text
    assert "Saturday" not in text


def test_an_unknown_battery_or_unknown_hours_give_no_dates(ready, coordinator, reviewer):
    build = make_build_with_papers_due(coordinator=coordinator, reviewer=reviewer, battery=None)
    assert "Saturday" not in text_of("storage_card", build)
    ready.client.household.delete()
    text = text_of("storage_card", ready)
    assert "The charging times are not known yet. Ask the lab before you store it." in text
    assert "Saturday" not in text


def test_single_use_cells_are_taken_out_and_never_charged(ready):
    text = text_of("storage_card", make_build_with_papers_due(SOCKET))
    assert "Take the batteries out." in text
    assert "Charge it" not in text


# Diary, form, teach-back


def test_the_diary_tells_the_longest_session_and_has_lines(ready):
    html = render_html("use_diary", ready)
    assert "Stop after 20 minutes and take a rest." in html
    assert html.count("<tr>") == home.DIARY_LINES + 1
    assert "Charged after" in html
    assert "Charged after" not in render_html("use_diary", make_build_with_papers_due(SOCKET))


def test_the_form_asks_for_harm_growth_and_the_charging_habit(ready):
    text = text_of("follow_up_form", ready)
    charging = "It is not charged as the charging guide says."
    for line in ("Somebody got hurt, even a little.", "Your child has grown", charging):
        assert line in text
    assert "Is it not safe now? Do not wait for us." in text


def test_each_adult_has_every_item_with_tries_and_who_taught(ready, coordinator):
    adult = ready.client.caregivers.first()
    before = text_of("teach_back_sheet", ready)
    assert all(item["text"] in before for item in ready.plan_revision.content["teach_back"])
    assert coordinator.full_name not in before
    teach_all(again(ready), coordinator)
    after = text_of("teach_back_sheet", ready)
    assert adult.name in after
    items = len(ready.plan_revision.content["teach_back"])
    assert after.count(f"right {coordinator.full_name}") == items or after.count(coordinator.full_name) == items


# What we keep


def test_it_tells_kinds_of_things_and_never_the_things(ready):
    text = text_of("what_we_keep", ready)
    person = ready.client.person
    adult = ready.client.caregivers.first()
    assert "Your child's birth date" in text
    for secret in (person.given_name, person.family_name, adult.name, adult.phone, "2022"):
        assert secret not in text


def test_what_the_lab_does_not_have_is_not_listed(ready):
    assert "The goals you told us" in text_of("what_we_keep", ready)
    ready.client.goals.all().delete()
    assert "The goals you told us" not in text_of("what_we_keep", ready)


def test_what_comes_while_it_is_used_is_told_from_the_start(ready):
    assert not ready.contacts.exclude(done_on=None).exists()
    assert "What you tell us in calls and visits" in text_of("what_we_keep", ready)


def test_every_purpose_has_its_answer_and_no_word_is_no(ready, coordinator):
    say = {"version": "1", "signer": "x", "made_by": coordinator}
    Consent.objects.create(client=ready.client, purpose="photo_record", given=True, signed_on="2026-02-01", **say)
    Consent.objects.create(client=ready.client, purpose="research", given=False, signed_on="2026-02-01", **say)
    Consent.objects.create(
        client=ready.client, purpose="photo_teaching", given=True, signed_on="2026-02-01", withdrawn_on="2026-03-01",
        **say,
    )  # fmt: skip
    text = text_of("what_we_keep", ready)
    assert "We keep photos that show your child. Yes 1 Feb 2026" in text
    assert "We use what we learn for study. No 1 Feb 2026" in text
    assert "We show such photos to our students. You took it back: no 1 Mar 2026" in text
    assert "We show such photos to the public. Not asked: no" in text
    from builds.papers.keeping import purposes

    assert [purpose for purpose, _ in purposes()] == list(Consent.Purpose)


# Carrying, in the use guide


def test_the_guide_tells_what_is_lifted_and_by_how_many(ready):
    kind = ready.unit.type
    mass = home.unit_kg(Facts(ready))
    # The unit's own mass and 0.2 kg for each planned part that stays on: a sum anybody can check by hand.
    added = sum(part.quantity * part.mass_kg for part in ready.parts.all() if part.stays_on)
    assert mass == pytest.approx(kind.own_mass_kg + added)
    assert "Two adults lift it." in text_of("use_guide", ready)


def test_an_unknown_mass_is_told_and_a_great_one_is_not_lifted(ready):
    kind = ready.unit.type
    kind.own_mass_kg = None
    kind.save(update_fields=["own_mass_kg"])
    assert "We do not know its weight yet. Two adults lift it." in text_of("use_guide", ready)
    kind.own_mass_kg = 60.0
    kind.save(update_fields=["own_mass_kg"])
    assert "That is too heavy to lift. Roll it, or call the lab." in text_of("use_guide", ready)


def test_a_mass_is_rounded_up_in_both_units(ready, monkeypatch):
    # 18.4 kg is 40.57 lb (0.45359237 kg a pound, NIST SP 811): 19 kg and 41 lb.
    monkeypatch.setattr(home, "unit_kg", lambda facts: 18.4)
    assert home.weight_sentence(Facts(ready)) == "It weighs about 19 kg (41 lb) without the child."
    monkeypatch.setattr(home, "unit_kg", lambda facts: 20.0)
    assert home.weight_sentence(Facts(ready)).startswith("It weighs about 20 kg")
