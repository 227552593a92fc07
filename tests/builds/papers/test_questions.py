"""Each question that a caregiver asks has its sentence on a paper that the family holds."""

import pytest
from django.db import transaction

from builds.demo.factories.papers import SOCKET, make_build_with_papers_due, settle
from tests.builds.papers.conftest import pdf_text
from tests.factory import make_account, make_lab

pytestmark = pytest.mark.django_db

USE, CHARGE, CARD, SHEET = "use_guide", "charging_guide", "supervision_card", "hand_off_sheet"
STOP = "stop_use_card"
FAMILY = (USE, CHARGE, CARD, SHEET, STOP)

RIDE_ON = [
    ("May it charge over night?", CHARGE, "Never charge at night, and never when everybody sleeps or is out."),
    ("Must I stay while it charges?", CHARGE, "Stay in the home and awake while it charges."),
    ("We must go out while it charges", CHARGE, "Going out or to bed? Take it off first."),
    ("Who may drive?", USE, "Only this child may ride. It was set for one."),
    ("Who may drive, says the card", CARD, "Only this child may ride."),
    ("My other child wants a ride", USE, "No brother, sister or friend may try it."),
    ("May grandma supervise?", USE, "A grandparent or sitter wants to help? Call the lab. We teach them first."),
    ("May grandma, says the card", CARD, "Only an adult taught by the lab may walk beside it."),
    ("It moves by itself: when to stop", USE, "It moves by itself, or does not stop."),
    ("It moves by itself: what to do", USE, "Take away the power here: pull the red plug behind the seat"),
    ("It smells hot", USE, "You smell something hot."),
    ("A part is hot", USE, "A part is too hot to touch."),
    ("It smells hot while it charges", CHARGE, "You smell something hot, hear hissing or see smoke."),
    ("There is smoke or fire", USE, "Lift the child out first. Get everybody away. Call the emergency number: 911."),
    ("How far away may I stand?", CARD, "Walk beside the child, at arm's length."),
    ("On which side is the stick?", USE, "The stick is on the child's left."),
    ("Whose left?", USE, "Left and right are the child's own, looking forward."),
    ("Is this the guide of our toy?", USE, "Only for the ride-on with this number: {number}. Is yours another one?"),
    ("Is this the guide of our battery?", CHARGE, "Battery number {battery}"),
    ("How fast does it go?", USE, "The top speed is set to 2.9 km/h (1.8 mph)."),
    ("It does not stop at the check", USE, "Do not use it. Call the lab. Does it still move? Take away the power."),
    ("Is it off before my child sits down?", USE, "Switch the power off."),
    ("Somebody is hurt, says the card", CARD, "Is there fire, or is somebody hurt? Call the emergency number"),
    ("It was at fault: what now?", USE, "Leave the power off. Do not use it."),
    ("Who may change the speed?", CARD, "Only the lab may change the speed."),
    ("Is the selector in its place?", USE, "Look at the speed selector. It must be at: slow."),
    ("The selector is at fast", USE, "It must be at: slow. Is it not? Do not use it. Call the lab."),
    ("The light never turns green", CHARGE, "Not full by then? Do not go on charging. Call the lab."),
    ("I stop it how, says the card", CARD, "To stop it yourself: press the stop switch. It is here: on the push"),
    ("It is six in the evening, says the card", CARD, "Outside these hours: Stop using the equipment and leave a"),
    ("Until when, says the card", CARD, "It is after"),
    ("How heavy may my child get?", USE, "The child may weigh"),
    ("Why are there two weights?", USE, "at most. The rest is for the parts that the lab added."),
    ("When do I plug in?", CHARGE, "Plug in at 6:30 am (06:30)"),
    ("When do I take it off?", CHARGE, "Take it off by 4:30 pm (16:30)"),
    ("I plug in somewhat later", CHARGE, "Between two starts? Use the earlier time to take it off."),
    ("We come home late", CHARGE, "Later than 12:30 pm (12:30)? Then wait and charge the next day."),
    ("Which light is full?", CHARGE, "Light when it is full: green. Full sooner? Take it off then."),
    ("May I use another charger?", CHARGE, "Never use another charger, even if the plug fits."),
    ("Where may we use it?", CARD, "Use it only here: yard or garden; path away from cars; clinic or lab."),
    ("May it go on a slope?", CARD, "Drive on flat ground."),
    ("May it go in the rain?", CARD, "The ground is wet, or it rains."),
    ("May it go on the street?", CARD, "Stay away from roads and driveways."),
    ("How do I stop it myself?", USE, "To stop it yourself: press the stop switch. It is here: on the push handle"),
    ("Where do I switch it on?", USE, "Switch the power on here: under the seat, on the right."),
    ("Where do I switch it off to charge?", CHARGE, "Switch the power off here: under the seat, on the right."),
    ("It does not stop then", USE, "Does it still move? Take away the power."),
    ("Where is the battery disconnect?", CARD, "To take away the power: pull the red plug behind the seat"),
    ("How long may a session be?", CARD, "Stop after 20 minutes and take a rest."),
    ("What do I check before?", USE, "Five checks before each use"),
    ("Nothing was wrong: how does it go again?", USE, "Was nothing wrong? To start again: let go of the"),
    ("How does the stop switch come back?", USE, "To set the stop switch back: turn the red knob to the right"),
    ("Somebody is hurt, says the stop card", STOP, "Is there fire, or is somebody hurt? Call the emergency number"),
    ("The battery is hot and nobody answers", USE, "Nobody answers? Call the emergency number: 911."),
    ("Nobody answers, says the stop card", STOP, "Or does nobody answer? Do the steps for smoke or fire."),
    ("A screw is missing", STOP, "A part is loose or missing."),
    ("No light at the charger", CHARGE, "No light, or another light? Pull the charger out of the wall. Call the lab."),
    ("How do I get my child out fast?", USE, "Lift the child out. To open the straps: press the red button of each"),
    ("How do the straps open, says the card", CARD, "To open the straps: press the red button of each buckle"),
    ("We pulled the red plug, too", USE, "Power taken away too? Put it back with nobody in the seat."),
    ("It smoked: may we plug it in?", USE, "Was it smoke, heat, a fall, water, a loose part or a move by itself?"),
    ("One check is not right", USE, "Is something not right? Do not use it. Call the lab."),
    ("Which strap is first?", USE, "Close the strap at the hips first."),
    ("Which strap is next?", USE, "Close the chest strap after it."),
    ("Where do I keep it?", USE, "Store it indoors, dry and out of reach of small children."),
    ("We are away over the holidays", USE, "Charge it first and each month. Leave it unplugged."),
    ("How do I clean it?", USE, "Wipe it with a damp cloth."),
    ("Whom do I call?", USE, "Whom to call 555 0142"),
    ("When do they answer?", USE, "We answer: Monday to Friday"),
    ("What on a Sunday?", USE, "Outside these hours: Stop using the equipment and leave a message."),
    ("Somebody is hurt", USE, "Is there fire, or is somebody hurt? Call the emergency number"),
    ("How do I give it back?", USE, "Call the lab. We say where to bring it."),
    ("Is it ours, asks the guide", USE, "The hand-off sheet says if it is a loan or a gift."),
    ("Is it ours, answers the sheet", SHEET, "Open-ended loan: the lab may ask for it back"),
    ("The battery swells or leaks", USE, "Battery hot, swollen or leaking? Lift the child out first. Do not"),
    ("It swells while it charges", CHARGE, "The battery swells or leaks."),
    ("The liquid got on the skin", CHARGE, "Rinse with a lot of water. Call for medical help: 911."),
    ("It fell over", CARD, "It has fallen over or was dropped. Call the lab first."),
    ("I see a wire", CARD, "You can see a bare wire, or a part is broken or missing."),
    ("How long is the yes good?", USE, "Call the lab before that day. Do not use it after that day."),
]  # fmt: skip

TOY = [
    ("Who may look after it?", "Only an adult taught by the lab may look after it."),
    ("Is this the guide of our toy?", "Only for the toy with this number: {number}."),
    ("How far away may I be?", "Stay with the child, at arm's length."),
    ("Where do I switch it on?", "Switch it on here: on the underside, the small slider."),
    ("And off?", "Switch it off here: on the underside, the small slider."),
    ("A cell leaks", "Battery hot, swollen or leaking? Do not touch it."),
]


@pytest.fixture(scope="module")
def papers(django_db_setup, django_db_blocker):
    """The text of every paper of one ride-on and of the guide of one toy, rendered once for all questions."""
    with django_db_blocker.unblock(), transaction.atomic():
        make_lab(walking_pace_m_s=1.2)
        ride_on, toy = make_build_with_papers_due(), make_build_with_papers_due(SOCKET)
        settle(ride_on, make_account("coordinator"))
        texts = {kind: pdf_text(kind, ride_on) for kind in FAMILY}
        texts["toy"] = pdf_text(USE, toy)
        numbers = {"number": ride_on.unit.number, "battery": ride_on.configuration().battery.number}
        yield {"texts": texts, "ride_on": numbers, "toy": {"number": toy.unit.number}}
        transaction.set_rollback(True)


@pytest.mark.parametrize(("question", "kind", "answer"), RIDE_ON, ids=[row[0] for row in RIDE_ON])
def test_a_ride_on_paper_answers(papers, question, kind, answer):
    assert answer.format(**papers["ride_on"]) in papers["texts"][kind]


@pytest.mark.parametrize(("question", "answer"), TOY, ids=[row[0] for row in TOY])
def test_a_toy_guide_answers(papers, question, answer):
    assert answer.format(**papers["toy"]) in papers["texts"]["toy"]


def test_a_toy_guide_speaks_of_no_ride_and_no_stop_switch(papers):
    text = papers["texts"]["toy"]
    assert "may ride" not in text
    assert "stop switch" not in text
    assert "Lift the child out" not in text
