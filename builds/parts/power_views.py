"""Batteries and chargers: the lists, and their forms for the coordinator."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from builds.parts.access import get_editable, own_figures
from builds.parts.forms import BatteryForm, ChargerForm
from builds.parts.models import Battery, Charger
from labsite.pages import show_form
from labsite.roles import Role, roles_required

CHANGES = ["GET", "POST"]


@require_safe
def batteries(request):
    return render(request, "builds/parts/batteries.html", {"batteries": Battery.objects.all()})


@roles_required(Role.COORDINATOR)
@require_http_methods(CHANGES)
def battery_new(request):
    return save(request, BatteryForm(request.POST or None), "batteries", title="New battery")


@require_http_methods(CHANGES)
def battery_edit(request, pk):
    battery = get_editable(request, Battery, pk=pk)
    form = BatteryForm(request.POST or None, instance=battery)
    return save(request, form, "batteries", title=f"Change battery {battery.number}")


@require_safe
def chargers(request):
    return render(request, "builds/parts/chargers.html", {"chargers": Charger.objects.all()})


@roles_required(Role.COORDINATOR)
@require_http_methods(CHANGES)
def charger_new(request):
    return save(request, ChargerForm(request.POST or None), "chargers", title="New charger")


@require_http_methods(CHANGES)
def charger_edit(request, pk):
    charger = get_editable(request, Charger, pk=pk)
    form = ChargerForm(request.POST or None, instance=charger)
    return save(request, form, "chargers", title=f"Change charger {charger.number}")


def save(request, form, listed, *, title):
    if form.is_valid():
        saved = form.save()
        messages.success(request, f"{saved.number} is saved.")
        return redirect(listed)
    kind = form._meta.model._meta.verbose_name
    back, intro = reverse(listed), own_figures(request.user)
    return show_form(request, form, title=title, submit=f"Save the {kind}", back=back, intro=intro)
