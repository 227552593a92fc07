"""Pages of captures: send a log, look at it with its fit, compare two, set one for the client or say why not."""

from functools import partial

from django.contrib import messages
from django.db.models import Prefetch, prefetch_related_objects
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from builds.access import get_build, get_editable_build, may_edit
from builds.drive import capture_rules as rules
from builds.drive.capture_forms import AcceptFitForm, CaptureForm
from builds.drive.capture_models import FittedStick
from builds.drive.capture_picture import over_time, plane
from builds.drive.capture_sheet import comparison, findings_with_words, marks_in_words, plane_in_words, row_of, rows_of
from builds.drive.capture_sheet import shown as in_figures
from builds.drive.captures import log_of
from builds.drive.rules import Outdated
from builds.engineering.capture import read_capture
from builds.record.pages import STAYS, strike_page, valid
from builds.record.rules import Refused
from labsite.forms import ReasonForm
from labsite.pages import show_form

PEOPLE = ("capture__made_by", "capture__struck_by", "decided_by")
FITS = Prefetch("stick_fits", FittedStick.objects.select_related(*PEOPLE))


def get_fit(build, pk):
    """A capture of this build with its fit."""
    return get_object_or_404(FittedStick.objects.select_related(*PEOPLE), capture_id=pk, build=build)


@require_safe
def captures(request, number):
    build = get_build(request, number)
    prefetch_related_objects([build], "configurations", FITS)
    context = {
        "build": build,
        "configuration": build.configuration(),
        "rows": rows_of(build),
        "may_edit": may_edit(request.user, build),
        "has_stick": build.has_stick,
    }
    return render(request, "builds/drive/captures.html", context)


@require_http_methods(["GET", "POST"])
def capture_new(request, number):
    build = get_editable_build(request, number)
    now = build.configuration()
    initial = {"side": now.side} if now and now.side != "unknown" else {}
    form = CaptureForm(request.POST or None, request.FILES or None, initial=initial)
    if request.method == "POST" and valid(request, form):
        kept = rules.record_capture(build, request.user, **form.kept)
        messages.success(request, "The capture is kept. Its fit is in use once it is accepted.")
        return redirect("capture", build.number, kept.pk)
    return show_form(
        request, form, title=f"Keep a capture of the stick of {build.number}", submit="Keep the capture",
        back=reverse("captures", args=[build.number]), template="builds/drive/capture_new.html", build=build,
    )  # fmt: skip


@require_safe
def capture(request, number, pk):
    build = get_build(request, number)
    prefetch_related_objects([build], "configurations", FITS)
    fitted = get_fit(build, pk)
    fit = fitted.fit
    context = {
        "build": build, "row": row_of(fitted, build.configuration()), "one": fitted.capture, "fitted": fitted,
        "findings": findings_with_words(fit), "plane_in_words": plane_in_words(fit),
        "others": [one for one in build.stick_fits.all() if one.pk != fitted.pk],
        "may_edit": may_edit(request.user, build),
    }  # fmt: skip
    try:
        log = read_capture(log_of(fitted.capture), fitted.capture.adc_bits)
    except (Refused, OSError) as error:
        context["no_picture"] = str(error) if isinstance(error, Refused) else "The file of this capture is missing."
    else:
        context |= {"over_time": over_time(log, fit), "plane": plane(log, fit), "marks": marks_in_words(log)}
    return render(request, "builds/drive/capture.html", context)


@require_safe
def capture_log(request, number, pk):
    build = get_build(request, number)
    fitted = get_fit(build, pk)
    try:
        log = log_of(fitted.capture)
    except (Refused, OSError):
        return redirect("capture", build.number, pk)  # which says what is wrong with the file
    answer = HttpResponse(log, content_type="text/plain; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="{build.number}-capture-{pk}.txt"'
    answer["X-Content-Type-Options"] = "nosniff"
    return answer


@require_safe
def capture_compare(request, number, pk, other):
    build = get_build(request, number)
    before, after = get_fit(build, min(pk, other)), get_fit(build, max(pk, other))
    told = comparison(before, after)
    context = {
        "build": build, "before": before, "after": after,
        "rows": [(one, in_figures(one.before), in_figures(one.after)) for one in told],
        "moved": [one for one in told if one.moved],
    }  # fmt: skip
    return render(request, "builds/drive/capture_compare.html", context)


@require_http_methods(["GET", "POST"])
def capture_accept(request, number, pk):
    build = get_editable_build(request, number)
    fitted = get_fit(build, pk)
    now = build.configuration()
    form = AcceptFitForm(
        request.POST or None, mirrored=fitted.results["mirrored"], initial={"based_on": now.number if now else 0}
    )
    if request.method == "POST" and valid(request, form) and accepted(request, form, fitted, now):
        return redirect("capture", build.number, pk)
    if form.is_bound:
        form.data = {**form.data.dict(), "based_on": now.number if now else 0}
    return show_form(
        request, form, title=f"Accept the fit of capture {pk} for {build.client.case_code}",
        submit="Accept into the next configuration", back=reverse("capture", args=[build.number, pk]),
        template="builds/drive/capture_accept.html", build=build, row=row_of(fitted, now), one=fitted.capture,
        moves_side=now is not None and now.side != fitted.capture.side,
    )  # fmt: skip


def accepted(request, form, fitted, now):
    try:
        made = rules.accept_fit(fitted, request.user, **{"based_on": 0, **form.cleaned_data})
    except Outdated as error:
        form.add_error(None, f"{error}. Check it and save again.")
    except Refused as error:
        form.add_error(None, str(error))
    else:
        more = ""
        if now and now.side != made.side:
            more = " The side changed, so the places of shoulder and control are unknown until you enter them."
        messages.success(request, f"The fit is in use. It made configuration {made.number}.{more}")
        return True
    return False


@require_http_methods(["GET", "POST"])
def capture_refuse(request, number, pk):
    build = get_editable_build(request, number)
    fitted = get_fit(build, pk)
    form = ReasonForm(request.POST or None, label="Reason for refusing this fit")
    if request.method == "POST" and valid(request, form):
        try:
            rules.refuse_fit(fitted, request.user, form.cleaned_data["reason"])
        except Refused as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, "The fit is refused. The capture stays readable with your reason.")
            return redirect("capture", build.number, pk)
    return show_form(
        request, form, title=f"Refuse the fit of capture {pk} of {build.number}", submit="Refuse", danger=True,
        back=reverse("capture", args=[build.number, pk]),
        intro="A refused fit is never set for the client. Take another capture when the cause is mended.",
    )  # fmt: skip


@require_http_methods(["GET", "POST"])
def capture_strike(request, number, pk):
    build = get_editable_build(request, number)
    fitted = get_object_or_404(FittedStick, capture_id=pk, build=build, capture__struck_at__isnull=True)
    return strike_page(
        request, partial(rules.strike_capture, fitted.capture, request.user),
        title=f"Strike capture {pk} of {build.number}", done="The capture is struck.",
        back=reverse("capture", args=[build.number, pk]), then=reverse("captures", args=[build.number]),
        intro=f"{STAYS} Where the fit of this capture is in use, what stood on it is void.",
    )  # fmt: skip
