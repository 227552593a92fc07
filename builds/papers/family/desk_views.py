"""The lab's side of the family links: making and revoking them, and reading what came in over them."""

import segno
from django.contrib import messages
from django.http import FileResponse, Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from builds.access import get_handed_over_build, get_identified_build
from builds.papers.catalogue import SOURCE, paper_language
from builds.papers.family import links
from builds.papers.family.forms import NewLinkForm
from builds.papers.family.models import DiaryLine, FamilyReport
from builds.papers.teaching import supervising_adults
from builds.record.photos import consent_for_photos
from labsite.marks import YesNoUnknown
from labsite.pages import show_form
from labsite.roles import Role

WHAT = "Family links of build {}"
SHOWN_ONCE = "family_link_shown_once"
LINES = 60


@require_safe
def family_links(request, number):
    build = get_identified_build(request, number, WHAT.format(number))
    page = {
        "build": build,
        "links": build.family_links.select_related("made_by", "build"),
        "handed_over": shown_once(request, build),
        "reports": reports_of(build),
        "diary": diary_of(build),
        "may_make": request.user.has_role(Role.COORDINATOR),
    }
    return render(request, "builds/papers/family_links.html", page)


def shown_once(request, build):
    """The address and the word of the link that was just made: on the next page, and never again."""
    kept = request.session.get(SHOWN_ONCE)
    if not kept or kept["build"] != build.number or request.method != "GET":
        return None
    del request.session[SHOWN_ONCE]
    drawn = segno.make(kept["address"], error="m")
    return {**kept, "picture": drawn.svg_data_uri(scale=5, border=4, nl=False)}


def reports_of(build):
    consent = consent_for_photos(build)
    found = FamilyReport.objects.filter(link__build=build).select_related("link", "problem")[:LINES]
    return [(one, may_show_photo(one, consent)) for one in found]


def diary_of(build):
    return DiaryLine.objects.filter(link__build=build).select_related("link")[:LINES]


def may_show_photo(report, consent):
    """The consent may have been withdrawn since the photo came."""
    return bool(report.photo) and (consent or report.shows_client == YesNoUnknown.NO)


@require_http_methods(["GET", "POST"])
def family_link_new(request, number):
    build = get_handed_over_build(request, number, WHAT.format(number))
    form = NewLinkForm(request.POST or None, initial={"language": language_of_adults(build)})
    if form.is_valid():
        made = links.make_link(build, request.user, **form.cleaned_data)
        request.session[SHOWN_ONCE] = {
            "build": build.number,
            "number": made.link.number,
            "language": made.link.language,
            "address": whole_address(request, made.token),
            "word": made.word,
        }
        return redirect("family_links", build.number)
    return show_form(
        request,
        form,
        title=f"New family link for build {build.number}",
        submit="Make the link",
        back=reverse("family_links", args=[build.number]),
        intro="The link and its word are shown once. Print the sheet then.",
    )


def language_of_adults(build):
    adults = supervising_adults(build)
    return (paper_language(adults[0].language) if adults else None) or SOURCE


def whole_address(request, token):
    path = links.address_of(token)
    public = request.lab.public_address.rstrip("/")
    return f"{public}{path}" if public else request.build_absolute_uri(path)


@require_POST
def family_link_revoke(request, number, pk):
    build = get_handed_over_build(request, number, WHAT.format(number))
    link = get_object_or_404(build.family_links, pk=pk)
    if link.revoked_at is None:
        link.revoke(request.user)
        messages.success(request, f"Family link {link.number} is revoked. It opens nothing any more.")
    return redirect("family_links", build.number)


@require_safe
def family_report_photo(request, number, pk):
    build = get_identified_build(request, number, f"Photo of a family report of build {number}")
    report = get_object_or_404(FamilyReport, link__build=build, pk=pk)
    if not may_show_photo(report, consent_for_photos(build)):
        raise Http404("No photo is kept, or the family's consent to it is not in force.")
    try:
        file = report.photo.open("rb")
    except FileNotFoundError as error:
        raise Http404("The kept file is gone. Tell whoever looks after this site.") from error
    answer = FileResponse(file, content_type="image/jpeg")
    answer["Cache-Control"] = "private, no-store"
    return answer
