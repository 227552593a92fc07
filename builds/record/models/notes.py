"""What goes wrong and what is to be done: nonconformances, problems, tasks, and photos."""

from auditlog.registry import auditlog
from django.conf import settings
from django.db import models
from django.utils import timezone

from builds.fields import photo_path
from builds.record.models.build import Build
from labsite.marks import Signed, Strikeable

LONGEST_TASK = 500


class Nonconformance(Signed):
    """A check failed. It holds the build until somebody has decided what is done with it."""

    class Disposition(models.TextChoices):
        USE_AS_IS = "use_as_is", "Use as is"
        REWORK = "rework", "Rework to the plan"
        REPAIR = "repair", "Repair, differing from the plan"
        SCRAP = "scrap", "Scrap the part or the unit"

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="nonconformances")
    source = models.CharField(max_length=80, blank=True, db_index=True)  # key of the failed evidence, e.g. "step:12"
    text = models.CharField("What was wrong", max_length=500)
    cause = models.CharField("Cause", max_length=500, blank=True)
    disposition = models.CharField("Disposition", max_length=20, choices=Disposition.choices, blank=True)
    fix = models.CharField("What was done", max_length=500, blank=True)
    closed_at = models.DateTimeField(null=True, blank=True)
    closed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )

    class Meta:
        ordering = ["pk"]

    @property
    def is_open(self):
        return self.closed_at is None


class Problem(Signed, Strikeable):
    """A line of the problem log: anything anybody noticed."""

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="problems")
    made_by = models.ForeignKey(  # empty: the family, who has no account
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+", verbose_name="Written by"
    )
    text = models.TextField("What happened")
    settled_at = models.DateTimeField(null=True, blank=True)
    settled_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    settled_note = models.CharField("How it was settled", max_length=500, blank=True)

    class Meta:
        ordering = ["-pk"]

    @property
    def is_open(self):
        return self.settled_at is None and not self.is_struck

    @property
    def told_by_the_family(self):
        return self.made_by_id is None

    @property
    def told_by(self):
        return "The family" if self.told_by_the_family else self.made_by.full_name

    def settle(self, account, note):
        self.settled_at = timezone.now()
        self.settled_by = account
        self.settled_note = note
        self.save(update_fields=["settled_at", "settled_by", "settled_note"])


class TaskQuerySet(models.QuerySet):
    def to_do(self):
        """What is open, the calls that stop the use of a unit before anything else."""
        return self.filter(done_at__isnull=True).order_by("-gravity", "due_on", "pk")

    def stop_use(self, build, why, problem=None, gravity=None):
        """The unit is with a family and must not be used: somebody calls them today."""
        text = f"Call the family today: stop use of {build.unit.number} until it has been seen. {why}"
        gravity = Gravity.STOPS_USE if gravity is None else gravity
        return self.call(build, text, problem, stops_use=True, gravity=gravity)

    def call(self, build, text, problem=None, **more):
        """Somebody calls the family today."""
        return self.create(
            build=build, text=text[:LONGEST_TASK], due_on=timezone.localdate(), problem=problem, **more
        )


class Gravity(models.IntegerChoices):
    """Which call is made first."""

    NONE = 0, "Can wait for its day"
    STOPS_USE = 1, "Something changed that the use stood on"
    MAYBE_DANGER = 2, "Perhaps smoke, fire, heat, or moving by itself"
    DANGER = 3, "Smoke, fire, heat, or moving by itself"
    MAYBE_HURT = 4, "Perhaps somebody is hurt"
    HURT = 5, "Somebody is hurt"


class Task(models.Model):
    """Something a coordinator must do by a date, written by a rule or a person."""

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="tasks")
    text = models.CharField("What to do", max_length=LONGEST_TASK)
    stops_use = models.BooleanField("Stops the use of the unit", default=False)
    gravity = models.PositiveSmallIntegerField("Which call first", choices=Gravity.choices, default=Gravity.NONE)
    problem = models.ForeignKey(  # a call stays to be made, whatever becomes of the line it is about
        Problem, null=True, blank=True, on_delete=models.SET_NULL, related_name="tasks", verbose_name="What it is about"
    )
    due_on = models.DateField("Due")
    made_at = models.DateTimeField(default=timezone.now)
    done_at = models.DateTimeField(null=True, blank=True)
    done_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    done_note = models.CharField("What came of it", max_length=300, blank=True)

    objects = TaskQuerySet.as_manager()

    class Meta:
        ordering = ["due_on", "pk"]

    @property
    def is_urgent(self):
        return self.stops_use and self.done_at is None

    @property
    def told_by_the_family(self):
        """The family wrote the problem that it is about. Struck or settled, they told it all the same."""
        return self.problem is not None and self.problem.told_by_the_family

    def finish(self, account, note):
        self.done_at = timezone.now()
        self.done_by = account
        self.done_note = note
        self.save(update_fields=["done_at", "done_by", "done_note"])


class Photo(Signed, Strikeable):
    """A photo of the unit: shrunk, upright, without metadata, shown only to those who may see the build."""

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="photos")
    file = models.ImageField(upload_to=photo_path)
    caption = models.CharField("What it shows", max_length=200, blank=True)
    shows_client = models.BooleanField("The client can be seen", default=False)
    on_guide = models.BooleanField("Show it on the family's use guide", default=False)

    class Meta:
        ordering = ["pk"]


for model in (Nonconformance, Problem, Task, Photo):
    auditlog.register(model)
