"""Who may see or change what. The first line of every view asks here.

Strangers get 404, so that nothing leaks; those who may read but not change get 403 and a reason.
"""

from django.core.exceptions import PermissionDenied
from django.http import Http404

from builds.record.models import Build
from builds.record.registry import RELATED, fetch_whole
from clients.erasing import refuse_change
from labsite.audit import note_opening
from labsite.roles import Role


def get_build(request, number, everything=False):
    """A build this person may see: coordinators, reviewers, directors, and the builders on it.

    `everything` fetches what the reports of all rooms read, in a constant number of queries.
    """
    builds = Build.objects.seen_by(request.user).distinct()
    try:
        return fetch_whole(builds, number=number) if everything else builds.select_related(*RELATED).get(number=number)
    except Build.DoesNotExist as error:
        raise Http404("No such build.") from error


def get_editable_build(request, number, at_its_end=False):
    """A build this person may work on at the bench: its builders and the coordinators.

    `at_its_end` is for the little that is still kept right once a build is over.
    """
    build = get_build(request, number)
    if not is_on_build(request.user, build) and not request.user.has_role(Role.COORDINATOR):
        raise PermissionDenied("Only the builders on this build and the lab coordinator change it.")
    return must_be_going_on(build, at_its_end)


def get_checkable_build(request, number, at_its_end=False):
    """A build this person may check as a second person: builders, reviewers and coordinators who may see it."""
    build = get_build(request, number)
    if not is_on_build(request.user, build) and not request.user.has_role(Role.COORDINATOR, Role.REVIEWER):
        raise PermissionDenied("Only a builder, a reviewer or the lab coordinator checks this build.")
    return must_be_going_on(build, at_its_end)


def get_coordinated_build(request, number):
    """A build this person runs from the desk: coordinators."""
    build = get_build(request, number)
    if not request.user.has_role(Role.COORDINATOR):
        raise PermissionDenied("Only the lab coordinator does this.")
    return build


def get_identified_build(request, number, what):
    """A build together with who its family is: coordinators and directors. Every opening is written down."""
    build = get_build(request, number)
    if not request.user.sees_identity:
        raise PermissionDenied("Who a client is, only the lab coordinator and the lab director see.")
    note_opening(request.user, build.client, what)
    return build


def get_handed_over_build(request, number, what):
    """An identified build whose hand-off and contacts this person keeps: coordinators."""
    refuse_change(get_coordinated_build(request, number).client, request)
    return get_identified_build(request, number, what)


def get_reviewable_build(request, number):
    """A build whose hold points this person may release or refuse: reviewers."""
    build = get_build(request, number)
    if not request.user.has_role(Role.REVIEWER):
        raise PermissionDenied("Only a reviewer does this.")
    return must_be_going_on(build)


def is_on_build(account, build):
    return account.has_role(Role.BUILDER) and account in build.builders.all()


def may_edit(account, build):
    """For templates: whether to offer a change at all."""
    return build.is_going_on and (is_on_build(account, build) or account.has_role(Role.COORDINATOR))


def must_be_going_on(build, at_its_end=False):
    if build.is_over and not at_its_end:
        raise PermissionDenied(
            f"Build {build.number} is at its end: {build.get_stage_display().lower()}. It stays as it is recorded."
        )
    if not build.is_open:
        raise PermissionDenied(
            f"Build {build.number} is {build.get_standing_display().lower()}: {build.standing_reason}. "
            "The lab coordinator can reopen it."
        )
    return build
