"""Base units: their types, the single units, and the mark that nobody may use one."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from builds.parts import rules
from builds.parts.access import get_clearable_unit, get_editable, get_unit, own_figures
from builds.parts.forms import BaseUnitForm, BaseUnitTypeForm, ClearForm, DoNotUseForm
from builds.parts.models import BaseUnit, BaseUnitType
from builds.record.models import Build
from labsite.pages import show_form
from labsite.roles import Role, roles_required

CHANGES = ["GET", "POST"]


@require_safe
def base_units(request):
    return render(request, "builds/parts/base_units.html", {"units": BaseUnit.objects.for_list()})


@require_safe
def base_unit(request, number):
    unit = get_unit(request, number)
    seen = Build.objects.seen_by(request.user).filter(unit=unit).select_related("plan_revision__plan").distinct()
    page = {"unit": unit, "builds": seen, "marks": unit.marks.select_related("made_by")}
    page["may_clear"] = request.user.has_role(Role.REVIEWER, Role.COORDINATOR)
    return render(request, "builds/parts/base_unit.html", page)


@roles_required(Role.COORDINATOR)
@require_http_methods(CHANGES)
def base_unit_new(request):
    return save_unit(request, BaseUnitForm(request.POST or None), "New base unit")


@require_http_methods(CHANGES)
def base_unit_edit(request, number):
    unit = get_editable(request, BaseUnit, number=number)
    return save_unit(request, BaseUnitForm(request.POST or None, instance=unit), f"Change unit {unit.number}")


def save_unit(request, form, title):
    if form.is_valid():
        unit = form.save()
        messages.success(request, f"Unit {unit.number} is saved.")
        return redirect("base_unit", unit.number)
    back, intro = reverse("base_units"), own_figures(request.user)
    return show_form(request, form, title=title, submit="Save the unit", back=back, intro=intro)


@require_safe
def unit_types(request):
    return render(request, "builds/parts/unit_types.html", {"types": BaseUnitType.objects.for_list()})


@roles_required(Role.COORDINATOR)
@require_http_methods(CHANGES)
def unit_type_new(request):
    return save_type(request, BaseUnitTypeForm(request.POST or None), "New type of base unit")


@require_http_methods(CHANGES)
def unit_type_edit(request, pk):
    kind = get_editable(request, BaseUnitType, pk=pk)
    return save_type(request, BaseUnitTypeForm(request.POST or None, instance=kind), f"Change type {kind.name}")


def save_type(request, form, title):
    if form.is_valid():
        kind = form.save()
        messages.success(request, f"The type {kind.name} is saved.")
        return redirect("unit_types")
    intro = "Leave empty what is not known: it is then unknown, and what depends on it cannot be released. "
    intro += own_figures(request.user)
    return show_form(request, form, title=title, submit="Save the type", back=reverse("unit_types"), intro=intro)


@require_http_methods(CHANGES)
def unit_do_not_use(request, number):
    unit = get_unit(request, number)
    return mark(
        request,
        unit,
        DoNotUseForm(request.POST or None),
        rules.mark_do_not_use,
        title=f"Mark unit {unit.number} do not use",
        submit="Mark it do not use",
        danger=True,
        done=f"Unit {unit.number} is marked do not use.",
    )


@require_http_methods(CHANGES)
def unit_clear(request, number):
    unit = get_clearable_unit(request, number)
    return mark(
        request,
        unit,
        ClearForm(request.POST or None),
        rules.clear_do_not_use,
        title=f"Clear unit {unit.number} for use again",
        submit="Clear it for use",
        done=f"Unit {unit.number} may be used again.",
    )


def mark(request, unit, form, act, *, done, **page):
    if form.is_valid():
        try:
            act(unit, request.user, rules.without_names(unit, form.cleaned_data["reason"]))
        except ValidationError as refusal:
            form.add_error(None, refusal)
        else:
            messages.success(request, done)
            return redirect("base_unit", unit.number)
    return show_form(request, form, back=reverse("base_unit", args=[unit.number]), **page)
