"""One base unit being adapted for one client following one plan."""

from auditlog.registry import auditlog
from django.conf import settings
from django.db import models
from django.utils import timezone

from builds.record.holds import OVER, Hold, Stage, Standing
from labsite.marks import Signed
from labsite.numbering import next_number

FIRST_NUMBER = 1


class BuildQuerySet(models.QuerySet):
    def for_list(self):
        """Everything a row of a list shows, in a constant number of queries."""
        return self.select_related("client", "unit", "plan_revision__plan").prefetch_related(
            "nonconformances", "hold_decisions", "hold_requests", "tasks__problem"
        )

    def going_on(self):
        return self.filter(standing=Standing.OPEN).exclude(stage__in=OVER)

    def holding_their_unit(self):
        """Builds whose unit no other build may have."""
        return self.exclude(stage__in=OVER).exclude(standing=Standing.CANCELLED)

    def seen_by(self, account):
        if account.sees_every_build:
            return self
        return self.filter(builders=account) if account.is_builder else self.none()

    def start(self, **fields):
        """A new build with the next free number. Call inside a transaction."""
        serial = next_number(self, "serial", FIRST_NUMBER)
        return self.create(serial=serial, number=f"B-{serial:04d}", **fields)


class Build(Signed):
    serial = models.PositiveIntegerField(unique=True, editable=False)
    number = models.CharField("Build number", max_length=20, unique=True, editable=False)
    client = models.ForeignKey("clients.Client", on_delete=models.PROTECT, related_name="builds")
    referral = models.ForeignKey(
        "clients.Referral", null=True, blank=True, on_delete=models.PROTECT, related_name="builds"
    )
    unit = models.ForeignKey("builds.BaseUnit", on_delete=models.PROTECT, related_name="builds")
    plan_revision = models.ForeignKey("builds.PlanRevision", on_delete=models.PROTECT, related_name="builds")
    hold_points = models.JSONField(default=list)  # the holds that the plan asks for, in order
    builders = models.ManyToManyField(settings.AUTH_USER_MODEL, blank=True, related_name="builds_as_builder")
    reviewer = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="builds_as_reviewer"
    )
    stage = models.CharField(max_length=20, choices=Stage.choices, default=Stage.PLAN, db_index=True)
    stage_since = models.DateTimeField(default=timezone.now)
    standing = models.CharField(max_length=20, choices=Standing.choices, default=Standing.OPEN, db_index=True)
    standing_reason = models.CharField(max_length=300, blank=True)

    objects = BuildQuerySet.as_manager()

    class Meta:
        ordering = ["-serial"]

    def __str__(self):
        return self.number

    @property
    def is_open(self):
        return self.standing == Standing.OPEN

    @property
    def rides(self):
        """The plan is for a ride-on that the client drives, not for a toy."""
        return self.plan_revision.plan.equipment == self.plan_revision.plan.Equipment.RIDE_ON

    @property
    def has_stick(self):
        return bool(self.plan_revision.content.get("stick"))

    @property
    def is_over(self):
        return self.stage in OVER

    @property
    def is_going_on(self):
        return self.is_open and not self.is_over

    @property
    def is_with_the_family(self):
        return self.stage == Stage.IN_USE

    @property
    def is_given_up(self):
        """No family has the unit by this build any more: it came back, or the build was cancelled before it left."""
        return self.stage == Stage.RETURNED or self.is_over or self.standing == Standing.CANCELLED

    @property
    def has_open_nonconformance(self):
        return any(one.is_open for one in self.nonconformances.all())

    def urgent_tasks(self):
        """The open calls that stop the use of the unit, the gravest first; none at its end, when no family has it."""
        urgent = [] if self.is_over else [one for one in self.tasks.all() if one.is_urgent]
        return sorted(urgent, key=lambda one: -one.gravity)

    def call_today(self):
        """Why the family must be called today, in a few words; empty while nothing asks for it."""
        urgent = self.urgent_tasks()
        if any(one.told_by_the_family for one in urgent):
            return "Family reported a problem: call today"
        return "Stop use: call the family today" if urgent else ""

    def asked_holds(self):
        """The hold points for which a reviewer has been asked and has not answered; none while the build is stopped."""
        asked = {one.hold for one in self.hold_requests.all() if one.answered_at is None}
        return [hold for hold in self.holds() if hold in asked] if self.is_going_on else []

    def void_holds(self):
        """The hold points whose newest release no longer stands."""
        today = timezone.localdate()
        return [hold for hold in self.holds() if self.why_void(hold, today)]

    def why_void(self, hold, today):
        """What voided the newest release of a hold point, in words. A refusal since then brings none back."""
        releases = [one for one in self.hold_decisions.all() if one.hold == hold and one.is_release]
        newest = max(releases, key=lambda one: one.pk, default=None)
        return newest.why_void(today) if newest else []

    def holds(self):
        return [Hold(code) for code in self.hold_points]

    def configuration(self):
        """The current configuration, the one with the highest number."""
        return max(self.configurations.all(), key=lambda one: one.number, default=None)


class StageMove(Signed):
    """A move along the path, or a build put on hold, cancelled or reopened: date, person, reason."""

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="moves")
    from_state = models.CharField(max_length=40)
    to_state = models.CharField(max_length=40)
    reason = models.CharField("Reason", max_length=300, blank=True)

    class Meta:
        ordering = ["pk"]


auditlog.register(Build, m2m_fields={"builders"})
