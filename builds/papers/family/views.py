"""What a family sees over its link. These pages need no sign-in; the door decides who comes in."""

from datetime import timedelta

from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone, translation
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from builds.papers import words
from builds.papers.facts import Facts
from builds.papers.family import door, links, rules
from builds.papers.family.door import family_page
from builds.papers.family.forms import DiaryForm, ReportForm, WordForm
from builds.papers.models import PaperKind
from builds.papers.render import render_html
from builds.record.photos import consent_for_photos
from labsite import knocks

REPORTS, DIARY_LINES = 10, 40  # a day over one link
A_DAY, A_MINUTE = timedelta(days=1), timedelta(minutes=1)
SHOWN_LINES = 30


@login_not_required
@require_http_methods(["GET", "POST"])
def family_link(request, token):
    """The door: the second word, and behind it what the link leads to."""
    link = links.link_of(token)
    if link is None:
        return door.gone(request)
    with translation.override(rules.language_of(link)):
        if request.method == "POST":
            return take_word(request, link, token)
        if not door.is_open(request, link):
            return ask_for_word(request, link, token, WordForm())
        return door.keep_open(home(request, link, token), link, token)


family_link.keeps_own_transaction = True  # a wrong word is counted


@login_not_required
@require_safe
def family_lost(request, rest=None):
    """Whoever mistypes a family's address is told what a family needs, not what a lab does."""
    return door.gone(request)


def take_word(request, link, token):
    form = WordForm(request.POST)
    if knocks.too_many_from_here(door.DOOR, request, most=door.MOST, within=door.WITHIN):
        return ask_for_word(request, link, token, form, wait={"minutes": door.WITHIN // A_MINUTE})
    answer = links.try_word(link, form.cleaned_data["word"]) if form.is_valid() else "wrong"
    if answer == "open":
        door.note(link, "Opened")
        return door.keep_open(redirect("family_link", token), link, token)
    if not form.errors:
        form.add_error("word", _("That is not the word. Look at your family link sheet."))
    return ask_for_word(request, link, token, form, wait=wait_of(link) if answer == "locked" else None)


def wait_of(link):
    """Until when the link is locked, by the lab's clock, and what that clock says now: the phone's may differ."""
    link.refresh_from_db(fields=["locked_until"])
    now = timezone.localtime()
    until = full_minute_after(timezone.localtime(link.locked_until or now))
    day = "" if until.date() == now.date() else words.a_day(until)
    return {"clock": words.a_clock(until), "day": day, "now": words.a_clock(now)}


def full_minute_after(moment):
    return moment.replace(second=0, microsecond=0) + A_MINUTE


def ask_for_word(request, link, token, form, wait=None):
    status = 429 if wait else 422 if form.is_bound else 200
    page = {"form": form, "wait": wait, "refused": form.is_bound}
    return door.quiet(door.show(request, "family/word.html", page, status=status))


def home(request, link, token):
    build = link.build
    page = {
        **about(link, token),
        "must_stop": rules.must_stop(build),
        "kinds": rules.shown(link),
    }
    return door.show(request, "family/home.html", page)


def about(link, token):
    """What every page behind the door knows: the unit and how to stop it, never the person."""
    facts = Facts(link.build, language=rules.language_of(link))
    return {"token": token, "unit": link.build.unit, "facts": facts}


@require_safe
@family_page
def family_paper(request, link, token, kind):
    language = rules.shown(link).get(kind)
    if language is None:
        return redirect("family_link", token)  # it says what to do while a paper is not true
    door.note(link, PaperKind(kind).label)
    return HttpResponse(render_html(kind, link.build, language=language, screen=True, draft=False, family=token))


@require_http_methods(["GET", "POST"])
@family_page
def family_report(request, link, token):
    form = ReportForm(request.POST or None, request.FILES or None, consent=consent_for_photos(link.build))
    if form.is_valid():
        if knocks.too_many("family report", link.pk, most=REPORTS, within=A_DAY):
            form.add_error(None, _("You sent many reports today. Call the lab."))
        else:
            kept = rules.report(link, **form.cleaned_data, photo_did_not_open=form.photo_did_not_open)
            door.note(link, "Reported a problem")
            return redirect("family_reported", token, kept.pk)
    return family_form(request, link, token, form, "family/report.html")


@require_safe
@family_page
def family_reported(request, link, token, pk):
    kept = link.reports.filter(pk=pk).first()
    if kept is None:
        raise Http404("No such report.")
    did_not_open = kept.photo_refused and rules.may_keep_photo(link.build, kept.shows_client)
    page = {**about(link, token), "report": kept, "photo_did_not_open": did_not_open}
    return door.show(request, "family/reported.html", page)


@require_http_methods(["GET", "POST"])
@family_page
def family_diary(request, link, token):
    form = DiaryForm(request.POST or None, initial={"used_on": timezone.localdate()})
    if form.is_valid():
        if knocks.too_many("family diary", link.pk, most=DIARY_LINES, within=A_DAY):
            form.add_error(None, _("You wrote many lines today. Write the next ones tomorrow."))
        else:
            rules.write_in_diary(link, **form.cleaned_data)
            return redirect("family_diary", token)
    if request.method == "GET":
        door.note(link, "Use diary")
    return family_form(request, link, token, form, "family/diary.html", lines=link.diary.all()[:SHOWN_LINES])


def family_form(request, link, token, form, template, **more):
    refused = form.is_bound and bool(form.errors)
    page = {**about(link, token), "form": form, "refused": refused, "open_for_min": door.OPEN_FOR // A_MINUTE, **more}
    return door.show(request, template, page, status=422 if refused else 200)


@login_not_required
@require_POST
def family_close(request, token):
    """For a phone that others use too."""
    return door.leave(redirect("family_link", token), token)
