"""The scores of one day: every goal on one page, each as one of its five levels."""

from django import forms
from django.utils import timezone

from clients.dates import refuse_before, refuse_future, said
from clients.models import GoalScore
from labsite.forms import LabForm

NOT_SCORED = ("", "Not scored on this day")
NOTHING = "Score one goal or more"
TWICE = "{text} is scored on {on} already. Strike that score first"
NO_LEVEL = "Choose a level for {text}, or leave its note empty"
BEFORE = "The baseline of {text} is of {on}. Enter a date on or after it"


class GoalScoresForm(LabForm):
    on = forms.DateField(label="Date scored")
    scored_by = forms.CharField(label="Scored by", max_length=120, help_text="Who watched and decided the levels")

    def __init__(self, *args, client, goals, account, **kwargs):
        self.client, self.account = client, account
        self.goals = list(goals)
        self.base_fields = {**type(self).base_fields, **self._boxes()}
        kwargs["initial"] = {"on": timezone.localdate(), "scored_by": account.full_name} | (kwargs.get("initial") or {})
        super().__init__(*args, **kwargs)

    def _boxes(self):
        boxes = {}
        for goal in self.goals:
            boxes[f"level_{goal.pk}"] = forms.TypedChoiceField(
                label=goal.text,
                choices=[*levels(goal), NOT_SCORED],
                coerce=int,
                empty_value=None,
                widget=forms.RadioSelect,
                required=False,
            )
            boxes[f"note_{goal.pk}"] = forms.CharField(label=f"Note on: {goal.text}", max_length=300, required=False)
        return boxes

    def clean_on(self):
        on = self.cleaned_data["on"]
        person = getattr(self.client, "person", None)
        refuse_future("Date scored", on)
        refuse_before("Date scored", on, person and person.birth_date, "the client's birth date")
        return on

    def clean(self):
        typed = super().clean() or self.cleaned_data
        chosen = [goal for goal in self.goals if typed.get(f"level_{goal.pk}") is not None]
        if not chosen:
            self.add_error(f"level_{self.goals[0].pk}" if self.goals else None, NOTHING)
        for goal in chosen:
            self._refuse_date(goal, typed.get("on"))
        for goal in self.goals:
            if typed.get(f"note_{goal.pk}") and goal not in chosen and f"level_{goal.pk}" not in self.errors:
                self.add_error(f"level_{goal.pk}", NO_LEVEL.format(text=goal.text))
        return typed

    def _refuse_date(self, goal, on):
        """One score a day, and none before the baseline, or it would be another baseline."""
        baseline, field = goal.baseline(), f"level_{goal.pk}"
        if on is None or baseline is None:
            return
        if on < baseline.on:
            self.add_error(field, BEFORE.format(text=goal.text, on=said(baseline.on)))
        elif any(score.on == on for score in goal.standing_scores()):
            self.add_error(field, TWICE.format(text=goal.text, on=said(on)))

    def save(self):
        for goal in self.goals:
            level = self.cleaned_data[f"level_{goal.pk}"]
            if level is not None:
                GoalScore.objects.create(
                    goal=goal,
                    level=level,
                    note=self.cleaned_data[f"note_{goal.pk}"],
                    on=self.cleaned_data["on"],
                    scored_by=self.cleaned_data["scored_by"],
                    made_by=self.account,
                )


def levels(goal):
    """The five levels with the family's own words, the highest first as on a ladder."""
    words = [text for _, text in goal.levels()]
    pairs = zip(GoalScore.Level, words, strict=True)
    return [(level.value, f"{level.label}: {text or 'not written'}") for level, text in pairs][::-1]
