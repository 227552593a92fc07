"""Teach-back: the grid of adults and items, a try, striking one. It names the family, so few see it."""

from functools import partial

from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from builds.access import get_build, get_handed_over_build, get_identified_build
from builds.papers import teaching
from builds.papers.catalogue import paper_language
from builds.papers.forms import TryForm
from builds.record.pages import accepted, strike_page
from labsite.pages import show_form
from labsite.roles import Role

WHAT = "Teach-back of build {}"


@require_safe
def teach_back(request, number):
    build = get_identified_build(request, number, WHAT.format(number))
    adults = teaching.supervising_adults(build)
    page = {
        "build": build,
        "adults": [(adult, teaching.cells_of(build, adult)) for adult in adults],
        "missing": teaching.what_is_missing(build),
        "read_own": [one.pk for one in adults if paper_language(one.language)],
        "stale": teaching.why_stale(build),
        "may_record": request.user.has_role(Role.COORDINATOR),
    }
    return render(request, "builds/papers/teach_back.html", page)


@require_http_methods(["GET", "POST"])
def teach_back_try(request, number, adult, item):
    build = get_handed_over_build(request, number, WHAT.format(number))
    adult = get_object_or_404(build.client.caregivers, pk=adult)
    asked = next((one for one in teaching.items(build) if one["code"] == item), None)
    if asked is None:
        raise Http404("The plan of this build has no such item.")
    form = TryForm(request.POST or None, initial={"how": asked["proof"], "taught_by": request.user.full_name})
    if form.is_valid() and accepted(
        form,
        lambda: teaching.record_try(
            build,
            request.user,
            adult=adult,
            item=item,
            how=form.cleaned_data["how"],
            right=form.cleaned_data["right"] == "yes",
            note=form.cleaned_data["note"],
            taught_by=form.cleaned_data["taught_by"],
        ),
    ):
        return redirect(after_a_try(request, build, adult, asked))
    return show_form(
        request,
        form,
        title=f"Teach-back: {asked['text']}",
        submit="Record and go to the next item",
        back=reverse("teach_back", args=[build.number]),
        intro=f"{adult.name}, {adult.relation}",
    )


def after_a_try(request, build, adult, asked):
    """The adult's next item that is not passed, in the order of the list; the grid when there is none behind it."""
    messages.success(request, f"The try is recorded: {asked['text']}")
    cells = teaching.cells_of(get_build(request, build.number), adult)
    codes = [cell.item["code"] for cell in cells]
    behind = cells[codes.index(asked["code"]) + 1 :]
    following = next((cell.item["code"] for cell in behind if not cell.is_passed), None)
    if following is None:
        return reverse("teach_back", args=[build.number])
    return reverse("teach_back_try", args=[build.number, adult.pk, following])


@require_http_methods(["GET", "POST"])
def teach_back_strike(request, number, pk):
    build = get_handed_over_build(request, number, WHAT.format(number))
    row = get_object_or_404(build.teach_backs.filter(struck_at__isnull=True), pk=pk)
    return strike_page(
        request, partial(row.strike, request.user), title="Strike a try of teach-back",
        done="The try is struck. It stays readable.", back=reverse("teach_back", args=[build.number]),
    )  # fmt: skip
