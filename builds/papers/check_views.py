"""Is this paper still true? A page for everybody, by the short code in the paper's foot. It tells nothing else."""

from datetime import timedelta

from django.contrib.auth.decorators import login_not_required
from django.utils import translation
from django.views.decorators.http import require_safe

from builds.papers import codes
from builds.papers.family.door import language_of_browser, quiet, show
from labsite import knocks

DOOR = "paper code"
MOST, WITHIN = 20, timedelta(minutes=10)


@login_not_required
@require_safe
def paper_check(request):
    with translation.override(language_of_browser(request)):
        typed = request.GET.get("code", "")[:40]
        if typed.strip() and knocks.too_many_from_here(DOOR, request, most=MOST, within=WITHIN):
            return page(request, "too often", typed, status=429)
        return page(request, answer_to(typed), typed)


def answer_to(typed):
    """current, replaced, or unknown, whether the code is mistyped or nobody's."""
    if not typed.strip():
        return ""
    paper = codes.paper_of(typed)
    if paper is None:
        return "unknown"
    return "current" if codes.is_still_true(paper) else "replaced"


def page(request, answer, typed, status=200):
    shown = {"answer": answer, "typed": typed, "minutes": WITHIN // timedelta(minutes=1)}
    return quiet(show(request, "family/check.html", shown, status=status))
