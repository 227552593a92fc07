"""Who may see or change a client. The first line of every view asks here.

Strangers get 404, so that nothing leaks; those who may read but not change get 403 and a reason.
Builders reach what the client needs, never who the client is.
"""

from django.core.exceptions import PermissionDenied
from django.http import Http404

from clients.erasing import refuse_change
from clients.models import Client
from labsite.audit import note_opening
from labsite.roles import Role

NO_CLIENT = "No such client."


def get_client(request, case_code, clients=None):
    """A client this person may read by case code; `clients` is the queryset with what the page needs."""
    rows = clients if clients is not None else Client.objects.all()
    try:
        return rows.seen_by(request.user).get(case_code=case_code)
    except Client.DoesNotExist as error:
        raise Http404(NO_CLIENT) from error


def get_editable_client(request, case_code):
    """A client whose record this person keeps: coordinators."""
    client = get_client(request, case_code)
    if not may_edit(request.user):
        raise PermissionDenied("Only the lab coordinator changes this.")
    refuse_change(client, request)
    return client


def get_clearable_client(request, case_code):
    """A client whose clearance this person records: coordinators and reviewers."""
    client = get_client(request, case_code)
    if not may_clear(request.user):
        raise PermissionDenied("Only a reviewer or the lab coordinator records a clearance.")
    refuse_change(client, request)
    return client


def get_identified_client(request, case_code, what="Person file", clients=None):
    """A client together with who they are: coordinators and directors. Every opening is written down."""
    client = get_client(request, case_code, clients)
    if not request.user.sees_identity:
        raise PermissionDenied("Who a client is, only the lab coordinator and the lab director see.")
    note_opening(request.user, client, what)
    return client


def get_editable_family(request, case_code, what):
    """An identified client whose family's facts this person keeps: coordinators. The opening is written down."""
    get_editable_client(request, case_code)
    return get_identified_client(request, case_code, what)


def get_family_client(request, case_code, what):
    """An identified client whose erasure this person may take back: coordinators and directors."""
    client = get_identified_client(request, case_code, what)
    refuse_change(client, request)
    return client


def get_confirmable_client(request, case_code):
    """A client whose erasure this person may confirm: directors. The opening is written down."""
    get_client(request, case_code)
    if not request.user.has_role(Role.DIRECTOR):
        raise PermissionDenied("Only the lab director confirms that a file is erased.")
    return get_identified_client(request, case_code, "Confirming an erasure")


def may_edit(account):
    return account.has_role(Role.COORDINATOR)


def may_clear(account):
    return account.has_role(Role.COORDINATOR, Role.REVIEWER)
