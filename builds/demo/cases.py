"""Cases of the demo lab that have no build: at every point of the way to one, and ended without one."""

from django.utils import timezone

from builds.demo.factories.clients import CaregiverFactory, ConsentFactory, MeasureFactory
from builds.demo.families import FAMILIES, assessed, cleared
from clients import rules
from clients.models import CaseMove, Measure, PersonFile, Referral

ABOUT = {
    "wetherby": "She pulls herself to the window to watch the others and cannot get there alone.",
    "jaskolska": "Wants to go along the path with his sisters and tires after a few steps.",
    "cabdulle": "Bats at toys with the left hand and laughs when something moves.",
    "gnatyuk": "Her chair is too wide for the garden; the family asks for something for outside.",
    "xyooj": "Needs a powered chair for school, all day.",
}


def make_cases(clock, people):
    """Who waits, each since another day, and who was helped otherwise."""
    waits_for_intake(clock, people)
    waits_for_assessment(clock, people)
    is_assessed(clock, people)
    waits_for_clearance(clock, people)
    waits_for_plan(clock, people)
    needs_nothing(clock, people)
    went_elsewhere(clock, people)


def refer(key, account, **facts):
    """A case is opened by the rule, with a referral in the referrer's words."""
    family = FAMILIES[key]
    person = PersonFile(
        given_name=family.given,
        family_name=family.family,
        birth_date=family.person()["person__birth_date"],
        address="Address on file at the front desk",
    )
    referral = Referral(
        received_on=timezone.localdate(),
        source=Referral.Source.THERAPIST,
        referrer_name="Joanna Pell",
        referrer_role="Occupational therapist",
        referrer_organisation="Creekside Early Intervention",
        reason=ABOUT[key],
        **{"need": Referral.Need.MEDIUM, **facts},
    )
    return rules.open_case(person, referral, account)


def move(referral, stage, account):
    moved = rules.move_case(referral, rules.Move(stage, timezone.localdate()), account)
    referral.refresh_from_db()
    return moved


def waits_for_intake(clock, people):
    clock.go_to(12)
    refer("wetherby", people.nadia, need=Referral.Need.HIGH)


def take_in(clock, key, people, received, reached):
    """Referred on one day, reached on another."""
    clock.go_to(received)
    referral = refer(key, people.nadia)
    clock.go_to(reached)
    family = FAMILIES[key]
    CaregiverFactory(client=referral.client, name=family.adult, relation=family.relation, language=family.language)
    move(referral, Referral.Stage.INTAKE, people.nadia)
    return referral


def waits_for_assessment(clock, people):
    take_in(clock, "jaskolska", people, 33, 26)


def is_assessed(clock, people):
    referral = take_in(clock, "cabdulle", people, 48, 40)
    clock.go_to(31)
    ConsentFactory(client=referral.client, made_by=people.nadia, signer=FAMILIES["cabdulle"].adult)
    move(referral, Referral.Stage.ASSESSMENT, people.nadia)


def waits_for_clearance(clock, people):
    clock.go_to(21)
    client = assessed("desrosiers", people.nadia)
    note_arrival(client, people.nadia)
    # Read off the side of the tape that has inches, and typed as centimetres: the page asks to look again.
    MeasureFactory(client=client, made_by=people.nadia, kind=Measure.Kind.SEAT_DEPTH, value_si=0.09, typed="9 cm",
                   taken_on=timezone.localdate())  # fmt: skip


def waits_for_plan(clock, people):
    clock.go_to(9)
    note_arrival(cleared("okeke", people.nadia), people.nadia)


def note_arrival(client, account):
    """The trail of a case that was written down as a whole."""
    referral = client.open_referral()
    CaseMove.objects.create(
        referral=referral, from_stage="", to_stage=referral.stage, on=timezone.localdate(), made_by=account,
        reason="Taken over from the paper file",
    )  # fmt: skip


def needs_nothing(clock, people):
    referral = take_in(clock, "gnatyuk", people, 95, 88)
    clock.go_to(74)
    reason = "The narrow chair of the clinic fits the garden path. Nothing is built."
    rules.close_case(referral, Referral.Outcome.NO_EQUIPMENT, timezone.localdate(), reason, people.nadia)


def went_elsewhere(clock, people):
    clock.go_to(57)
    referral = refer("xyooj", people.nadia, need=Referral.Need.SPECIALIST)
    clock.go_to(50)
    reason = "Needs a powered chair for the whole day. Referred to the mobility clinic of the county."
    rules.close_case(referral, Referral.Outcome.REFERRED_ON, timezone.localdate(), reason, people.nadia)
