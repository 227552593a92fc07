"""Forms of the record: the people of a build, a move, nonconformances, problems, tasks."""

from django import forms

from builds.record.models import Nonconformance, Problem, Task
from labsite.forms import MAX_LINE, LabForm, ReasonForm, RecordForm
from labsite.models import Account
from labsite.roles import Role
from labsite.seen import NewestShown


class PeopleForm(LabForm):
    builders = forms.ModelMultipleChoiceField(
        Account.objects.none(), label="Builders", widget=forms.CheckboxSelectMultiple, required=False
    )
    reviewer = forms.ModelChoiceField(
        Account.objects.none(), label="Reviewer", required=False, help_text="Somebody who will not build it."
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["builders"].queryset = Account.objects.with_role(Role.BUILDER)
        self.fields["reviewer"].queryset = Account.objects.with_role(Role.REVIEWER)

    def clean(self):
        chosen = super().clean()
        if chosen.get("reviewer") in list(chosen.get("builders") or []):
            self.add_error("reviewer", "The reviewer must be somebody who does not build it.")
        return chosen


class MoveForm(LabForm):
    reason = forms.CharField(label="Reason", max_length=300, required=False)


class EndForm(LabForm):
    """Where a returned unit goes, or a unit that failed its incoming test."""

    stage = forms.ChoiceField(label="What becomes of the unit", widget=forms.RadioSelect)
    reason = forms.CharField(label="Reason", max_length=300)

    def __init__(self, *args, ends, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["stage"].choices = [(one.value, one.label) for one in ends]


class RefuseForm(ReasonForm):
    based_on = NewestShown()

    def __init__(self, *args, newest, **kwargs):
        super().__init__(*args, label="Reason for refusing", **kwargs)
        self.fields["based_on"].fresh = newest.pk if newest else 0


class NonconformanceForm(RecordForm):
    class Meta:
        model = Nonconformance
        fields = ["text"]


class DispositionForm(LabForm):
    disposition = forms.ChoiceField(
        label="Disposition", choices=Nonconformance.Disposition.choices, widget=forms.RadioSelect
    )
    cause = forms.CharField(label="Cause", max_length=500, help_text="Write “not found” if it was not found.")
    fix = forms.CharField(label="What was done", max_length=500)


class ProblemForm(RecordForm):
    class Meta:
        model = Problem
        fields = ["text"]


class SettledForm(LabForm):
    note = forms.CharField(label="How it was settled", max_length=500)


class TaskForm(RecordForm):
    class Meta:
        model = Task
        fields = ["text", "due_on"]


class DoneForm(LabForm):
    note = forms.CharField(label="What came of it", max_length=MAX_LINE)
