"""The configuration: what is set for this client, its history, and the page that makes the next one."""

from django.contrib import messages
from django.db.models import Prefetch, prefetch_related_objects
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from builds.access import get_build, get_editable_build, may_edit
from builds.drive import rules
from builds.drive.findings import reaches
from builds.drive.forms import ConfigurationForm
from builds.drive.settings_words import all_in_words, history
from builds.record.models import Configuration
from builds.record.pages import valid
from labsite.marks import Side
from labsite.pages import show_form

RELATED = Configuration.objects.select_related("battery", "charger", "calibration", "fit__capture", "made_by")


@require_safe
def configurations(request, number):
    build = get_build(request, number)
    prefetch_related_objects([build], Prefetch("configurations", RELATED), "client__measures")
    now = build.configuration()
    context = {
        "build": build,
        "now": now,
        "facts": all_in_words(now) if now else [],
        "reaches": [(Side(side).label, found) for side, found in reaches(build, now)] if now and build.rides else [],
        "history": history(build),
        "may_edit": may_edit(request.user, build),
    }
    return render(request, "builds/drive/configurations.html", context)


@require_http_methods(["GET", "POST"])
def configuration_edit(request, number):
    build = get_editable_build(request, number)
    now = build.configuration()
    form = ConfigurationForm(request.POST or None, now=now, rides=build.rides, stick=build.has_stick)
    if request.method == "POST" and valid(request, form) and kept(request, form, build, now):
        return redirect("configurations", build.number)
    if form.is_bound:
        form.data = {**form.data.dict(), **lists(form), "based_on": now.number if now else 0}
    return show_form(
        request, form, title=f"Change the configuration of {build.number}", submit="Make the next configuration",
        back=reverse("configurations", args=[build.number]), template="builds/drive/configuration_edit.html",
        build=build, now=now,
    )  # fmt: skip


def lists(form):
    """Ticked boxes survive a page shown again."""
    return {"supports": form.data.getlist("supports")} if "supports" in form.fields else {}


def kept(request, form, build, now):
    cleaned = form.cleaned_data
    try:
        made = rules.save_configuration(build, request.user, cleaned["reason"], cleaned["based_on"], **form.settings)
    except rules.Outdated as error:
        form.add_error(None, f"{error}. Check it and save again.")
        return False
    if now and made.number == now.number:
        messages.info(request, "Nothing was changed, so no configuration was made.")
    else:
        messages.success(request, f"Configuration {made.number} is in use. What stood on a changed setting is void.")
    return True
