"""Build plans: the reusable instruction for one kind of adaptation. A revision is a document that never changes."""

from auditlog.registry import auditlog
from django.db import models


class PlanQuerySet(models.QuerySet):
    def for_list(self):
        """Plans with their revisions, the newest first, without the bulk of their content: two queries."""
        return self.prefetch_related(models.Prefetch("revisions", PlanRevision.objects.defer("content")))


class Plan(models.Model):
    class Equipment(models.TextChoices):
        RIDE_ON = "ride_on", "Ride-on that the client drives"
        TOY = "toy", "Toy worked by a switch"

    code = models.SlugField("Plan code", max_length=60, unique=True)
    name = models.CharField("Plan name", max_length=160)
    equipment = models.CharField("Kind of equipment", max_length=10, choices=Equipment.choices)

    objects = PlanQuerySet.as_manager()

    class Meta:
        ordering = ["name"]

    def __str__(self):
        return self.name

    def current(self):
        return self.revisions.order_by("-number").first()


class PlanRevision(models.Model):
    """The whole plan as one document: steps, wire runs, parts, cautions, papers (see plans/document.py)."""

    plan = models.ForeignKey(Plan, on_delete=models.PROTECT, related_name="revisions")
    number = models.PositiveIntegerField("Revision")
    content = models.JSONField()
    digest = models.CharField(max_length=64)
    loaded_at = models.DateTimeField(auto_now_add=True)
    note = models.CharField("What this revision changes", max_length=300, blank=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["plan", "number"], name="one_content_per_revision")]
        ordering = ["plan", "-number"]

    def __str__(self):
        return f"{self.plan}, revision {self.number}"

    def chemistries(self):
        return self.content["chemistry"]


auditlog.register(Plan)
auditlog.register(PlanRevision, exclude_fields=["content"])
