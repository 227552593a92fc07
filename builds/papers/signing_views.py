"""Signing on the lab's tablet. It names the family, so few see it."""

from django.contrib import messages
from django.http import FileResponse, Http404
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from builds.access import get_handed_over_build, get_identified_build
from builds.papers import signing, teaching
from builds.papers.forms import SignatureForm
from builds.papers.models import DrawnSignature
from builds.record.pages import accepted
from labsite.pages import show_form

WHAT = "Signatures of build {}"


@require_http_methods(["GET", "POST"])
def hand_off_sign(request, number):
    build = get_handed_over_build(request, number, WHAT.format(number))
    sheet = signing.sheet_to_sign(build)
    form = SignatureForm(request.POST or None, adults=teaching.supervising_adults(build))
    if form.is_valid() and accepted(
        form,
        lambda: signing.sign(
            build, request.user, adult=form.cleaned_data["adult"], drawing=form.cleaned_data["drawing"]
        ),
    ):
        messages.success(request, "The signature is kept with the sheet it stands on.")
        return redirect("hand_off", build.number)
    return show_form(
        request,
        form,
        title=f"Sign the hand-off of build {build.number}",
        submit="Keep the signature",
        back=reverse("hand_off", args=[build.number]),
        template="builds/papers/sign.html",
        build=build,
        sheet=sheet,
    )


@require_safe
def hand_off_signature(request, number, pk):
    build = get_identified_build(request, number, WHAT.format(number))
    row = get_object_or_404(DrawnSignature, paper__build=build, pk=pk)
    try:
        file = row.image.open("rb")
    except FileNotFoundError as error:
        raise Http404("The kept file is gone. Tell whoever looks after this site.") from error
    answer = FileResponse(file, content_type="image/png")
    answer["Cache-Control"] = "private, no-store"
    return answer
