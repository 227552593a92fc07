"""A build's own parts list and its restore kit."""

from functools import partial

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from builds.access import get_build, get_editable_build, may_edit
from builds.parts import rules
from builds.parts.build_forms import RestoreItemForm, RestoreKitForm, part_form, weigh_forms
from builds.parts.models import BuildPart, RestoreItem
from builds.record.pages import strike_page, valid
from labsite.pages import show_form

CHANGES = ["GET", "POST"]


@require_safe
def build_parts(request, number):
    build = get_build(request, number)
    parts = list(build.parts.select_related("struck_by", "deviation_by"))
    lines = [(part, rules.differences(part)) for part in parts]
    page = {"build": build, "lines": lines, "cost": rules.cost_of(parts, build.unit)}
    page["may_edit"] = may_edit(request.user, build)
    return render(request, "builds/parts/build_parts.html", page)


@require_http_methods(CHANGES)
def build_part_new(request, number):
    build = get_editable_build(request, number)
    part = BuildPart(build=build, find_number=rules.next_find_number(build), quantity=0)
    return save_part(request, build, part, f"Add a part to build {build.number}")


@require_http_methods(CHANGES)
def build_parts_weigh(request, number):
    build = get_editable_build(request, number)
    forms = weigh_forms(rules.to_be_weighed(build), request.POST or None)
    refused = request.method == "POST" and not rules.all_valid(forms)
    if request.method == "POST" and not refused:
        rules.save_changed(forms)
        messages.success(request, "Masses and places are saved.")
        return redirect("build_parts", build.number)
    page = {"build": build, "forms": forms, "refused": refused}
    return render(request, "builds/parts/weigh.html", page, status=422 if refused else 200)


@require_http_methods(CHANGES)
def build_part_edit(request, number, pk):
    build = get_editable_build(request, number)
    part = get_object_or_404(build.parts.standing(), pk=pk)
    return save_part(request, build, part, f"{part.name}, line {part.find_number}")


def save_part(request, build, part, title):
    form = part_form(part, request.POST or None, request.user)
    if valid(request, form):
        form.save()
        messages.success(request, f"{part.name} is saved.")
        return redirect("build_parts", build.number)
    intro = "" if part.planned is None else f"The plan asks for {part.planned['quantity']:g}."
    back = reverse("build_parts", args=[build.number])
    return show_form(request, form, title=title, submit="Save the part", back=back, intro=intro)


@require_http_methods(CHANGES)
def build_part_strike(request, number, pk):
    build = get_editable_build(request, number)
    part = get_object_or_404(build.parts.standing(), pk=pk)
    return strike(request, build, part, "build_parts")


@require_safe
def restore_kit(request, number):
    build = get_build(request, number)
    page = {
        "build": build,
        "kit": rules.kit_of(build),
        "items": build.restore_items.select_related("made_by", "struck_by"),
        "expected": [row["name"] for row in build.plan_revision.content.get("restore_kit", [])],
        "may_edit": may_edit(request.user, build),
    }
    return render(request, "builds/parts/restore_kit.html", page)


@require_http_methods(CHANGES)
def restore_kit_edit(request, number):
    build = get_editable_build(request, number)
    kit = rules.kit_of(build)
    form = RestoreKitForm(request.POST or None, instance=kit)
    if valid(request, form):
        kit.checked_by, kit.checked_at = request.user, timezone.now()
        form.save()
        messages.success(request, "The restore kit is saved.")
        return redirect("restore_kit", build.number)
    back = reverse("restore_kit", args=[build.number])
    title = f"Is the restore kit of build {build.number} complete?"
    return show_form(request, form, title=title, submit="Save the kit", back=back)


@require_http_methods(CHANGES)
def restore_item_new(request, number):
    build = get_editable_build(request, number)
    form = RestoreItemForm(request.POST or None, instance=RestoreItem(build=build, made_by=request.user))
    if valid(request, form):
        item = form.save()
        messages.success(request, f"{item.name} is in the list.")
        return redirect("restore_kit", build.number)
    back = reverse("restore_kit", args=[build.number])
    intro = "Left and right are the occupant's, nose forward."
    return show_form(request, form, title="Add to the restore kit", submit="Add it", back=back, intro=intro)


@require_http_methods(CHANGES)
def restore_item_strike(request, number, pk):
    build = get_editable_build(request, number)
    item = get_object_or_404(build.restore_items.standing(), pk=pk)
    return strike(request, build, item, "restore_kit")


def strike(request, build, row, listed):
    """A wrong entry is struck with a reason and stays readable."""
    return strike_page(
        request, partial(row.strike, request.user), title=f"Strike {row.name}", done=f"{row.name} is struck.",
        back=reverse(listed, args=[build.number]),
    )  # fmt: skip
