"""Pages of the drive: calibrations of the stick and timed runs."""

from functools import partial

from django.contrib import messages
from django.db.models import Prefetch, prefetch_related_objects
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from builds.access import get_build, get_editable_build, may_edit
from builds.drive import rules
from builds.drive.findings import drive
from builds.drive.forms import CalibrationForm, TimedRunsForm
from builds.drive.models import Calibration, TimedRuns
from builds.drive.sheet import calibration_rows, timed_rows
from builds.record.pages import strike_page, valid
from builds.record.powering import why_not_driven
from builds.record.rules import Refused
from labsite.pages import show_form


def with_people(model):
    return model.objects.select_related("made_by", "struck_by")


@require_safe
def calibrations(request, number):
    build = get_build(request, number)
    prefetch_related_objects([build], "configurations", Prefetch("calibrations", with_people(Calibration)))
    context = {
        "build": build,
        "configuration": build.configuration(),
        "rows": calibration_rows(build),
        "may_edit": may_edit(request.user, build),
        "has_stick": build.has_stick,
    }
    return render(request, "builds/drive/calibrations.html", context)


@require_http_methods(["GET", "POST"])
def calibration_new(request, number):
    build = get_editable_build(request, number)
    configuration = build.configuration()
    initial = {"side": configuration.side} if configuration and configuration.side != "unknown" else {}
    form = CalibrationForm(request.POST or None, initial=initial)
    if request.method == "POST" and valid(request, form):
        rules.record_calibration(build, request.user, **form.cleaned_data)
        messages.success(request, "The calibration is kept. It is in use once it is accepted.")
        return redirect("calibrations", build.number)
    return show_form(
        request, form, title=f"Calibrate the stick of {build.number}", submit="Keep the calibration",
        back=reverse("calibrations", args=[build.number]),
        intro="Read each axis at rest and pushed to both ends as far as this client pushes it. "
        "Left and right are the occupant's.",
    )  # fmt: skip


@require_POST
def calibration_accept(request, number, pk):
    build = get_editable_build(request, number)
    calibration = get_object_or_404(Calibration, pk=pk, build=build)
    side_before = getattr(build.configuration(), "side", None)
    try:
        made = rules.accept_calibration(calibration, request.user)
    except Refused as error:
        messages.error(request, str(error))
    else:
        more = ""
        if side_before != made.side:
            more = " The side changed, so the places of shoulder and control are unknown until you enter them."
        messages.success(request, f"The calibration is in use. It made configuration {made.number}.{more}")
    return redirect("calibrations", build.number)


@require_http_methods(["GET", "POST"])
def calibration_strike(request, number, pk):
    build = get_editable_build(request, number)
    row = get_object_or_404(Calibration.objects.standing().select_related("build"), pk=pk, build=build)
    return strike_page(
        request, partial(rules.strike, row, request.user), title=f"Strike the calibration of {build.number}",
        done="The calibration is struck.", back=reverse("calibrations", args=[build.number]),
    )  # fmt: skip


@require_safe
def timed_runs(request, number):
    build = get_build(request, number)
    prefetch_related_objects(
        [build], "configurations__battery", "calibrations", "client__measures", "client__clearances",
        Prefetch("timed_runs", with_people(TimedRuns)),
    )  # fmt: skip
    found = drive(build)
    context = {
        "build": build,
        "configuration": found.configuration,
        "findings": [*found.ceiling, *found.of_runs] if found.configuration else [],
        "rows": timed_rows(build, found.runs),
        "mass_kg": found.mass_kg,
        "may_edit": may_edit(request.user, build),
    }
    return render(request, "builds/drive/timed_runs.html", context)


@require_http_methods(["GET", "POST"])
def timed_runs_new(request, number):
    build = get_editable_build(request, number)
    configuration = build.configuration()
    initial = {"position": configuration.ceiling_position if configuration else "", "is_ceiling_in_use": True}
    form = TimedRunsForm(request.POST or None, initial=initial)
    if request.method == "POST" and valid(request, form):
        try:
            rules.record_timed_runs(build, request.user, **form.cleaned_data)
        except rules.UnfitReading as error:
            form.add_error(error.field, str(error))
        except Refused as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, "The timed runs are kept.")
            return redirect("timed_runs", build.number)
    return show_form(
        request, form, title=f"Time runs of {build.number}", submit="Keep the runs",
        back=reverse("timed_runs", args=[build.number]),
        intro=why_not_driven(build)
        or "Ballast on the seat, a flying start, and a clear floor beyond the second mark. Nobody rides.",
    )  # fmt: skip


@require_http_methods(["GET", "POST"])
def timed_runs_strike(request, number, pk):
    build = get_editable_build(request, number)
    row = get_object_or_404(TimedRuns.objects.standing().select_related("build"), pk=pk, build=build)
    return strike_page(
        request, partial(rules.strike, row, request.user), title=f"Strike the timed runs of {build.number}",
        done="The timed runs are struck.", back=reverse("timed_runs", args=[build.number]),
    )  # fmt: skip
