"""Who works on a build, and its moves along the path."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from builds.access import get_coordinated_build, get_editable_build
from builds.record import rules
from builds.record.forms import EndForm, MoveForm, PeopleForm
from builds.record.holds import ENDS, PATH, Stage, Standing
from builds.record.pages import accepted, valid
from labsite.forms import ReasonForm
from labsite.pages import show_form
from labsite.roles import Role, require_role


@require_http_methods(["GET", "POST"])
def build_people(request, number):
    build = get_coordinated_build(request, number)
    now = {"builders": build.builders.all(), "reviewer": build.reviewer_id}
    form = PeopleForm(request.POST or None, initial=now)
    if form.is_valid():
        rules.assign(build, **form.cleaned_data)
        messages.success(request, "The people of this build are saved.")
        return redirect("ticket", build.number)
    return show_form(
        request,
        form,
        title=f"People of build {build.number}",
        submit="Save the people",
        back=reverse("ticket", args=[build.number]),
    )


@require_http_methods(["GET", "POST"])
def build_move(request, number, stage):
    build = get_editable_build(request, number)
    if stage not in PATH:
        raise Http404("No such stage.")
    if stage in (Stage.INCOMING_TEST, Stage.IN_USE, Stage.RETURNED):
        require_role(request.user, Role.COORDINATOR)
    stage = Stage(stage)
    form = MoveForm(request.POST or None)
    if valid(request, form) and accepted(
        form, lambda: rules.move(build, stage, request.user, form.cleaned_data["reason"])
    ):
        messages.success(request, f"Build {build.number} is at {stage.label}.")
        return redirect("ticket", build.number)
    return show_form(
        request,
        form,
        title=f"Move build {build.number} to {stage.label}",
        submit=f"Move to {stage.label}",
        back=reverse("ticket", args=[build.number]),
        intro=f"It is at {build.get_stage_display()} now. A move back needs a reason.",
    )


@require_http_methods(["GET", "POST"])
def build_end(request, number):
    build = get_coordinated_build(request, number)
    ends = ENDS.get(build.stage)
    if not ends:
        raise Http404("This build is not at a stage that it ends from.")
    form = EndForm(request.POST or None, ends=ends)
    if valid(request, form) and accepted(
        form, lambda: rules.move(build, form.cleaned_data["stage"], request.user, form.cleaned_data["reason"])
    ):
        return redirect("ticket", build.number)
    return show_form(
        request,
        form,
        title=f"What becomes of unit {build.unit.number}",
        submit="Save",
        back=reverse("ticket", args=[build.number]),
    )


STANDING_WORDS = {
    Standing.ON_HOLD: ("Put build {} on hold", "Put on hold"),
    Standing.CANCELLED: ("Cancel build {}", "Cancel the build"),
    Standing.OPEN: ("Reopen build {}", "Reopen"),
}
STOPS_USE = "The family has the unit. Its papers stop counting while it is on hold, and a task asks to call them today."


@require_http_methods(["GET", "POST"])
def build_standing(request, number, standing):
    build = get_coordinated_build(request, number)
    if standing not in Standing.values:
        raise Http404("No such state.")
    title, submit = STANDING_WORDS[Standing(standing)]
    form = ReasonForm(request.POST or None)
    if valid(request, form) and accepted(
        form, lambda: rules.set_standing(build, standing, request.user, form.cleaned_data["reason"])
    ):
        return redirect("ticket", build.number)
    back = reverse("ticket", args=[build.number])
    intro = STOPS_USE if standing == Standing.ON_HOLD and build.is_with_the_family else ""
    return show_form(request, form, title=title.format(build.number), submit=submit, back=back, intro=intro)
