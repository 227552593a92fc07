"""Forms of the overview: a new build, and the search box."""

from django import forms

from builds.parts.models import BaseUnit
from builds.plans.models import PlanRevision
from builds.record.forms import PeopleForm
from clients.models import Client


class NewBuildForm(PeopleForm):
    client = forms.ModelChoiceField(Client.objects.all(), label="Client, by case code", to_field_name="case_code")
    plan_revision = forms.ModelChoiceField(PlanRevision.objects.none(), label="Build plan")
    unit = forms.ModelChoiceField(BaseUnit.objects.none(), label="Base unit")

    field_order = ["client", "plan_revision", "unit", "builders", "reviewer"]

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["plan_revision"].queryset = PlanRevision.objects.filter(pk__in=newest_revisions()).select_related(
            "plan"
        )
        self.fields["unit"].queryset = BaseUnit.objects.free().select_related("type")
        self.fields["unit"].label_from_instance = lambda unit: f"{unit.number}, {unit.type.name}"


def newest_revisions():
    """The newest revision of each plan; older ones stay with the builds that follow them."""
    newest = {}
    for plan_id, pk in PlanRevision.objects.order_by("plan_id", "-number").values_list("plan_id", "pk"):
        newest.setdefault(plan_id, pk)
    return newest.values()
