"""The door of a family link: who may come in, for how long, how often, and what every answer carries.

A link that ran out, was revoked, was cut or was guessed gets the same page, so that nobody learns which it was.
"""

from datetime import timedelta
from functools import wraps

from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.shortcuts import redirect, render
from django.utils import translation
from django.utils.cache import add_never_cache_headers

from builds.papers.family import links, rules
from builds.papers.sentences import Sentences
from builds.papers.stopping import Emergency
from labsite import audit, knocks

COOKIE = "family"
OPEN_FOR = timedelta(minutes=30)
DOOR = "family link"
MOST, WITHIN = 30, timedelta(minutes=15)  # dead links and words typed, from one address


def family_page(view):
    """A view of an open link: view(request, link). It needs no sign-in; it needs the link and, before it, the word."""

    @login_not_required
    @wraps(view)
    def behind_the_door(request, token, **more):
        link = links.link_of(token)
        if link is None or not is_open(request, link):
            return redirect("family_link", token)  # the door answers for both
        with translation.override(rules.language_of(link)):
            return keep_open(view(request, link, token, **more), link, token)

    return behind_the_door


def is_open(request, link):
    """Whether this browser gave the word for this link a short while ago."""
    value = request.get_signed_cookie(COOKIE, default=None, salt=salt_of(link), max_age=OPEN_FOR)
    return value == str(link.pk)


def keep_open(answer, link, token):
    """A cookie for this one address, signed with the word's own hash, and gone half an hour after the last page."""
    answer.set_signed_cookie(
        COOKIE,
        str(link.pk),
        salt=salt_of(link),
        max_age=OPEN_FOR,
        path=links.address_of(token),
        secure=settings.SESSION_COOKIE_SECURE,
        httponly=True,
        samesite="Lax",
    )
    return quiet(answer)


def leave(answer, token):
    answer.delete_cookie(COOKIE, path=links.address_of(token), samesite="Lax")
    return quiet(answer)


def salt_of(link):
    return f"{links.SALT}.open.{link.pk}.{link.word_hash}"


def quiet(answer):
    """Nobody lists it, nobody keeps it, and no other site learns its address.

    A page with a form may tell this site where it was sent from: with "no-referrer" a browser hides the origin of
    the form too, and the form would be refused as forged.
    """
    add_never_cache_headers(answer)
    answer["X-Robots-Tag"] = "noindex, nofollow"
    answer["Referrer-Policy"] = "same-origin" if b"<form" in answer.content else "no-referrer"
    return answer


def gone(request):
    """One page for every link that leads nowhere. Its address is counted, so that guessing ends soon."""
    too_often = knocks.too_many_from_here(DOOR, request, most=MOST, within=WITHIN)
    first = language_of_browser(request)
    page = {"languages": [(code, call_in(request, code)) for code in [first, *other_languages(first)]]}
    with translation.override(first):
        return quiet(show(request, "family/gone.html", page, status=429 if too_often else 404))


def other_languages(first):
    """Whose link it was nobody knows, and the phone may be a neighbour's: the page is there for every family."""
    return [code for code, _ in settings.LANGUAGES if code != first]


def show(request, template, page=None, status=200):
    """A page with whom to call and when, in the language that is spoken just now."""
    call = call_in(request, translation.get_language())
    return render(request, template, {**call, **(page or {})}, status=status)


def call_in(request, language):
    """Whom to call and when."""
    with translation.override(language):
        said = Sentences(language)
        return {
            "hours": said.said(request.lab.hours),
            "outside_hours": said.sentence(request.lab.outside_hours),
            "emergency": Emergency(request.lab.emergency_number),
        }


def language_of_browser(request):
    return translation.get_language_from_request(request)


def note(link, what):
    """Every opening stands in the trail of who looked."""
    audit.note_opening_without_account(f"Family link {link.number} of {link.build.number}", link.build.client, what)
