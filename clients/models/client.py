"""The client as the workshop knows them: a case code, and what the case needs. Nothing here identifies.

The reading methods work on the related rows as Django hands them over, so that a client fetched with
`with_needs()` answers them without a further query.
"""

from auditlog.registry import auditlog
from django.db import models
from django.db.models import Exists, Prefetch
from django.utils import timezone

from labsite.numbering import next_number
from labsite.roles import Role

FIRST_CODE = 1001

# A build that is over or cancelled no longer opens the client's page to its builders.
OVER_STAGES = ("reissued", "restored", "retired")
CANCELLED = "cancelled"


class ClientQuerySet(models.QuerySet):
    def open_file(self):
        """A new client with the next free case code. Call inside a transaction."""
        number = next_number(self, "number", FIRST_CODE)
        return self.create(number=number, case_code=f"C-{number}")

    def seen_by(self, account):
        """Every client for coordinators, reviewers and directors; for builders those of their unfinished builds."""
        if account.sees_every_build:
            return self
        if not account.has_role(Role.BUILDER):
            return self.none()
        builds = self.model._meta.get_field("builds").related_model._default_manager
        theirs = builds.filter(builders=account).exclude(stage__in=OVER_STAGES).exclude(standing=CANCELLED)
        return self.filter(pk__in=theirs.values("client"))

    def with_needs(self):
        """Everything a ticket reads about the client, and nothing that identifies: five queries."""
        from clients.models import Clearance, Measure

        return self.select_related("access", "sitting", "household").prefetch_related(
            Prefetch("measures", Measure.objects.select_related("struck_by", "checked_by")),
            Prefetch("clearances", Clearance.objects.select_related("struck_by")),
            "cautions",
            "places",
        )

    def what_is_known(self, client):
        """Whether a client's file has these, without reading who somebody is: name -> what a query may ask."""
        of = {name: self.model._meta.get_field(name).related_model._default_manager for name in ("person", "goals")}
        person = of["person"].filter(client=client)
        return {
            "has_name": Exists(person),
            "has_birth_date": Exists(person.filter(birth_date__isnull=False)),
            "has_address": Exists(person.exclude(address="")),
            "has_goals": Exists(of["goals"].filter(client=client)),
        }

    def for_list(self):
        """The rows of the client list, without names."""
        return self.prefetch_related("referrals")

    def with_names(self):
        """Adds who they are. Only for those who may see it."""
        return self.select_related("person")


class Client(models.Model):
    number = models.PositiveIntegerField(unique=True, editable=False)
    case_code = models.CharField("Case code", max_length=20, unique=True, editable=False)
    made_at = models.DateTimeField(default=timezone.now, editable=False)
    erased_at = models.DateTimeField("Erased", null=True, blank=True, editable=False)  # the case code stays

    objects = ClientQuerySet.as_manager()

    class Meta:
        ordering = ["number"]

    def __str__(self):
        return self.case_code

    def get_additional_data(self):
        return {"client": self.pk}

    @property
    def is_erased(self):
        return self.erased_at is not None

    @property
    def listed(self):
        """The case code as lists show it."""
        return f"{self.case_code} (erased)" if self.is_erased else self.case_code

    def erasure(self):
        """The erasure that waits or was done; one that was taken back is none."""
        return self.erasures.filter(declined_at__isnull=True).first()

    def latest(self, kind, **more):
        """The newest standing measure of a kind; `side`, `compensation` and other fields narrow it."""
        rows = [
            row
            for row in self.measures.all()
            if row.kind == kind and not row.is_struck and all(getattr(row, key) == value for key, value in more.items())
        ]
        return max(rows, key=lambda row: (row.taken_on, row.pk), default=None)

    def latest_mass_kg(self):
        mass = self.latest("mass")
        return mass.value_si if mass else None

    def steepest_slope(self):
        """(degrees, words). Degrees is None while no place is known or the slope of any place is unknown."""
        places = list(self.places.all())
        if not places:
            return None, "No place of use is known"
        unknown = [place.name for place in places if place.slope_deg is None]
        if unknown:
            return None, f"The slope is unknown at: {', '.join(unknown)}"
        steepest = max(places, key=lambda place: place.slope_deg)
        return steepest.slope_deg, f"{steepest.slope_deg:.3g}° at: {steepest.name}"

    def languages(self):
        """The codes of the languages its caregivers use, the first contact's language first."""
        return list(dict.fromkeys(caregiver.language for caregiver in self.caregivers.all()))

    def supervising_adults(self):
        return [caregiver for caregiver in self.caregivers.all() if caregiver.supervises]

    def clearance(self, today=None):
        """The clinician's newest word, or None where it has ended: an earlier one that ends later holds no more."""
        newest = self.last_clearance(today)
        return newest if newest and newest.in_date(today or timezone.localdate()) else None

    def last_clearance(self, today=None):
        """The clinician's newest word, whether it has ended or not."""
        today = today or timezone.localdate()
        rows = [row for row in self.clearances.all() if not row.is_struck and row.given_on <= today]
        return max(rows, key=lambda row: (row.given_on, row.pk), default=None)

    def consent(self, purpose):
        """The family's newest word on this purpose, or None when nobody asked."""
        rows = [row for row in self.consents.all() if row.purpose == purpose]
        return max(rows, key=lambda row: (row.signed_on, row.pk), default=None)

    def consent_allows(self, purpose):
        """No word is no consent."""
        newest = self.consent(purpose)
        return bool(newest and newest.in_force)

    def open_referral(self):
        return next((row for row in self.referrals.all() if row.is_open), None)

    def last_referral(self):
        return max(self.referrals.all(), key=lambda row: (row.received_on, row.pk), default=None)

    def running_builds(self):
        return [row for row in self.builds.all() if row.stage not in OVER_STAGES and row.standing != CANCELLED]


class OfClient(models.Model):
    """A record of one client: the trail of changes finds it by the client, even when it is gone."""

    class Meta:
        abstract = True

    def get_additional_data(self):
        return {"client": self.client_id}


auditlog.register(Client)
