"""The drive map, what the settings do, and how the cart was measured to come to stand."""

from functools import partial

from django.contrib import messages
from django.db.models import Prefetch, prefetch_related_objects
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from builds.access import get_build, get_editable_build, may_edit
from builds.drive import stops
from builds.drive.ceilings import ceilings_of
from builds.drive.findings import driven_by
from builds.drive.map_sheet import effects_of, maps_of
from builds.drive.proving_forms import StopForm
from builds.drive.proving_models import StopMeasurement
from builds.drive.rules import strike
from builds.record.models import Configuration
from builds.record.pages import strike_page, valid
from builds.record.powering import why_not_driven
from builds.record.rules import Refused
from labsite.pages import show_form

CONFIGURATIONS = Prefetch("configurations", Configuration.objects.select_related("battery"))
STOPS = Prefetch("stop_measurements", StopMeasurement.objects.select_related("made_by", "struck_by"))


@require_safe
def drive_map(request, number):
    build = get_build(request, number)
    prefetch_related_objects([build], CONFIGURATIONS, STOPS, "timed_runs", "client__places", "client__measures")
    configuration = build.configuration()
    page = {"build": build, "now": configuration, "may_edit": may_edit(request.user, build)}
    if configuration and build.has_stick:
        page |= facts_of(build, configuration)
    return render(request, "builds/drive/drive_map.html", page)


def facts_of(build, configuration):
    measured = stops.stops_of(build, configuration, driven_by)
    maps = [
        (row, rows, effects_of(configuration, row, measured.deceleration_m_s2))
        for row, rows in maps_of(configuration)
    ]  # fmt: skip
    return {
        "maps": maps,
        "ceilings": ceilings_of(build, configuration),
        "stops": measured,
        "measurements": sorted(build.stop_measurements.all(), key=lambda one: -one.pk),
        "unknown": [configuration._meta.get_field(name).verbose_name for name in
                    configuration.unknown_drive_settings()],
    }  # fmt: skip


@require_http_methods(["GET", "POST"])
def stop_new(request, number):
    build = get_editable_build(request, number)
    steepest, words = build.client.steepest_slope()
    form = StopForm(request.POST or None, initial={"slope_deg": steepest or None})
    if request.method == "POST" and valid(request, form):
        try:
            stops.record_stop(build, request.user, **form.cleaned_data)
        except Refused as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, "The measurement is kept.")
            return redirect("drive_map", build.number)
    return show_form(
        request, form, title=f"Measure how {build.number} comes to stand", submit="Keep the measurement",
        back=reverse("drive_map", args=[build.number]),
        intro=why_not_driven(build)
        or "At the ceiling in use, ballast of at least the client's mass on the seat, nobody rides, an adult beside "
        f"it with a hand at the battery disconnect. Steepest slope of the client's places: {words}.",
    )  # fmt: skip


@require_http_methods(["GET", "POST"])
def stop_strike(request, number, pk):
    build = get_editable_build(request, number)
    row = get_object_or_404(StopMeasurement.objects.standing().select_related("build"), pk=pk, build=build)
    return strike_page(
        request, partial(strike, row, request.user), title=f"Strike the measurement of {build.number}",
        done="The measurement is struck.", back=reverse("drive_map", args=[build.number]),
    )  # fmt: skip
