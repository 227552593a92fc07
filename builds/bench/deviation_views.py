from functools import partial

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_http_methods

from builds.access import get_editable_build
from builds.bench.deviations import add_step, change_step, strike_step
from builds.bench.forms import StepAddForm, StepChangeForm
from builds.bench.gates import section_url
from builds.bench.views import section_or_404, typed
from builds.record.pages import accepted, strike_page, valid
from builds.record.rules import Refused
from labsite.pages import show_form


@require_http_methods(["GET", "POST"])
def step_change(request, number, pk):
    build = get_editable_build(request, number)
    step = get_object_or_404(build.steps.standing(), pk=pk)
    form = StepChangeForm(step, typed(request)[0])
    back = section_url(build, step.section, step)
    if valid(request, form) and accepted(
        form, lambda: change_step(step, request.user, form.words(), form.cleaned_data["reason"])
    ):
        messages.success(request, f"{step.code} is changed for this build.")
        return redirect(back)
    intro = "The change is for this build only. The plan's own words stay readable beside it."
    return show_form(
        request, form, title=f"Change step {step.code}", submit="Save the deviation", back=back, intro=intro
    )


@require_http_methods(["GET", "POST"])
def step_add(request, number, section):
    build = get_editable_build(request, number)
    section = section_or_404(section)
    form = StepAddForm(build, section, typed(request)[0])
    if valid(request, form):
        try:
            step = add_step(build, request.user, section, form.cleaned_data["reason"], **form.words())
        except Refused as refused:
            form.add_error(None, str(refused))
        else:
            messages.success(request, f"{step.code} is added for this build.")
            return redirect(section_url(build, section, step))
    title = f"Add a step to {section.label.lower()}"
    return show_form(request, form, title=title, submit="Add the step", back=section_url(build, section))


@require_http_methods(["GET", "POST"])
def step_strike(request, number, pk):
    build = get_editable_build(request, number)
    step = get_object_or_404(build.steps.standing(), pk=pk)
    return strike_page(
        request, partial(strike_step, step, request.user), title=f"Strike step {step.code}",
        done=f"{step.code} is struck from this build.", back=section_url(build, step.section, step),
        submit="Strike the step", label="Reason for the deviation", intro=str(step),
    )  # fmt: skip
