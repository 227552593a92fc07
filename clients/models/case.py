"""A referral starts a case; the date it was received starts the clock."""

from auditlog.registry import auditlog
from django.db import models
from django.utils import timezone

from clients.dates import collect, refuse_before, refuse_future
from clients.models.client import OfClient
from labsite.marks import Signed


class ReferralQuerySet(models.QuerySet):
    def waiting(self):
        """Cases still open, the longest waiting first."""
        return self.filter(outcome=Referral.Outcome.OPEN).order_by("received_on", "pk")

    def for_list(self):
        """Everything a row of the waiting list shows, without names: three queries."""
        return self.select_related("client", "client__access", "client__sitting").prefetch_related(
            "client__clearances", "client__builds"
        )

    def with_names(self):
        """Adds who they are. Only for those who may see it."""
        return self.select_related("client__person")


class Referral(OfClient, Signed):
    class Source(models.TextChoices):
        FAMILY = "family", "The family itself"
        THERAPIST = "therapist", "Therapist"
        PHYSICIAN = "physician", "Physician or clinic"
        SCHOOL = "school", "School or early intervention"
        OTHER = "other", "Somebody else"

    class Need(models.TextChoices):
        LOW = "low", "Low"
        MEDIUM = "medium", "Medium"
        HIGH = "high", "High"
        SPECIALIST = "specialist", "Specialist"
        UNKNOWN = "unknown", "Not yet known"

    class Stage(models.TextChoices):
        REFERRAL = "referral", "Referral"
        INTAKE = "intake", "Intake"
        ASSESSMENT = "assessment", "Assessment"
        CLEARANCE = "clearance", "Clearance"
        PLAN = "plan", "Plan"

    class Outcome(models.TextChoices):
        OPEN = "open", "Open"
        EQUIPPED = "equipped", "Equipment handed off"
        NO_EQUIPMENT = "no_equipment", "Assessed, no equipment needed"
        REFERRED_ON = "referred_on", "Referred elsewhere"
        WITHDRAWN = "withdrawn", "Withdrawn by the family"

    client = models.ForeignKey("clients.Client", on_delete=models.PROTECT, related_name="referrals")
    received_on = models.DateField("Date received")
    source = models.CharField("Who referred", max_length=20, choices=Source.choices)
    referrer_name = models.CharField("Referrer's name", max_length=120, blank=True)
    referrer_role = models.CharField("Referrer's role", max_length=120, blank=True)
    referrer_organisation = models.CharField("Referrer's organisation", max_length=160, blank=True)
    referrer_contact = models.CharField("How to reach the referrer", max_length=160, blank=True)
    reason = models.TextField("Reason, in the referrer's words")
    need = models.CharField("Level of need", max_length=20, choices=Need.choices, default=Need.UNKNOWN)
    stage = models.CharField(max_length=20, choices=Stage.choices, default=Stage.REFERRAL, editable=False)
    stage_since = models.DateTimeField(default=timezone.now, editable=False)
    outcome = models.CharField(
        max_length=20, choices=Outcome.choices, default=Outcome.OPEN, editable=False, db_index=True
    )
    outcome_on = models.DateField(null=True, blank=True, editable=False)
    outcome_reason = models.TextField("Reason", blank=True, editable=False)

    objects = ReferralQuerySet.as_manager()

    class Meta:
        ordering = ["-received_on", "-pk"]

    def __str__(self):
        return f"{self.client} referred {self.received_on}"

    @property
    def is_open(self):
        return self.outcome == self.Outcome.OPEN

    def clean(self):
        person = getattr(self.client, "person", None) if self.client_id else None
        collect(
            received_on=[
                lambda: refuse_future("Date received", self.received_on),
                lambda: refuse_before(
                    "Date received", self.received_on, person and person.birth_date, "the client's birth date"
                ),
            ]
        )

    def days_at_stage(self, today):
        return (today - timezone.localdate(self.stage_since)).days

    def days_waiting(self, today):
        """Days since it was received, up to its outcome."""
        return ((self.outcome_on or today) - self.received_on).days


class CaseMove(Signed):
    """A step of a case before a build exists, with its reason."""

    referral = models.ForeignKey(Referral, on_delete=models.CASCADE, related_name="moves")
    from_stage = models.CharField(max_length=20)
    to_stage = models.CharField(max_length=20)
    on = models.DateField()
    reason = models.CharField("Reason", max_length=300, blank=True)

    class Meta:
        ordering = ["pk"]

    def words(self):
        """Both ends in words; an end may be a stage or an outcome."""
        names = dict(Referral.Stage.choices) | dict(Referral.Outcome.choices)
        ends = [names.get(end, end) for end in (self.from_stage, self.to_stage) if end]
        return " → ".join(ends)


auditlog.register(Referral)
