"""Pages of the proving run: how it stands, its next line, and what is struck."""

from functools import partial
from urllib.parse import urlencode

from django.contrib import messages
from django.db.models import Prefetch, prefetch_related_objects
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from builds.access import get_build, get_editable_build, may_edit
from builds.drive import proving
from builds.drive.proving_forms import VALUE, WHICH, ProvingRunForm, form_for
from builds.drive.proving_models import ProvingLine, ProvingRun
from builds.engineering.finding import STOP, plain
from builds.engineering.proving import LINES
from builds.record.pages import strike_page, valid
from builds.record.rules import Refused
from labsite.pages import show_form

RUNS = Prefetch("proving_runs", ProvingRun.objects.select_related("made_by", "struck_by", *proving.SET))
PROVED = Prefetch("proving_lines", ProvingLine.objects.select_related("made_by", "struck_by"))
SEEN = dict([*WHICH, *VALUE])


@require_safe
def proving_runs(request, number):
    build = get_build(request, number)
    prefetch_related_objects([build], "configurations", "hold_decisions", RUNS, PROVED)
    run = proving.run_of(build)
    others = [one for one in sorted(build.proving_runs.all(), key=lambda row: -row.pk) if one != run]
    page = {
        "build": build,
        "run": run and sheet_of(run),
        "others": [sheet_of(one) for one in others],
        "why_not": proving.why_not_started(build),
        "lines": LINES,
        "may_edit": may_edit(request.user, build),
    }
    return render(request, "builds/drive/proving_runs.html", page)


def sheet_of(run):
    """A run as a person reads it: each line with what it showed, and where a failed one leads."""
    lines = proving.lines_of(run)
    rows = [row_of(line, lines.get(line.code), run) for line in LINES]
    struck = [one for one in run.build.proving_lines.all() if one.run_id == run.pk and one.is_struck]
    failed = any(finding and finding.verdict == STOP for _, _, finding, _ in rows)
    return {
        "run": run,
        "rows": rows,
        "struck": struck,
        "done": len(lines),
        "due": proving.next_line(run, lines) if run.counts else None,
        "faults": faults_url(run, lines) if failed else "",
    }


def row_of(line, recorded, run):
    """The line, what is recorded of it, the finding on that, and both sides of the finding in words."""
    if recorded is None:
        return line, None, None, {}
    finding = proving.finding_of(recorded, run.configuration)
    limit = finding.limit if isinstance(finding.limit, str) else plain(finding.limit)
    return line, recorded, finding, {"showed": SEEN.get(finding.shown, finding.shown), "limit": SEEN.get(limit, limit)}


def faults_url(run, lines):
    """The fault finding, with what this run showed already chosen."""
    return f"{reverse('fault_finding', args=[run.build.number])}?{urlencode(proving.seen_on(lines, run.configuration))}"


@require_http_methods(["GET", "POST"])
def proving_new(request, number):
    build = get_editable_build(request, number)
    form = ProvingRunForm(request.POST or None)
    if request.method == "POST" and valid(request, form):
        try:
            run = proving.start_run(build, request.user, form.cleaned_data["supply"])
        except Refused as error:
            form.add_error(None, str(error))
        else:
            return redirect("proving_line", build.number, run.pk)
    return show_form(
        request, form, title=f"Begin a proving run of {build.number}", submit="Begin",
        back=reverse("proving_runs", args=[build.number]),
        intro="Wheels up, nobody in the seat, a hand at the battery disconnect. The run stands for the side, the "
        "calibration, the settings and the wiring of now; a change of these, or another program in the controller, "
        "asks for another one. Type back first what the controller tells at its start.",
    )  # fmt: skip


@require_http_methods(["GET", "POST"])
def proving_line(request, number, pk):
    """The line that comes next; after it the one after that."""
    build = get_editable_build(request, number)
    run = get_object_or_404(ProvingRun.objects.select_related(*proving.SET), pk=pk, build=build)
    run.build = build
    due = proving.next_line(run) if run.counts else None
    if due is None:
        return redirect("proving_runs", build.number)
    if request.POST.get("line") not in (None, "", due.code):
        messages.error(request, "Somebody recorded a line meanwhile. This one comes next.")
        return redirect("proving_line", build.number, run.pk)
    form = form_for(due, request.POST or None)
    if request.method == "POST" and valid(request, form):
        return after(request, build, run, due, form)
    position = [line.code for line in LINES].index(due.code) + 1
    return show_form(
        request, form, title=due.title, submit="Keep it, and on to the next", due=due, build=build, position=position,
        total=len(LINES), back=reverse("proving_runs", args=[build.number]),
        template="builds/drive/proving_line.html",
    )  # fmt: skip


def after(request, build, run, due, form):
    try:
        line = proving.record_line(run, request.user, due.code, **form.showed)
    except Refused as error:
        messages.error(request, str(error))
        return redirect("proving_runs", build.number)
    if proving.finding_of(line, run.configuration).verdict == STOP:
        text = f"Not as it must be: {due.title}. A nonconformance holds the build until it is closed."
        messages.warning(request, text)
    return redirect("proving_line", build.number, run.pk)


@require_http_methods(["GET", "POST"])
def proving_line_strike(request, number, pk):
    build = get_editable_build(request, number)
    line = get_object_or_404(ProvingLine.objects.standing().select_related("build", "run"), pk=pk, build=build)
    return strike_page(
        request, partial(proving.strike_line, line, request.user),
        title=f"Strike a line of the proving run of {build.number}", done="The line is struck.",
        back=reverse("proving_runs", args=[build.number]),
    )  # fmt: skip


@require_http_methods(["GET", "POST"])
def proving_strike(request, number, pk):
    build = get_editable_build(request, number)
    run = get_object_or_404(ProvingRun.objects.standing().select_related("build"), pk=pk, build=build)
    return strike_page(
        request, partial(proving.strike_run, run, request.user), title=f"Strike the proving run of {build.number}",
        done="The proving run is struck.", back=reverse("proving_runs", args=[build.number]),
    )  # fmt: skip
