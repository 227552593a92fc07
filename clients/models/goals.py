"""Goals with five written levels, agreed before anything is built."""

from auditlog.registry import auditlog
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from clients.models.client import OfClient
from labsite.marks import Signed, Strikeable

ONE_TO_THREE = [MinValueValidator(1), MaxValueValidator(3)]


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

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return self.text

    def levels(self):
        """(label, text) of the five levels, from the lowest."""
        names = ("much_less", "less", "expected", "more", "much_more")
        return [(self._meta.get_field(name).verbose_name, getattr(self, name)) for name in names]


auditlog.register(Goal)
