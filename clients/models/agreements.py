"""What the family agreed to, purpose by purpose, and what a named clinician cleared, with conditions."""

import datetime

from auditlog.registry import auditlog
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q

from clients.dates import collect, refuse_after, refuse_before, refuse_future
from clients.models.client import OfClient
from clients.models.needs import SittingProfile
from clients.models.people import Place
from labsite.marks import Side, Signed, StandingQuerySet, Strikeable

# Common practice, no source: what a growing client can do is looked at again at least every two years.
LONGEST_DAYS = 731
FASTEST_M_S = 3.0  # faster than an adult beside it can walk or jog; nobody clears that for a ride-on
LONGEST_SESSION_MIN = 240


class ConsentQuerySet(models.QuerySet):
    def in_force(self):
        return self.filter(given=True, withdrawn_on__isnull=True)

    def allows(self, purpose):
        """The newest word of the family on this purpose decides; no word is no consent."""
        newest = self.filter(purpose=purpose).order_by("-signed_on", "-pk").first()
        return bool(newest and newest.in_force)


class Consent(OfClient, Signed):
    class Purpose(models.TextChoices):
        SERVICE = "service", "The service itself"
        MEASURES = "measures", "Taking and keeping measures"
        CLINICIAN = "clinician", "Sharing with the clinician"
        PHOTO_RECORD = "photo_record", "Photos for the record"
        PHOTO_TEACHING = "photo_teaching", "Photos for teaching"
        PHOTO_PUBLICITY = "photo_publicity", "Photos for publicity"
        RESEARCH = "research", "Research"

    NEEDED_FOR_HAND_OFF = (Purpose.SERVICE, Purpose.MEASURES)

    client = models.ForeignKey("clients.Client", on_delete=models.CASCADE, related_name="consents")
    purpose = models.CharField("Purpose", max_length=20, choices=Purpose.choices)
    given = models.BooleanField("Consent given")
    version = models.CharField("Version of the form", max_length=40)
    signer = models.CharField("Signed by", max_length=120)
    signed_on = models.DateField("Date signed")
    withdrawn_on = models.DateField("Date withdrawn", null=True, blank=True)
    withdrawn_note = models.CharField("Who withdrew it, and how", max_length=300, blank=True)

    objects = ConsentQuerySet.as_manager()

    class Meta:
        ordering = ["purpose", "-signed_on", "-pk"]

    def clean(self):
        collect(
            signed_on=[lambda: refuse_future("Date signed", self.signed_on)],
            withdrawn_on=[
                lambda: refuse_future("Date withdrawn", self.withdrawn_on),
                lambda: refuse_before("Date withdrawn", self.withdrawn_on, self.signed_on, "the day it was signed"),
            ],
        )

    @property
    def in_force(self):
        return self.given and self.withdrawn_on is None


class ClearanceQuerySet(StandingQuerySet):
    def current(self, today):
        """Clearances in date, the newest first."""
        return self.standing().filter(given_on__lte=today).filter(Q(expires_on__gte=today)).order_by("-given_on", "-pk")


class Clearance(OfClient, Signed, Strikeable):
    """A named clinician lets the case go on, within a scope and under conditions, until a date."""

    class Scope(models.TextChoices):
        LEFT = "left", "Control on the occupant's left"
        RIGHT = "right", "Control on the occupant's right"
        EITHER = "either", "Control on either side"

    class Equipment(models.TextChoices):
        RIDE_ON = "ride_on", "Ride-on that the client drives"
        TOY = "toy", "Toy worked by a switch"
        ANY = "any", "Ride-on or toy"

    client = models.ForeignKey("clients.Client", on_delete=models.CASCADE, related_name="clearances")
    clinician = models.CharField("Clinician's name", max_length=120)
    profession = models.CharField("Profession and registration", max_length=160)
    equipment = models.CharField("Kind of equipment cleared", max_length=10, choices=Equipment.choices)
    scope = models.CharField("Side cleared", max_length=10, choices=Scope.choices)
    greatest_speed_m_s = models.FloatField("Greatest speed", null=True, blank=True)  # empty is unknown, never "any"
    supports = models.JSONField("Supports that must be fitted", default=list, blank=True)
    session_min = models.PositiveSmallIntegerField(
        "Longest session",
        null=True,
        blank=True,
        validators=[MinValueValidator(1), MaxValueValidator(LONGEST_SESSION_MIN)],
    )
    places = models.JSONField("Places cleared", default=list, blank=True)
    conditions = models.TextField("Other conditions", blank=True)
    given_on = models.DateField("Date of the clearance")
    expires_on = models.DateField("Last day of the clearance")

    objects = ClearanceQuerySet.as_manager()

    class Meta:
        ordering = ["-given_on", "-pk"]

    def __str__(self):
        return f"Clearance by {self.clinician}, {self.given_on}"

    def clean(self):
        collect(
            given_on=[lambda: refuse_future("Date of the clearance", self.given_on)],
            expires_on=[
                lambda: refuse_before(
                    "Last day of the clearance", self.expires_on, self.given_on, "the date of the clearance"
                ),
                lambda: refuse_after(
                    "Last day of the clearance", self.expires_on, self._latest_end(), f"{LONGEST_DAYS} days at most"
                ),
            ],
        )

    def _latest_end(self):
        return self.given_on and self.given_on + datetime.timedelta(days=LONGEST_DAYS)

    def in_date(self, today):
        return self.given_on <= today <= self.expires_on

    def days_left(self, today):
        """Days on which it still holds, today included; 0 when it has ended."""
        return max((self.expires_on - today).days + 1, 0)

    def supports_in_words(self):
        return _in_words(SittingProfile.Support, self.supports, "none")

    def places_in_words(self):
        return _in_words(Place.Kind, self.places, "none")

    def covers_side(self, side):
        return side in (Side.LEFT, Side.RIGHT) and self.scope in (self.Scope.EITHER, side)


def _in_words(choices, codes, nothing):
    labels = dict(choices.choices)
    return ", ".join(str(labels.get(code, code)) for code in codes) or nothing


for model in (Consent, Clearance):
    auditlog.register(model)
