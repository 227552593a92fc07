"""Pages of the papers: what is issued and what is not, a paper on screen and as PDF, issuing and collecting."""

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import FileResponse, Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from builds.access import get_build, get_coordinated_build
from builds.papers import reprinting, rules, wanted
from builds.papers.beside import render_beside
from builds.papers.catalogue import SOURCE
from builds.papers.forms import IssueForm
from builds.papers.kinds import WORKING
from builds.papers.languages import standings
from builds.papers.listing import lines_of
from builds.papers.models import PaperKind
from builds.papers.render import NORMAL, PaperError, file_name, render_html, render_pdf
from labsite.audit import note_opening
from labsite.pages import show_form
from labsite.roles import Role


@require_safe
def papers(request, number):
    build = get_build(request, number)
    page = {
        "build": build,
        "lines": lines_of(build),
        "to_collect": rules.to_collect(build),
        "to_replace": reprinting.without_successor(build),
        "may_issue": request.user.has_role(Role.COORDINATOR),
        "sees_names": request.user.sees_identity,
        "standings": standings(build),
    }
    return render(request, "builds/papers/papers.html", page)


@require_safe
def paper_view(request, number, kind):
    build = get_build(request, number)
    kind = opened(request, build, kind)
    try:
        html = render_html(kind, build, screen=True, **asked(request))
    except PaperError as error:
        return sorry(request, build, kind, error)
    return HttpResponse(html)


@require_safe
def paper_pdf(request, number, kind):
    build = get_build(request, number)
    kind = opened(request, build, kind)
    try:
        pdf = render_pdf(render_html(kind, build, **asked(request)), build)
    except PaperError as error:
        return sorry(request, build, kind, error)
    draft = bool(rules.why_not(kind, build, language=asked(request)["language"]))
    return sent(pdf, file_name(build, kind, configuration=build.configuration(), draft=draft))


@require_safe
def paper_beside(request, number, kind, language):
    """English and another language in two columns, as PDF, for the interpreter."""
    build = get_build(request, number)
    kind = opened(request, build, kind)
    try:
        pdf = render_pdf(render_beside(kind, build, language, request.GET.get("size")), build)
    except PaperError as error:
        return sorry(request, build, kind, error)
    name = file_name(build, f"{kind}_english_{language}", configuration=build.configuration())
    return sent(pdf, name)


def sent(pdf, name):
    return HttpResponse(
        pdf,
        content_type="application/pdf",
        headers={"Content-Disposition": f'inline; filename="{name}"', "Cache-Control": "private, no-store"},
    )


def asked(request):
    """Which edition and paper size the address asks for."""
    return {
        "size": request.GET.get("size"),
        "language": request.GET.get("language", SOURCE),
        "print_size": request.GET.get("print_size", NORMAL),
    }


def opened(request, build, kind):
    """The kind of paper, if the plan has it and this person may read it; a paper with names is noted as opened."""
    if kind not in rules.kinds(build):
        raise Http404("The plan of this build has no such paper.")
    if kind in rules.NAMES_ADULTS:
        if not request.user.sees_identity:
            raise PermissionDenied("This paper names the family. Only the coordinator and the director see it.")
        note_opening(request.user, build.client, f"{PaperKind(kind).label} of build {build.number}")
    return PaperKind(kind)


def sorry(request, build, kind, error):
    """A page that says why the paper is not there."""
    page = {"build": build, "kind": kind, "why": str(error)}
    return render(request, "builds/papers/not_rendered.html", page, status=422)


@require_safe
def issued_paper(request, number, pk):
    build = get_build(request, number)
    paper = get_object_or_404(build.issued_papers.select_related("configuration"), pk=pk)
    opened(request, build, paper.kind)
    if not paper.file:
        page = {"build": build, "paper": paper}
        return render(request, "builds/papers/erased_copy.html", page, status=410)
    try:
        file = paper.file.open("rb")
    except FileNotFoundError as error:
        raise Http404("The kept file of this paper is gone. Tell whoever looks after this site.") from error
    name = file_name(build, paper.kind, configuration=paper.configuration, copy_number=paper.copy_number)
    answer = FileResponse(file, filename=name, content_type="application/pdf")
    answer["Cache-Control"] = "private, no-store"
    return answer


@require_http_methods(["GET", "POST"])
def paper_issue(request, number, kind):
    build = get_coordinated_build(request, number)
    if kind in WORKING:
        raise Http404("This paper is printed to be written on. It is not issued.")
    kind = opened(request, build, kind)
    first = next(iter([*wanted.lacking(build, kind), *wanted.editions(build, kind)]))
    initial = {"size": request.lab.paper, "language": first.language, "print_size": first.print_size}
    form = IssueForm(request.POST or None, initial=initial, kind=kind)
    if form.is_valid():
        try:
            paper = rules.issue(build, kind, request.user, **form.cleaned_data)
        except PaperError as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, f"{kind.label}, copy {paper.copy_number}, is issued and kept.")
            return redirect("papers", build.number)
    return show_form(
        request,
        form,
        title=f"Issue the {kind.named}",
        submit="Issue a copy",
        back=reverse("papers", args=[build.number]),
        intro=" ".join(rules.why_not(kind, build, language=first.language)),
    )


@require_POST
def papers_reprint(request, number):
    """New copies for all that were replaced; what may not be issued is told, and why."""
    build = get_coordinated_build(request, number)
    done = reprinting.reprint(build, request.user)
    for paper in done.issued:
        messages.success(request, f"{paper.get_kind_display()}, copy {paper.copy_number}, is issued and kept.")
    for kind, why in done.refused:
        messages.error(request, f"{kind.label} is not issued. {why}")
    if not done.issued and not done.refused:
        messages.info(request, "Every old copy has a new one already.")
    return redirect("papers", build.number)


@require_POST
def paper_collect(request, number, pk):
    build = get_coordinated_build(request, number)
    paper = get_object_or_404(build.issued_papers, pk=pk)
    try:
        rules.collect(paper)
    except PaperError as error:
        messages.error(request, str(error))
    return redirect("papers", build.number)
