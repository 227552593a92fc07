"""Pages of the languages: the catalogue and who read it, and the sentences of one build with their translations."""

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from builds.access import get_coordinated_build
from builds.papers import catalogue, languages
from builds.papers.language_forms import CatalogueReadingForm, TranslationForm
from builds.papers.translations import CatalogueReading, Translation, reading_of, tidy
from labsite.pages import show_form
from labsite.roles import Role


def allow(request, *roles):
    if not request.user.has_role(*roles):
        raise PermissionDenied("Only the lab coordinator and the lab director see this.")


def known(language):
    """A language other than English that papers are printed in, or a page that says there is none."""
    if language not in catalogue.languages() or language == catalogue.SOURCE:
        raise Http404("Papers are not printed in this language.")
    return language


@require_safe
def paper_languages(request):
    allow(request, Role.COORDINATOR, Role.DIRECTOR)
    codes = [code for code in catalogue.languages() if code != catalogue.SOURCE]
    rows = Translation.objects.select_related("made_by")
    page = {
        "languages": [
            {
                "code": code,
                "name": catalogue.name_of(code),
                "count": len(catalogue.sentences(code)),
                "version": catalogue.version(code),
                "reading": reading_of(code),
                "own": [row for row in rows if row.language == code],
            }
            for code in codes
        ],
        "may_record": request.user.has_role(Role.COORDINATOR),
    }
    return render(request, "builds/papers/languages.html", page)


@require_safe
def paper_catalogue(request, language):
    """Everything that the speaker has to read, beside the English."""
    allow(request, Role.COORDINATOR, Role.DIRECTOR)
    pairs = catalogue.sentences(known(language)).items()
    page = {
        "language": language,
        "name": catalogue.name_of(language),
        "version": catalogue.version(language),
        "pairs": [(*catalogue.without_context(source), text) for source, text in pairs],
    }
    return render(request, "builds/papers/catalogue.html", page)


@require_http_methods(["GET", "POST"])
def catalogue_read(request, language):
    allow(request, Role.COORDINATOR)
    version = catalogue.version(known(language))
    reading = CatalogueReading(language=language, version=version, made_by=request.user)
    form = CatalogueReadingForm(request.POST or None, instance=reading)
    if form.is_valid():
        form.save()
        messages.success(request, f"It is kept that this version of the {catalogue.name_of(language)} was read.")
        return redirect("paper_languages")
    return show_form(
        request,
        form,
        title=f"The {catalogue.name_of(language)} sentences were read",
        submit="Keep that",
        back=reverse("paper_languages"),
        intro=f"For version {version} and no other: a changed sentence asks for another reading.",
    )


@require_safe
def build_sentences(request, number, language):
    build = get_coordinated_build(request, number)
    page = {
        "build": build,
        "language": known(language),
        "name": catalogue.name_of(language),
        "lines": languages.lines_of(build, language),
        "reading": reading_of(language),
        "version": catalogue.version(language),
    }
    return render(request, "builds/papers/sentences.html", page)


@require_http_methods(["GET", "POST"])
def sentence_translate(request, number, language, digest):
    build = get_coordinated_build(request, number)
    lines = languages.lines_of(build, known(language))
    line = next((line for line in lines if line.source.digest == digest), None)
    if line is None:
        raise Http404("This sentence is on no paper of this build any more. It may have been changed.")
    source = line.source
    row = line.row or Translation(
        language=language, source=tidy(source.text), source_digest=digest, place=source.place, made_by=request.user
    )
    form = TranslationForm(request.POST or None, instance=row)
    if form.is_valid():
        form.save()
        if "text" in form.changed_data:
            languages.text_was_changed(row, request.user)
        messages.success(request, f"The {catalogue.name_of(language)} is kept.")
        return redirect("build_sentences", build.number, language)
    return show_form(
        request,
        form,
        title=f"{catalogue.name_of(language)} for one sentence",
        submit="Keep the translation",
        back=reverse("build_sentences", args=[build.number, language]),
        template="builds/papers/sentence_form.html",
        line=line,
    )
