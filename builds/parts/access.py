"""Who may see and change units, batteries and chargers: everybody of the lab reads, the coordinator changes."""

from django.core.exceptions import PermissionDenied
from django.shortcuts import get_object_or_404

from builds.parts.models import BaseUnit
from labsite.roles import Role, require_role


def get_unit(request, number):
    return get_object_or_404(BaseUnit.objects.select_related("type", "do_not_use_by"), number=number)


def get_editable(request, model, **which):
    """One row of a list that the coordinator keeps."""
    row = get_object_or_404(model, **which)
    require_role(request.user, Role.COORDINATOR)
    return row


def own_figures(account):
    """What somebody is told who keeps these lists and reviews too, before the first figure is typed."""
    if not account.is_reviewer:
        return ""
    return "You review too: a hold point that judges a figure you enter here is released by somebody else."


def get_clearable_unit(request, number):
    unit = get_unit(request, number)
    if not request.user.has_role(Role.REVIEWER, Role.COORDINATOR):
        raise PermissionDenied("Only a reviewer or the lab coordinator clears a unit for use again.")
    return unit
