"""Lists of work: a builder's own builds, what waits for a reviewer, the coordinator's desk, the board."""

from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from builds.followup.models import PlannedContact
from builds.record.holds import PATH
from builds.record.models import Build, HoldRequest, Task
from clients.models import Erasure
from labsite.roles import Role, roles_required


@roles_required(Role.BUILDER)
@require_safe
def my_builds(request):
    mine = Build.objects.holding_their_unit().filter(builders=request.user).for_list()
    return render(request, "builds/overview/my_builds.html", {"builds": mine})


@roles_required(Role.REVIEWER, Role.DIRECTOR, Role.COORDINATOR)
@require_safe
def review_queue(request):
    waiting = HoldRequest.objects.waiting().for_list()
    mine = Build.objects.going_on().filter(reviewer=request.user).for_list()
    return render(request, "builds/overview/review_queue.html", {"waiting": waiting, "mine": mine})


@roles_required(Role.COORDINATOR, Role.DIRECTOR)
@require_safe
def desk(request):
    today = timezone.localdate()
    return render(
        request,
        "builds/overview/desk.html",
        {
            "tasks": Task.objects.to_do().select_related("build__unit", "build__client"),
            "contacts": PlannedContact.objects.due(today).select_related("build__unit", "build__client"),
            "stopped": Build.objects.exclude(standing="open").for_list(),
            "builds": Build.objects.going_on().for_list(),
            "erasures": Erasure.objects.waiting(),
            "today": today,
        },
    )


@roles_required(Role.COORDINATOR, Role.REVIEWER, Role.DIRECTOR)
@require_safe
def board(request):
    """Every build that goes on, by the stage it is at; what waits for a reviewer, and apart what is on hold."""
    columns = {stage: [] for stage in PATH}
    on_hold = []
    for build in Build.objects.holding_their_unit().for_list():
        (columns[build.stage] if build.is_open else on_hold).append(build)
    going_on = [build for builds in columns.values() for build in builds]
    page = {
        "stages": [(stage.label, columns[stage]) for stage in PATH],
        "any": bool(going_on),
        "waiting": [build for build in going_on if build.asked_holds()],
        "on_hold": on_hold,
    }
    return render(request, "builds/overview/board.html", page)


@require_safe
def builds(request):
    seen = Build.objects.seen_by(request.user).for_list().distinct()
    return render(request, "builds/overview/builds.html", {"builds": seen})
