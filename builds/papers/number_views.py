"""The page of one paper's numbers: as printed, and how each was come by."""

from django.http import Http404
from django.shortcuts import render
from django.views.decorators.http import require_safe

from builds.access import get_build
from builds.papers.numbers import OF_KIND, numbers_on
from builds.papers.views import opened
from builds.record import registry


@require_safe
def paper_numbers(request, number, kind):
    build = get_build(request, number, everything=True)
    kind = opened(request, build, kind)
    if kind not in OF_KIND:
        raise Http404("This paper has no page of numbers.")
    page = {"build": build, "kind": kind, "numbers": numbers_on(kind, build, registry.reports(build))}
    return render(request, "builds/papers/numbers.html", page)
