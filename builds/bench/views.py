from functools import partial

from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from builds.access import get_build, get_editable_build
from builds.bench.forms import StepForm
from builds.bench.gates import section_url
from builds.bench.models import Section, StepResult
from builds.bench.progress import Bench
from builds.bench.rules import record_result, strike_result
from builds.bench.sheet import Sheet
from builds.record.pages import accepted, strike_page, valid
from labsite.pages import show_form

SECTION_PAGE = "builds/bench/section.html"


def section_or_404(section):
    if section not in Section.values:
        raise Http404("No such section.")
    return Section(section)


@require_safe
def bench(request, number):
    """The section in which the next step is."""
    build = get_build(request, number)
    step, _ = Bench(build).next_step()
    return redirect(section_url(build, step.section if step else Section.INCOMING_TEST, step))


@require_safe
def bench_section(request, number, section):
    build = get_build(request, number)
    sheet = Sheet(build, section_or_404(section), request.user)
    return render(request, SECTION_PAGE, {**sheet.context(), "title": sheet.section.label})


@require_http_methods(["GET", "POST"])
def step_record(request, number, pk):
    build = get_editable_build(request, number)
    sheet = Sheet(build, get_object_or_404(build.steps.standing(), pk=pk).section, request.user)
    step = next(one.step for one in sheet.bench.states if one.step.pk == pk)
    form = StepForm(sheet.bench, step, *typed(request))
    if valid(request, form) and accepted(form, lambda: record_result(step, request.user, **form.result())):
        messages.success(request, f"{step.code} is recorded.")
        return redirect(after_recording(build, step))
    shown = None if sheet.bench.blocked(step) and not form.is_bound else form
    return show_form(
        request, form, title=sheet.section.label, submit="Record", template=SECTION_PAGE, **sheet.context(step, shown)
    )


def typed(request):
    """What was sent, or nothing where the page is only opened."""
    return (request.POST, request.FILES) if request.method == "POST" else (None, None)


def after_recording(build, step):
    """The next step of the section; the same one where nothing is left in it."""
    following, _ = Bench(build).next_step(step.section)
    return section_url(build, step.section, following or step)


@require_http_methods(["GET", "POST"])
def result_strike(request, number, pk):
    build = get_editable_build(request, number)
    result = get_object_or_404(StepResult.objects.select_related("step"), step__build=build, pk=pk)
    return strike_page(
        request, partial(strike_result, result, request.user), title="Strike this result",
        done="The result is struck. It stays readable.", submit="Strike the result",
        back=reverse("step_record", args=[build.number, result.step_id]),
        then=section_url(build, result.step.section, result.step),
        intro=f"{result.step}: {result.get_outcome_display().lower()}, recorded by {result.made_by}. "
        "A release that stood on this result becomes void.",
    )  # fmt: skip
