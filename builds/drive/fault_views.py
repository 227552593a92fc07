"""Fault finding: two pushes and up to four bench tests name what is crossed; a table of what no crossing explains.

Nothing is stored until somebody records it, with one click, as a nonconformance of the build.
"""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from builds.access import get_build, get_checkable_build, may_edit
from builds.drive.fault_forms import FaultForm
from builds.engineering import symptoms as table
from builds.engineering.wheel_faults import CORRECT, MIRROR, TURN
from builds.record.nonconformances import open_nonconformance

LONGEST = 500
KINDS = {CORRECT: "It drives as it should", MIRROR: "Mirrored", TURN: "Turned"}
MEANS = {
    CORRECT: "Both pushes do what they should. Two crossings can hide each other: only the bench tests show that.",
    MIRROR: "Something is crossed. A turned stick never does this, so do not turn the mount to cure it.",
    TURN: "First look whether the stick's base sits turned. Never cure a turned mount with wire swaps.",
}


@require_safe
def fault_finding(request, number):
    build = get_build(request, number)
    form = FaultForm(request.GET if "forward" in request.GET or "right" in request.GET else None)
    page = {"build": build, "form": form, "may_record": may_edit(request.user, build) or request.user.is_reviewer}
    if form.is_bound and form.is_valid():
        page |= answer_of(form)
    return render(request, "builds/drive/fault_finding.html", page, status=422 if form.errors else 200)


def answer_of(form):
    found = form.found
    left = [one for one in found.causes if one.faults]
    return {
        "found": found,
        "kind": KINDS[found.kind],
        "means": MEANS[found.kind],
        "is_right": found.kind == CORRECT and not (left and found.next_test is None),
        "causes": found.causes,
        "next_test": form.fields[found.next_test].label if found.next_test else "",
        "given": form.given,
    }


@require_POST
def fault_record(request, number):
    build = get_checkable_build(request, number)
    form = FaultForm(request.POST)
    if not form.is_valid():
        messages.error(request, "Choose what both pushes did first. " + " ".join(form.non_field_errors()))
        return redirect("fault_finding", build.number)
    open_nonconformance(build, request.user, in_words(form))
    messages.success(request, "The nonconformance is recorded. It holds the build until it is closed.")
    return redirect(reverse("ticket", args=[build.number]) + "#nonconformances")


def in_words(form):
    """What was seen and what explains it, short enough for a nonconformance."""
    found = form.found
    seen = ". ".join(f"{what}: {showed.lower()}" for what, showed in form.said())
    causes = f"Cause: {found.causes[0].words}" if found.next_test is None else f"Simplest: {found.causes[0].words}"
    return f"Drives wrong ({KINDS[found.kind].lower()}). {causes}. {seen}"[:LONGEST]


@require_safe
def fault_symptoms(request, number):
    build = get_build(request, number)
    return render(
        request, "builds/drive/fault_symptoms.html",
        {"build": build, "symptoms": table.SYMPTOMS, "source": table.SOURCE},
    )  # fmt: skip
