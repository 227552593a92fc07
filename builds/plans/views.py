"""Plans to read: the list, and the sheet of one revision. They hold no client's data."""

from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from builds.plans.models import Plan, PlanRevision
from builds.plans.sheet import sheet_of


@require_safe
def plans(request):
    return render(request, "builds/plans/plans.html", {"plans": Plan.objects.for_list()})


@require_safe
def plan_sheet(request, code, number):
    revision = get_object_or_404(PlanRevision.objects.select_related("plan"), plan__code=code, number=number)
    others = revision.plan.revisions.exclude(pk=revision.pk).defer("content")
    page = {"revision": revision, "plan": revision.plan, "others": others, "sheet": sheet_of(revision.content)}
    return render(request, "builds/plans/plan_sheet.html", page)
