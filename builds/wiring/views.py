"""Pages of the harness: the table of runs, and adding, changing and striking its rows."""

from functools import partial

from django.contrib import messages
from django.db.models import Prefetch, prefetch_related_objects
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from builds.access import get_build, get_editable_build, may_edit
from builds.record.pages import strike_page, valid
from builds.wiring import rules
from builds.wiring.forms import FuseForm, PartForm, RunForm
from builds.wiring.models import SwitchingPart, WireFuse, WireRun
from builds.wiring.sheet import harness_sheet
from labsite.pages import show_form

PEOPLE = ("deviation_by", "struck_by")
HARNESS_PREFETCH = [
    Prefetch("wire_runs", WireRun.objects.select_related("fuse", *PEOPLE)),
    "wire_runs__checks",
    Prefetch("switching_parts", SwitchingPart.objects.select_related(*PEOPLE)),
    "switching_parts__runs",
    Prefetch("fuses", WireFuse.objects.select_related(*PEOPLE)),
    "configurations__battery",
]


@require_safe
def harness(request, number):
    build = get_build(request, number)
    prefetch_related_objects([build], *HARNESS_PREFETCH)
    context = {"build": build, "may_edit": may_edit(request.user, build), **harness_sheet(build)}
    return render(request, "builds/wiring/harness.html", context)


@require_http_methods(["GET", "POST"])
def run_new(request, number):
    build = get_editable_build(request, number)
    return add(request, build, RunForm, WireRun(build=build), "Add a wire run")


@require_http_methods(["GET", "POST"])
def run_edit(request, number, pk):
    build = get_editable_build(request, number)
    return change(request, build, RunForm, one_of(build.wire_runs, pk), "Wire run")


@require_http_methods(["GET", "POST"])
def run_strike(request, number, pk):
    build = get_editable_build(request, number)
    return strike(request, build, one_of(build.wire_runs, pk), "wire run")


@require_http_methods(["GET", "POST"])
def fuse_new(request, number):
    build = get_editable_build(request, number)
    return add(request, build, FuseForm, WireFuse(build=build), "Add a fuse")


@require_http_methods(["GET", "POST"])
def fuse_edit(request, number, pk):
    build = get_editable_build(request, number)
    return change(request, build, FuseForm, one_of(build.fuses, pk), "Fuse")


@require_http_methods(["GET", "POST"])
def fuse_strike(request, number, pk):
    build = get_editable_build(request, number)
    return strike(request, build, one_of(build.fuses, pk), "fuse")


@require_http_methods(["GET", "POST"])
def switching_part_new(request, number):
    build = get_editable_build(request, number)
    return add(request, build, PartForm, SwitchingPart(build=build), "Add a switch, relay or connector")


@require_http_methods(["GET", "POST"])
def switching_part_edit(request, number, pk):
    build = get_editable_build(request, number)
    return change(request, build, PartForm, one_of(build.switching_parts, pk), "Part")


@require_http_methods(["GET", "POST"])
def switching_part_strike(request, number, pk):
    build = get_editable_build(request, number)
    return strike(request, build, one_of(build.switching_parts, pk), "part")


def one_of(rows, pk):
    """A row of this build that stands."""
    return get_object_or_404(rows.standing().select_related("build"), pk=pk)


def harness_url(build):
    return reverse("harness", args=[build.number])


def add(request, build, form_class, row, title):
    return edit(request, build, form_class(request.POST or None, instance=row), title, "Add it")


def change(request, build, form_class, row, what):
    form = form_class(request.POST or None, instance=row)
    return edit(request, build, form, f"{what} {row.code} of {build.number}", "Save")


def edit(request, build, form, title, submit):
    if request.method == "POST" and valid(request, form):
        row = rules.save_row(form, request.user)
        messages.success(request, f"{row.code} is saved.")
        return redirect(harness_url(build))
    return show_form(request, form, title=title, submit=submit, back=harness_url(build), build=build)


def strike(request, build, row, what):
    return strike_page(
        request, partial(rules.strike_row, row, request.user), title=f"Strike {what} {row.code} of {build.number}",
        done=f"{row.code} is struck. It stays readable.", back=harness_url(build),
    )  # fmt: skip
