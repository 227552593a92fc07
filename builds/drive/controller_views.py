"""Pages of the controller: its settings, the archive to load, and what it told at its start."""

from functools import partial

from django import forms
from django.contrib import messages
from django.db.models import Prefetch, prefetch_related_objects
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from builds.access import get_build, get_editable_build, may_edit
from builds.drive import controller as what_it_runs
from builds.drive.captures import fit_in_use
from builds.drive.controller_models import ToldDigest
from builds.drive.controller_rules import record_told, runs, state_of
from builds.drive.rules import strike
from builds.engineering.drive_numbers import typed_digest
from builds.engineering.finding import EngineeringError
from builds.record.pages import strike_page
from builds.record.powering import why_not_powered
from builds.record.rules import Refused
from labsite.forms import LabForm

TOLD = Prefetch("told_digests", ToldDigest.objects.select_related("made_by", "struck_by", "configuration"))


class ToldForm(LabForm):
    told = forms.CharField(
        label="What the controller told at its start", max_length=20,
        help_text="Eight signs, for example 4F3A-9C21. Type what you read, also where it differs",
    )  # fmt: skip

    def clean_told(self):
        try:
            return typed_digest(self.cleaned_data["told"])
        except EngineeringError as error:
            raise forms.ValidationError(str(error)) from error


def known(build):
    """(configuration, controller) of now; (None, None) while there is nothing to run."""
    configuration = build.configuration()
    if configuration is None or not build.has_stick:
        return configuration, None
    return configuration, what_it_runs.controller_of(configuration, fit_in_use(build, configuration))


@require_safe
def controller(request, number):
    build = get_build(request, number)
    return page(request, build, ToldForm())


def page(request, build, form):
    prefetch_related_objects([build], "configurations", "captures", "stick_fits__capture", TOLD)
    configuration, found = known(build)
    rows = sorted(build.told_digests.all(), key=lambda row: -row.pk)
    context = {
        "build": build,
        "configuration": configuration,
        "controller": found,
        "header": what_it_runs.header_of(build, configuration, found) if found and found.settings else "",
        "state": state_of(runs(build, found)),
        "why_not": why_not_powered(build),
        "rows": rows,
        "form": form,
        "may_edit": may_edit(request.user, build),
    }
    return render(request, "builds/drive/controller.html", context, status=422 if form.errors else 200)


@require_safe
def controller_archive(request, number):
    """The core with the settings of the configuration of now, to be compiled and loaded."""
    build = get_build(request, number)
    configuration, found = known(build)
    if found is None or found.settings is None:
        messages.error(request, "There is no archive yet. The page says what is missing.")
        return redirect("controller", build.number)
    answer = HttpResponse(what_it_runs.archive_of(build, configuration, found), content_type="application/zip")
    answer["Content-Disposition"] = f'attachment; filename="{what_it_runs.archive_name(build, configuration)}"'
    return answer


@require_http_methods(["GET", "POST"])
def controller_told(request, number):
    build = get_editable_build(request, number)
    form = ToldForm(request.POST or None)
    if request.method != "POST" or not form.is_valid():
        return page(request, build, form)
    try:
        row = record_told(build, request.user, form.cleaned_data["told"])
    except Refused as error:
        form.add_error("told", str(error))
        return page(request, build, form)
    if row.agrees:
        messages.success(request, "The controller runs the recorded settings.")
    else:
        messages.error(request, f"It told {row.told}, the record says {row.recorded}. Load the archive again.")
    return redirect("controller", build.number)


@require_http_methods(["GET", "POST"])
def controller_strike(request, number, pk):
    build = get_editable_build(request, number)
    row = get_object_or_404(ToldDigest.objects.standing().select_related("build"), pk=pk, build=build)
    return strike_page(
        request, partial(strike, row, request.user), title=f"Strike the entry of {build.number}",
        done="The entry is struck.", back=reverse("controller", args=[build.number]),
    )  # fmt: skip
