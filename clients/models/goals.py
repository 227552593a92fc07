"""Goals with five written levels, agreed before anything is built, and their scores, day by day.

The first score is the baseline: from then on the goal's words and weights stay as they are, or nobody could say
what the later scores are compared with.
"""

from auditlog.registry import auditlog
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q

from clients.models.client import OfClient
from labsite.marks import Signed, StandingQuerySet, Strikeable

ONE_TO_THREE = [MinValueValidator(1), MaxValueValidator(3)]


class GoalQuerySet(StandingQuerySet):
    def with_scores(self):
        """The goals with all that a page tells of them: two queries."""
        scores = models.Prefetch("scores", GoalScore.objects.select_related("made_by", "struck_by"))
        return self.select_related("struck_by").prefetch_related(scores)


class Goal(OfClient, Signed, Strikeable):
    client = models.ForeignKey("clients.Client", on_delete=models.CASCADE, related_name="goals")
    text = models.CharField("Goal, in the family's words", max_length=300)
    much_less = models.CharField("Much less than expected (-2)", max_length=300, blank=True)
    less = models.CharField("Less than expected (-1)", max_length=300, blank=True)
    expected = models.CharField("Expected level (0)", max_length=300)
    more = models.CharField("More than expected (+1)", max_length=300, blank=True)
    much_more = models.CharField("Much more than expected (+2)", max_length=300, blank=True)
    importance = models.PositiveSmallIntegerField("Importance (1 to 3)", default=1, validators=ONE_TO_THREE)
    difficulty = models.PositiveSmallIntegerField("Difficulty (1 to 3)", default=1, validators=ONE_TO_THREE)

    objects = GoalQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return self.text

    @property
    def weight(self):
        return self.importance * self.difficulty

    def levels(self):
        """(label, text) of the five levels, from the lowest."""
        names = ("much_less", "less", "expected", "more", "much_more")
        return [(self._meta.get_field(name).verbose_name, getattr(self, name)) for name in names]

    def standing_scores(self):
        """The scores that nobody has struck, the oldest first."""
        rows = [row for row in self.scores.all() if not row.is_struck]
        return sorted(rows, key=lambda row: (row.on, row.pk))

    def baseline(self):
        """The first score, or None: until then the goal's words may change."""
        return next(iter(self.standing_scores()), None)


class GoalScore(Signed, Strikeable):
    """What a goal reached on one day, as one of its five levels."""

    class Level(models.IntegerChoices):
        MUCH_LESS = -2, "-2, much less than expected"
        LESS = -1, "-1, less than expected"
        EXPECTED = 0, "0, as expected"
        MORE = 1, "+1, more than expected"
        MUCH_MORE = 2, "+2, much more than expected"

    goal = models.ForeignKey(Goal, on_delete=models.CASCADE, related_name="scores")
    level = models.SmallIntegerField("Level", choices=Level.choices)
    on = models.DateField("Date scored")
    scored_by = models.CharField("Scored by", max_length=120)
    note = models.CharField("Note", max_length=300, blank=True)

    class Meta:
        ordering = ["-on", "-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["goal", "on"], condition=Q(struck_at__isnull=True), name="one_standing_score_a_day"
            )
        ]

    def get_additional_data(self):
        return {"client": self.goal.client_id}


for model in (Goal, GoalScore):
    auditlog.register(model)
