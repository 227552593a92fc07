from functools import partial

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import FileResponse, Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from builds.access import get_build, get_editable_build, may_edit
from builds.bench.forms import PhotoForm
from builds.bench.views import typed
from builds.record.pages import strike_page, valid
from builds.record.photos import consent_for_photos, keep_photo, strike_photo, why_hidden
from labsite.pages import show_form

KEPT_BY_BROWSER_S = 300


@require_safe
def photo(request, number, pk):
    """The picture itself. Files have no address of their own; they all come through here."""
    build = get_build(request, number)
    kept = get_object_or_404(build.photos, pk=pk)
    hidden = why_hidden(kept, request.user, consent_for_photos(build))
    if hidden:
        raise PermissionDenied(f"This photo is not shown. {hidden}")
    try:
        opened = kept.file.open("rb")
    except FileNotFoundError as error:
        raise Http404("The file of this photo is not there.") from error
    response = FileResponse(opened, content_type="image/jpeg", filename=f"{build.number}-photo-{kept.pk}.jpg")
    response["Cache-Control"] = f"private, max-age={KEPT_BY_BROWSER_S}"
    response["X-Content-Type-Options"] = "nosniff"
    return response


@require_safe
def build_photos(request, number):
    build = get_build(request, number)
    consent = consent_for_photos(build)
    photos = build.photos.select_related("made_by", "struck_by").prefetch_related("step_results__step")
    context = {
        "build": build,
        "photos": [(one, why_hidden(one, request.user, consent)) for one in photos],
        "consent": consent,
        "may_edit": may_edit(request.user, build),
    }
    return render(request, "builds/bench/photos.html", context)


@require_http_methods(["GET", "POST"])
def photo_add(request, number):
    build = get_editable_build(request, number)
    form = PhotoForm(build, *typed(request))
    back = reverse("build_photos", args=[build.number])
    if valid(request, form):
        kept = form.cleaned_data
        facts = {name: kept[name] for name in ("caption", "shows_client", "on_guide")}
        keep_photo(build, request.user, kept["photo"], **facts)
        messages.success(request, "The photo is kept, without the place and time that the phone wrote into it.")
        return redirect(back)
    return show_form(request, form, title=f"Add a photo of {build.unit.number}", submit="Keep the photo", back=back)


@require_http_methods(["GET", "POST"])
def photo_strike(request, number, pk):
    build = get_editable_build(request, number, at_its_end=True)
    kept = get_object_or_404(build.photos, pk=pk)
    return strike_page(
        request, partial(strike_photo, kept, request.user), title="Strike this photo", done="The photo is struck.",
        back=reverse("build_photos", args=[build.number]), submit="Strike the photo",
        intro=f"{kept.caption or 'Photo'}. Once struck it is shown to the lab coordinator and the director only.",
    )  # fmt: skip
