"""Releases and refusals of hold points, each with the evidence it stood on, and what later voided it."""

from django.conf import settings
from django.db import models
from django.utils import timezone

from builds.record.holds import Hold
from builds.record.models.build import Build
from builds.record.models.configuration import Configuration
from labsite.marks import Signed


class HoldRequestQuerySet(models.QuerySet):
    def waiting(self):
        """What nobody has answered yet, the longest waiting first."""
        return self.filter(answered_at__isnull=True, build__standing="open").order_by("made_at")

    def for_list(self):
        return self.select_related("build__unit__type", "build__client", "build__reviewer", "made_by").prefetch_related(
            "build__nonconformances"
        )


class HoldRequest(Signed):
    """Somebody says the evidence is complete and asks a reviewer to look. Answered by a decision."""

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="hold_requests")
    hold = models.CharField(max_length=20, choices=Hold.choices)
    answered_at = models.DateTimeField(null=True, blank=True)

    objects = HoldRequestQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]


class HoldDecision(Signed):
    class Verdict(models.TextChoices):
        RELEASED = "released", "Released"
        REFUSED = "refused", "Refused"

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="hold_decisions")
    hold = models.CharField(max_length=20, choices=Hold.choices)
    verdict = models.CharField(max_length=10, choices=Verdict.choices)
    meaning = models.CharField(max_length=300, blank=True)
    reason = models.CharField("Reason", max_length=300, blank=True)
    agreed = models.JSONField("Departures from the plan that were agreed to", default=list, blank=True)
    configuration = models.ForeignKey(Configuration, null=True, on_delete=models.PROTECT, related_name="hold_decisions")
    evidence = models.JSONField(default=dict)
    digest = models.CharField("Digest of the evidence", max_length=64)
    good_until = models.DateField(null=True, blank=True)
    good_until_why = models.CharField(max_length=200, blank=True)
    voided_at = models.DateTimeField(null=True, blank=True)
    voided_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    void_changes = models.JSONField(default=list, blank=True)

    class Meta:
        ordering = ["pk"]

    @property
    def is_release(self):
        return self.verdict == self.Verdict.RELEASED

    def has_run_out(self, today):
        return self.good_until is not None and self.good_until < today

    def stands(self, today):
        return self.is_release and self.voided_at is None and not self.has_run_out(today)

    def why_void(self, today):
        if self.voided_at is not None:
            return self.void_changes
        return [self.good_until_why] if self.is_release and self.has_run_out(today) else []

    def void(self, changes, account=None):
        self.voided_at = timezone.now()
        self.voided_by = account
        self.void_changes = changes
        self.save(update_fields=["voided_at", "voided_by", "void_changes"])
