"""Search by case code, build or equipment number and, for those who may see it, family name."""

from django.db.models import Q
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from builds.parts.models import BaseUnit
from builds.record.models import Build
from clients.models import Client

LONGEST = 80
MOST = 50


@require_safe
def search(request):
    asked = request.GET.get("q", "").replace("\x00", "").strip()[:LONGEST]
    found = find(asked, request.user) if asked else {}
    only = [one for rows in found.values() for one in rows]
    if len(only) == 1 and found["builds"]:
        return redirect("ticket", only[0].number)
    return render(request, "builds/overview/search.html", {"asked": asked, "found": found, "nothing": not only})


def find(asked, account):
    """Builds, units and clients that this person may see."""
    seen = Build.objects.seen_by(account)
    builds = seen.filter(Q(number__iexact=asked) | Q(client__case_code__iexact=asked) | Q(unit__number__iexact=asked))
    clients = Client.objects.none()
    if account.sees_every_build:
        by_code = Q(case_code__iexact=asked)
        by_name = Q(person__family_name__icontains=asked) if account.sees_identity else Q(pk__in=[])
        clients = Client.objects.filter(by_code | by_name).select_related("person")
    return {
        "builds": list(builds.for_list().distinct()[:MOST]),
        "units": list(BaseUnit.objects.filter(number__iexact=asked).select_related("type")[:MOST]),
        "clients": list(clients.distinct()[:MOST]),
    }
