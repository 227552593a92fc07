"""The page of one hold point, and asking for it, releasing it, refusing it."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from builds.access import get_build, get_editable_build, get_reviewable_build, may_edit
from builds.record import registry, releasing, rules, standing_on, voiding, voids
from builds.record.forms import RefuseForm
from builds.record.holds import MEANING, Hold
from builds.record.pages import accepted, valid
from builds.record.photos import consent_for_photos, why_hidden
from labsite.pages import show_form
from labsite.roles import Role
from labsite.seen import newest_shown


def hold_of(build, code):
    if code not in build.hold_points:
        raise Http404("This plan has no such hold point.")
    return Hold(code)


@require_safe
def hold_point(request, number, hold):
    build = get_build(request, number)
    hold = hold_of(build, hold)
    return render(request, "builds/record/hold_point.html", page_of(build, hold, request.user))


def page_of(build, hold, account):
    """Everything the page of a hold point shows."""
    today = timezone.localdate()
    reports = registry.reports(build)
    decisions = list(build.hold_decisions.select_related("made_by", "configuration", "voided_by"))
    of_hold = [one for one in decisions if one.hold == hold]
    conditions = releasing.conditions(build, hold, reports)
    kept, photos = standing_on.of_hold(build, hold, reports), photos_of(build, account)
    return {
        "build": build,
        "hold": hold,
        "meaning": MEANING[hold],
        "conditions": sorted(conditions, key=lambda one: one.met is True),
        "unmet": [one for one in conditions if one.met is not True],
        "departures": [sentence for one in conditions for sentence in one.agree],
        "standing": voiding.standing_release(decisions, hold, today),
        "decisions": [(one, one.stands(today), one.why_void(today)) for one in reversed(of_hold)],
        "asked": build.hold_requests.filter(hold=hold, answered_at__isnull=True).select_related("made_by").first(),
        "hidden": {
            "based_on": of_hold[-1].pk if of_hold else 0,
            "seen": standing_on.token(build, kept, [one.pk for one, _ in photos]),
        },
        "stands_on": standing_on.in_words(kept),
        "photos": photos,
        "ask_again": releasing.why_ask_again(build, hold),
        "changed": releasing.changed_since_last_release(build, hold, kept),
        "own_work": releasing.why_not(build, account, reports, hold),
        "may_ask": may_edit(account, build),
        "may_decide": account.has_role(Role.REVIEWER) and build.is_going_on,
    }


def photos_of(build, account):
    """(photo, why it is not shown) of every photo that nobody struck."""
    photos = build.photos.standing().select_related("made_by").prefetch_related("step_results__step")
    consent = consent_for_photos(build) if photos else False
    return [(one, why_hidden(one, account, consent)) for one in photos]


def do(request, build, hold, act, said, **more):
    try:
        act(build, hold, request.user, **more)
    except rules.Refused as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, said)
    return redirect("hold_point", build.number, hold)


@require_POST
def hold_ask(request, number, hold):
    build = get_editable_build(request, number)
    hold = hold_of(build, hold)
    return do(request, build, hold, releasing.ask, f"A reviewer has been asked for {hold.label}.")


@require_POST
def hold_release(request, number, hold):
    build = get_reviewable_build(request, number)
    hold = hold_of(build, hold)
    sent = {
        "agreed": request.POST.getlist("agreed"),
        "based_on": newest_shown(request.POST.get("based_on")),
        "seen": request.POST.get("seen", ""),
    }
    return do(request, build, hold, releasing.release, f"{hold.label} is released.", **sent)


@require_http_methods(["GET", "POST"])
def hold_refuse(request, number, hold):
    build = get_reviewable_build(request, number)
    hold = hold_of(build, hold)
    newest = releasing.newest_decision(build, hold)
    form = RefuseForm(request.POST or None, newest=newest)
    if valid(request, form) and accepted(
        form, lambda: releasing.refuse(build, hold, request.user, **form.cleaned_data)
    ):
        messages.success(request, f"{hold.label} is refused. The builders see your reason.")
        return redirect("hold_point", build.number, hold)
    return show_form(
        request,
        form,
        title=f"Refuse {hold.label} of build {build.number}",
        submit="Refuse",
        back=reverse("hold_point", args=[build.number, hold]),
        intro=f"Last decision: {releasing.decided(newest)}." if newest else "",
    )


@require_safe
def hold_decision(request, number, pk):
    """What one release stood on, item by item."""
    build = get_build(request, number)
    decision = get_object_or_404(build.hold_decisions.select_related("made_by", "configuration", "voided_by"), pk=pk)
    today = timezone.localdate()
    kept = standing_on.in_words(decision.evidence)
    page = {"build": build, "decision": decision, "stands_on": kept, "stands": decision.stands(today)}
    return render(request, "builds/record/hold_decision.html", {**page, "why_void": decision.why_void(today)})


@require_safe
def void_table(request):
    """The one table of what voids what, as the rules use it."""
    columns = [*voids.TARGETS, voids.CLEARANCE]
    rows = [(line.says, [column in line.voids for column in columns]) for line in voids.TABLE]
    return render(
        request, "builds/record/void_table.html", {"columns": [voids.LABELS[one] for one in columns], "rows": rows}
    )
