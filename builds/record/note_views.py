"""Nonconformances, the problem log and tasks."""

from functools import partial

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from builds.access import get_build, get_checkable_build, get_coordinated_build
from builds.record import nonconformances
from builds.record.forms import (
    DispositionForm,
    DoneForm,
    NonconformanceForm,
    ProblemForm,
    SettledForm,
    TaskForm,
)
from builds.record.pages import STAYS, accepted, strike_page, valid
from labsite.pages import show_form

EITHER = ["GET", "POST"]


def page(request, build, form, title, submit, intro="", **context):
    back = reverse("ticket", args=[build.number])
    return show_form(request, form, title=title, submit=submit, back=back, intro=intro, **context)


@require_http_methods(EITHER)
def nonconformance_new(request, number):
    build = get_checkable_build(request, number)
    form = NonconformanceForm(request.POST or None)
    if valid(request, form):
        nonconformances.open_nonconformance(build, request.user, form.cleaned_data["text"])
        messages.success(request, "The nonconformance is recorded. It holds the build until it is closed.")
        return redirect("ticket", build.number)
    intro = "Something is not as it should be. It holds the build until somebody decides what is done with it."
    return page(request, build, form, f"Nonconformance on build {build.number}", "Record it", intro)


@require_http_methods(EITHER)
def nonconformance_close(request, number, pk):
    build = get_checkable_build(request, number, at_its_end=True)
    found = get_object_or_404(build.nonconformances, pk=pk)
    form = DispositionForm(request.POST or None)
    if valid(request, form) and accepted(
        form, lambda: nonconformances.dispose(found, request.user, **form.cleaned_data)
    ):
        messages.success(request, "The nonconformance is closed.")
        return redirect("ticket", build.number)
    intro = f"What was wrong: {found.text}"
    return page(request, build, form, f"Close a nonconformance of build {build.number}", "Close it", intro)


@require_http_methods(EITHER)
def problem_new(request, number):
    build = get_build(request, number)
    form = ProblemForm(request.POST or None)
    form.instance.build, form.instance.made_by = build, request.user
    if valid(request, form):
        form.save()
        messages.success(request, "It is in the problem log.")
        return redirect("ticket", build.number)
    return page(request, build, form, f"Problem log of build {build.number}", "Write it down")


@require_http_methods(EITHER)
def problem_settle(request, number, pk):
    build = get_checkable_build(request, number, at_its_end=True)
    problem = get_object_or_404(build.problems.standing(), pk=pk)
    form = SettledForm(request.POST or None)
    if valid(request, form):
        problem.settle(request.user, form.cleaned_data["note"])
        return redirect("ticket", build.number)
    return page(request, build, form, "Settle a problem", "Save", problem.text)


@require_http_methods(EITHER)
def problem_strike(request, number, pk):
    build = get_checkable_build(request, number, at_its_end=True)
    problem = get_object_or_404(build.problems.standing(), pk=pk)
    return strike_page(
        request, partial(problem.strike, request.user), title="Strike an entry of the problem log",
        done="The entry is struck.", back=reverse("ticket", args=[build.number]), intro=f"{problem.text}. {STAYS}",
    )  # fmt: skip


@require_http_methods(EITHER)
def task_new(request, number):
    build = get_coordinated_build(request, number)
    form = TaskForm(request.POST or None, initial={"due_on": timezone.localdate()})
    form.instance.build = build
    if valid(request, form):
        form.save()
        return redirect("ticket", build.number)
    return page(request, build, form, f"Task for build {build.number}", "Add the task")


@require_http_methods(EITHER)
def task_done(request, number, pk):
    build = get_coordinated_build(request, number)
    task = get_object_or_404(build.tasks, pk=pk, done_at__isnull=True)
    form = DoneForm(request.POST or None)
    if valid(request, form):
        task.finish(request.user, form.cleaned_data["note"])
        return redirect("ticket", build.number)
    return page(request, build, form, "A task is done", "Done", task.text)
