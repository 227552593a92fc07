"""The hand-off: terms, date, who signed, and the signed sheet. It names the family, so few see it."""

from django.contrib import messages
from django.http import FileResponse, Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from builds.access import get_handed_over_build, get_identified_build
from builds.papers import handing_over, signing
from builds.papers.forms import HandOffForm, SignedSheetForm
from builds.papers.models import HandOff
from labsite.pages import show_form
from labsite.roles import Role

WHAT = "Hand-off of build {}"


@require_safe
def hand_off(request, number):
    build = get_identified_build(request, number, WHAT.format(number))
    page = {
        "build": build,
        "hand_off": handing_over.hand_off_of(build),
        "languages": handing_over.language_sentences(build),
        "is_understood": handing_over.is_understood(build),
        "signatures": signing.signatures(build),
        "may_record": request.user.has_role(Role.COORDINATOR),
    }
    return render(request, "builds/papers/hand_off.html", page)


@require_http_methods(["GET", "POST"])
def hand_off_edit(request, number):
    build = get_handed_over_build(request, number, WHAT.format(number))
    form = HandOffForm(request.POST or None, instance=handing_over.hand_off_of(build), build=build)
    if form.is_valid():
        form.instance.recorded_by = request.user
        form.save()
        messages.success(request, "The hand-off is saved.")
        return redirect("hand_off", build.number)
    return show_form(
        request,
        form,
        title=f"Hand-off of build {build.number}",
        submit="Save the hand-off",
        back=reverse("hand_off", args=[build.number]),
        intro=" ".join(handing_over.language_sentences(build)),
    )


@require_http_methods(["GET", "POST"])
def signed_sheet_add(request, number):
    build = get_handed_over_build(request, number, WHAT.format(number))
    form = SignedSheetForm(request.POST or None, request.FILES or None)
    if form.is_valid():
        kept, _ = HandOff.objects.get_or_create(build=build, defaults={"recorded_by": request.user})
        handing_over.keep_signed_sheet(kept, *form.cleaned_data["sheet"])
        messages.success(request, "The signed sheet is kept.")
        return redirect("hand_off", build.number)
    return show_form(
        request,
        form,
        title=f"Signed sheet of build {build.number}",
        submit="Keep the signed sheet",
        back=reverse("hand_off", args=[build.number]),
    )


@require_safe
def signed_sheet(request, number):
    build = get_identified_build(request, number, f"Signed sheet of build {number}")
    kept = handing_over.hand_off_of(build)
    if not kept.signed_sheet:
        raise Http404("No signed sheet is kept yet.")
    ending = "pdf" if kept.signed_sheet_type == handing_over.PDF else "jpg"
    name = f"{build.number}-signed-sheet.{ending}"
    try:
        file = kept.signed_sheet.open("rb")
    except FileNotFoundError as error:
        raise Http404("The kept file is gone. Tell whoever looks after this site.") from error
    answer = FileResponse(file, filename=name, content_type=kept.signed_sheet_type)
    answer["Cache-Control"] = "private, no-store"
    answer["X-Content-Type-Options"] = "nosniff"
    # A PDF that somebody else made may carry anything; it is kept apart from this site.
    answer["Content-Security-Policy"] = "sandbox; default-src 'none'"
    return answer
