"""Clients at every point of their case, for the demo lab and for tests. Everybody here is invented."""

import datetime

import factory
from django.utils import timezone
from factory.django import DjangoModelFactory

from builds.demo.factories.accounts import AccountFactory
from clients.models import (
    AccessProfile,
    Caregiver,
    CautionAnswer,
    Clearance,
    Client,
    Consent,
    Erasure,
    Goal,
    GoalScore,
    Household,
    Measure,
    PersonFile,
    Place,
    Referral,
    SittingProfile,
)
from labsite.roles import Role


def days_ago(days):
    return factory.LazyFunction(lambda: timezone.localdate() - datetime.timedelta(days=days))


class OfClientFactory(DjangoModelFactory):
    class Meta:
        abstract = True

    client = factory.SubFactory("builds.demo.factories.clients.ClientFactory")


class SignedFactory(OfClientFactory):
    class Meta:
        abstract = True

    made_by = factory.SubFactory(AccountFactory, role=Role.COORDINATOR)


class PersonFactory(OfClientFactory):
    class Meta:
        model = PersonFile

    client = factory.SubFactory("builds.demo.factories.clients.ClientFactory", person=None)
    given_name = factory.Sequence(lambda n: ("Mirela", "Tobin", "Anouk", "Desta", "Ilse", "Ravi")[n % 6])
    family_name = factory.Sequence(lambda n: ("Castellan", "Okonjo", "Hartigan", "Vasek", "Lindqvist")[n % 5])
    birth_date = datetime.date(2022, 3, 14)
    sex = PersonFile.Sex.UNKNOWN
    address = "17 Quarry Lane, Alder Creek"


class ClientFactory(DjangoModelFactory):
    """A client with the next case code and a person file."""

    class Meta:
        model = Client
        skip_postgeneration_save = True

    person = factory.RelatedFactory(PersonFactory, factory_related_name="client")

    @classmethod
    def _create(cls, model, *args, **facts):
        return model.objects.open_file()


class ReferralFactory(SignedFactory):
    class Meta:
        model = Referral

    received_on = days_ago(30)
    source = Referral.Source.THERAPIST
    referrer_name = "Joanna Pell"
    referrer_role = "Occupational therapist"
    referrer_organisation = "Creekside Early Intervention"
    referrer_contact = "555 0177"
    reason = "Wants to move about with other children and cannot press a pedal."
    need = Referral.Need.MEDIUM


class CaregiverFactory(OfClientFactory):
    class Meta:
        model = Caregiver

    name = factory.Sequence(lambda n: ("Elena Castellan", "Femi Okonjo", "Ruth Hartigan", "Jana Vasek")[n % 4])
    relation = "Mother"
    phone = "555 0118"
    supervises = True
    is_first_contact = True


class HouseholdFactory(OfClientFactory):
    class Meta:
        model = Household

    wake_time = datetime.time(6, 30)
    sleep_time = datetime.time(22, 30)
    plug_in_time = datetime.time(16, 0)
    socket = dry = locked = "yes"


class PlaceFactory(OfClientFactory):
    class Meta:
        model = Place

    kind = Place.Kind.YARD
    name = "Yard behind the house"
    slope_deg = 4.0


class MeasureFactory(SignedFactory):
    class Meta:
        model = Measure

    class Params:
        reach = factory.Trait(
            kind=Measure.Kind.REACH, value_si=0.31, side="left", compensation="without", typed="31 cm"
        )

    kind = Measure.Kind.MASS
    value_si = 16.0
    typed = factory.LazyAttribute(lambda made: f"{made.value_si:g} {'kg' if made.kind == Measure.Kind.MASS else 'm'}")
    method = Measure.Method.MEASURED
    taken_by = "Cora Ames"
    taken_on = days_ago(14)


class AccessFactory(OfClientFactory):
    class Meta:
        model = AccessProfile

    side = "left"
    purpose = AccessProfile.Purpose.BETTER_HAND
    site = AccessProfile.Site.HAND
    method = AccessProfile.Method.STICK
    releases_on_request = "yes"
    release_note = "Ten times of ten"
    tires_after_min = 20
    stop_signal = "Turns the head away"


class SittingFactory(OfClientFactory):
    class Meta:
        model = SittingProfile

    level = 3
    level_on = days_ago(14)
    level_by = "Joanna Pell"
    supports = ["trunk", "pelvis"]
    supports_decided = True


class CautionFactory(SignedFactory):
    class Meta:
        model = CautionAnswer

    kind = CautionAnswer.Kind.SEIZURES
    answer = "no"


class GoalFactory(SignedFactory):
    class Meta:
        model = Goal

    text = "Goes to the sandpit with the others"
    expected = "Drives there with one reminder"
    importance = 3
    difficulty = 2


class GoalScoreFactory(DjangoModelFactory):
    class Meta:
        model = GoalScore

    goal = factory.SubFactory(GoalFactory)
    made_by = factory.SubFactory(AccountFactory, role=Role.COORDINATOR)
    level = GoalScore.Level.MUCH_LESS
    on = days_ago(7)
    scored_by = "Joanna Pell"


class ConsentFactory(SignedFactory):
    class Meta:
        model = Consent

    purpose = Consent.Purpose.SERVICE
    given = True
    version = "2026-1"
    signer = "Elena Castellan"
    signed_on = days_ago(28)


class ClearanceFactory(SignedFactory):
    class Meta:
        model = Clearance

    clinician = "Dr. Imre Solt"
    profession = "Physiotherapist, register number 40817"
    equipment = Clearance.Equipment.RIDE_ON
    scope = Clearance.Scope.EITHER
    greatest_speed_m_s = 0.9
    supports = ["trunk", "pelvis"]
    session_min = 20
    places = ["yard", "pavement", "clinic"]
    given_on = days_ago(7)
    expires_on = days_ago(-180)


class ErasureFactory(OfClientFactory):
    """The coordinator has begun it; the director has not confirmed it."""

    class Meta:
        model = Erasure

    asked_by = Erasure.Asker.PARENT
    asked_on = days_ago(1)
    reason = "They wrote to the lab"
    begun_by = factory.SubFactory(AccountFactory, role=Role.COORDINATOR)


def answer_cautions(client, account, **yes):
    """Every caution answered no, but for those given as kind=plan."""
    return [
        CautionFactory(
            client=client, made_by=account, kind=kind, answer="yes" if kind in yes else "no", plan=yes.get(kind, "")
        )
        for kind in CautionAnswer.Kind.values
    ]


def make_assessed_client(account=None, **facts):
    """A client with a case at Clearance: everything assessed, nothing cleared yet. `person__…` goes to the file."""
    account = account or AccountFactory(role=Role.COORDINATOR)
    case = {name.removeprefix("case__"): facts.pop(name) for name in list(facts) if name.startswith("case__")}
    client = ClientFactory(**facts)
    signed = {"client": client, "made_by": account}
    ReferralFactory(**signed, **{"stage": Referral.Stage.CLEARANCE, **case})
    for make in (CaregiverFactory, HouseholdFactory, PlaceFactory, AccessFactory, SittingFactory):
        make(client=client)
    MeasureFactory(**signed)
    MeasureFactory(**signed, kind=Measure.Kind.STATURE, value_si=1.02)
    MeasureFactory(**signed, kind=Measure.Kind.SEAT_WIDTH, value_si=0.24)
    for side in ("left", "right"):
        MeasureFactory(**signed, reach=True, side=side)
    answer_cautions(client, account)
    GoalFactory(**signed)
    for purpose in Consent.NEEDED_FOR_HAND_OFF:
        ConsentFactory(**signed, purpose=purpose)
    return client


def make_cleared_client(account=None, clearance=None, **facts):
    """A fully assessed client with a case at Plan and a clearance in date; `clearance` changes that clearance."""
    account = account or AccountFactory(role=Role.COORDINATOR)
    client = make_assessed_client(account, **{"case__stage": Referral.Stage.PLAN, **facts})
    ClearanceFactory(client=client, made_by=account, **(clearance or {}))
    return client
