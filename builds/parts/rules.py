"""Marking a unit do not use, the build's own parts list, and its restore kit."""

from decimal import Decimal

from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import Max

from builds.parts.models import BaseUnit, RestoreKit, UnitMark
from builds.record.holds import Stage
from builds.record.models import Task
from builds.record.voiding import at_the_end
from clients.names import Names


def without_names(unit, reason):
    """Every page of the unit shows the reason. A stop is not refused for its words: the names of families go out."""
    for build in unit.builds.select_related("client__person").prefetch_related("client__caregivers"):
        reason = Names(build.client).taken_out(reason)
    return reason[: UnitMark._meta.get_field("reason").max_length]


@transaction.atomic
def mark_do_not_use(unit, account, reason):
    """At once, by anybody. A family that has the unit must be called."""
    unit = BaseUnit.objects.select_for_update().get(pk=unit.pk)
    if unit.is_marked_do_not_use:
        raise ValidationError(f"Unit {unit.number} is marked do not use already.")
    UnitMark.objects.create(unit=unit, stops=True, reason=reason, made_by=account)
    unit.mark_do_not_use(account, reason)
    for build in unit.builds.filter(stage=Stage.IN_USE).select_related("unit"):
        Task.objects.stop_use(build, reason)


@transaction.atomic
def clear_do_not_use(unit, account, reason):
    unit = BaseUnit.objects.select_for_update().get(pk=unit.pk)
    if not unit.is_marked_do_not_use:
        raise ValidationError(f"Unit {unit.number} is not marked do not use.")
    UnitMark.objects.create(unit=unit, stops=False, reason=reason, made_by=account)
    unit.clear_do_not_use()


def differences(part):
    """How a line departs from the plan, in words. A mass weighed or a price paid is no deviation."""
    if part.planned is None:
        return ["not in the plan"]
    found = []
    if part.quantity_used is not None and part.quantity_used != part.planned["quantity"]:
        found.append(f"{part.quantity_used:g} used, {part.planned['quantity']:g} planned")
    if part.substitute:
        found.append(f"substitute: {part.substitute}")
    if part.stays_on != part.planned["stays_on"]:
        found.append("stays on the unit" if part.stays_on else "does not stay on the unit")
    if part.removed:
        found.append("taken off the unit again")
    return found


def cost_of(parts, unit):
    """What is known of a build's cost, and how many lines are not known; struck lines do not count."""
    counted = [part for part in parts if not part.is_struck]
    known = [part.cost for part in counted if part.cost is not None]
    return {
        "parts": sum(known, Decimal(0)),
        "unknown": len(counted) - len(known),
        "unit": unit.cost,
        "total": sum(known, unit.cost or Decimal(0)),
    }


def to_be_weighed(build):
    """The lines whose mass and place count."""
    return [part for part in build.parts.standing() if part.counts_as_added]


def all_valid(forms):
    """Every form is checked, so that every refusal is shown at once."""
    return all([form.is_valid() for form in forms])


@transaction.atomic
def save_changed(forms):
    """Only the lines that were changed, so that the others stay as they are."""
    with at_the_end():
        for form in forms:
            if form.has_changed():
                form.save()


def next_find_number(build):
    return (build.parts.aggregate(last=Max("find_number"))["last"] or 0) + 1


def kit_of(build):
    """The build's restore kit, or a new one that nobody has checked."""
    return RestoreKit.objects.filter(build=build).first() or RestoreKit(build=build)
