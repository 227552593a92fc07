"""Steps at the bench and their results. A build keeps its own copy of the plan's steps."""

from auditlog.registry import auditlog
from django.db import models

from labsite.marks import Deviating, Signed, Strikeable


class Section(models.TextChoices):
    INCOMING_TEST = "incoming_test", "Incoming test"
    TEARDOWN = "teardown", "Teardown"
    ADAPTATION = "adaptation", "Adaptation"
    COMMISSIONING = "commissioning", "Commissioning"
    FITTING = "fitting", "Fitting"


class BuildStep(Deviating, Strikeable):
    """One step: what to do, and where a reading is due its unit and limits."""

    build = models.ForeignKey("builds.Build", on_delete=models.CASCADE, related_name="steps")
    section = models.CharField(max_length=20, choices=Section.choices)
    order = models.PositiveIntegerField()
    code = models.CharField("Step", max_length=20)
    title = models.CharField("What to do", max_length=200)
    detail = models.TextField("How", blank=True)
    must_see = models.CharField("What must be seen", max_length=300, blank=True)
    reading_label = models.CharField("Reading", max_length=120, blank=True)
    reading_unit = models.CharField("Unit", max_length=20, blank=True)
    limit_low = models.FloatField("At least", null=True, blank=True)
    limit_high = models.FloatField("At most", null=True, blank=True)
    limit_source = models.CharField("Where the limit comes from", max_length=200, blank=True)
    needs_photo = models.BooleanField("Photo needed", default=False)
    battery_out = models.BooleanField("Done with the battery out", default=False)
    repeats_per_side = models.BooleanField("Again after the arm changes sides", default=False)
    tests = models.CharField(max_length=40, blank=True)  # what a room reads from this step, e.g. "ballast", "battery"

    class Meta:
        ordering = ["order", "pk"]
        constraints = [models.UniqueConstraint(fields=["build", "code"], name="one_step_per_code")]

    def __str__(self):
        return f"{self.code} {self.title}"

    @staticmethod
    def words_of_plan(step):
        """The words, reading and limits of a plan's step (see plans/document.py) as this model names them."""
        reading = step.get("reading") or {}
        return {
            "title": step["title"],
            "detail": step.get("detail", ""),
            "must_see": step.get("check", ""),
            "reading_label": reading.get("label", ""),
            "reading_unit": reading.get("unit", ""),
            "limit_low": reading.get("at_least"),
            "limit_high": reading.get("at_most"),
            "limit_source": reading.get("source", ""),
            "needs_photo": step.get("photo", False),
        }


class StepResult(Signed, Strikeable):
    """What came of a step. The newest result that is not struck counts; none is ever edited."""

    class Outcome(models.TextChoices):
        PASSED = "passed", "Passed"
        FAILED = "failed", "Failed"
        DOES_NOT_APPLY = "does_not_apply", "Does not apply"

    step = models.ForeignKey(BuildStep, on_delete=models.CASCADE, related_name="results")
    outcome = models.CharField("Outcome", max_length=20, choices=Outcome.choices)
    reading = models.FloatField("Reading", null=True, blank=True)
    reading_typed = models.CharField(max_length=40, blank=True)
    instrument = models.CharField("Instrument", max_length=80, blank=True)
    note = models.TextField("Note", blank=True)
    photo = models.ForeignKey(
        "builds.Photo", null=True, blank=True, on_delete=models.PROTECT, related_name="step_results"
    )
    configuration = models.ForeignKey(
        "builds.Configuration", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return f"{self.get_outcome_display()}, {self.step}"


for model in (BuildStep, StepResult):
    auditlog.register(model)
