"""The register of models: every class by name."""

from clients.models.agreements import Clearance, Consent
from clients.models.case import CaseMove, Referral
from clients.models.client import Client, ClientQuerySet
from clients.models.erasure import Erasure
from clients.models.goals import Goal, GoalScore
from clients.models.measures import Measure
from clients.models.needs import AccessProfile, CautionAnswer, SittingProfile
from clients.models.people import Caregiver, Household, PersonFile, Place

__all__ = [
    "AccessProfile",
    "Caregiver",
    "CaseMove",
    "CautionAnswer",
    "Clearance",
    "Client",
    "ClientQuerySet",
    "Consent",
    "Erasure",
    "Goal",
    "GoalScore",
    "Household",
    "Measure",
    "PersonFile",
    "Place",
    "Referral",
    "SittingProfile",
]
