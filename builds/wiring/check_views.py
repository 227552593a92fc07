"""The two rounds of checks. The second person's pages never show the first person's ticks."""

from functools import partial

from django.contrib import messages
from django.db.models import prefetch_related_objects
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from builds.access import get_build, get_checkable_build, get_editable_build, is_on_build, may_edit
from builds.record.pages import accepted, strike_page, valid
from builds.record.rules import Refused
from builds.wiring import rules
from builds.wiring.checks import TICK_LABELS, checked_runs, may_be_compared, run_digest
from builds.wiring.evidence import TICKET_PREFETCH
from builds.wiring.forms import CheckForm
from builds.wiring.models import WireCheck
from labsite.pages import show_form
from labsite.roles import Role

FIRST, SECOND = WireCheck.Round.FIRST, WireCheck.Round.SECOND
READ_ONLY = {
    FIRST: "You may read this page. The builders on this build and the lab coordinator make the first check.",
    SECOND: "You may read this page. A builder on this build, a reviewer or the lab coordinator makes this check.",
}
PAGES = {FIRST: ("wire_checks", "wire_check"), SECOND: ("second_check", "second_check_run")}


@require_safe
def wire_checks(request, number):
    build = get_build(request, number)
    return round_page(request, build, FIRST)


@require_safe
def second_check(request, number):
    build = get_build(request, number)
    return round_page(request, build, SECOND)


@require_http_methods(["GET", "POST"])
def wire_check(request, number, pk):
    build = get_editable_build(request, number)
    return run_page(request, build, pk, FIRST)


@require_http_methods(["GET", "POST"])
def second_check_run(request, number, pk):
    build = get_checkable_build(request, number)
    return run_page(request, build, pk, SECOND)


@require_safe
def check_differences(request, number):
    build = get_build(request, number)
    prefetch_related_objects([build], *TICKET_PREFETCH, "wire_runs__checks__made_by")
    rows = checked_runs(build)
    is_open = may_be_compared(rows)
    context = {
        "build": build,
        "is_open": is_open,
        "differing": [row for row in rows if row.differing] if is_open else [],
        "agreeing": [row for row in rows if not row.differing] if is_open else [],
        "waiting": [row.run.code for row in rows if not row.has_both],
        "rows": rows,
    }
    return render(request, "builds/wiring/check_differences.html", context)


@require_http_methods(["GET", "POST"])
def check_strike(request, number, pk):
    build = get_checkable_build(request, number)
    check = get_object_or_404(WireCheck.objects.standing().select_related("run"), pk=pk, run__build=build)
    back = reverse(PAGES[check.round][0], args=[build.number])
    return strike_page(
        request, partial(rules.strike_check, check, request.user), back=back,
        title=f"Strike the check of run {check.run.code} of {build.number}",
        done=f"The check of {check.run.code} is struck. The run waits to be checked again.",
    )  # fmt: skip


def round_page(request, build, round):
    """Every run with whether this round has checked it; the ticks only to the person who made them."""
    prefetch_related_objects([build], *TICKET_PREFETCH)
    rows = checked_runs(build)
    context = {
        "build": build,
        "is_second": round == SECOND,
        "rows": [listed(row, round, request.user) for row in rows],
        "is_open": may_be_compared(rows),
        "barred": why_barred(build, request.user, round),
        "run_page": PAGES[round][1],
    }
    return render(request, "builds/wiring/check_round.html", context)


def listed(row, round, account):
    own_round = row.first if round == FIRST else row.second
    is_mine = own_round is not None and own_round.made_by_id == account.pk
    return {"run": row.run, "check": own_round, "ticks": ticks_of(own_round) if is_mine else [], "is_mine": is_mine}


def ticks_of(check):
    return [(label, getattr(check, f"get_{name}_display")()) for name, label in TICK_LABELS.items()]


def why_barred(build, account, round):
    """Why this person may not make this check; empty when they may."""
    first_round = round == FIRST
    if not build.is_going_on or not (may_edit(account, build) if first_round else may_check_second(account, build)):
        return READ_ONLY[round]
    try:
        rules.may_check(build, account, round)
    except Refused as error:
        return str(error)
    return ""


def may_check_second(account, build):
    return is_on_build(account, build) or account.has_role(Role.COORDINATOR, Role.REVIEWER)


def run_page(request, build, pk, round):
    """One run at a time; afterwards the next one that waits."""
    run = get_object_or_404(build.wire_runs.standing().select_related("fuse", "build"), pk=pk)
    form = CheckForm(request.POST or None, initial={"seen_digest": run_digest(run)})
    if request.method == "POST" and valid(request, form) and kept(request, form, run, round):
        return redirect(next_place(build, round, run))
    if form.is_bound:
        form.data = {**form.data.dict(), "seen_digest": run_digest(run)}
    list_page = PAGES[round][0]
    who = "Second-person check" if round == SECOND else "First check"
    return show_form(
        request, form, title=f"{who} of run {run.code} of {build.number}", submit="Save and go to the next run",
        back=reverse(list_page, args=[build.number]), template="builds/wiring/check_run.html", run=run, build=build,
        barred=why_barred(build, request.user, round), is_second=round == SECOND,
    )  # fmt: skip


def kept(request, form, run, round):
    cleaned = form.cleaned_data
    done = accepted(
        form,
        lambda: rules.record_check(
            run, request.user, round, form.ticks,
            seen_digest=cleaned["seen_digest"], resistance_ohm=cleaned["resistance_ohm"], note=cleaned["note"],
        ),
    )  # fmt: skip
    if done:
        messages.success(request, f"The check of run {run.code} is kept.")
    return done


def next_place(build, round, run):
    list_page, page = PAGES[round]
    following = rules.next_to_check(build, round, after=run)
    if following is None:
        return reverse(list_page, args=[build.number])
    return reverse(page, args=[build.number, following.pk])


