"""What happens around every view: the lab's clock, a first password changed, and one change a form."""

import uuid
from http import HTTPStatus
from urllib.parse import urlsplit

from django.contrib import messages
from django.contrib.auth.middleware import LoginRequiredMiddleware
from django.contrib.auth.views import redirect_to_login
from django.db import transaction
from django.shortcuts import redirect, render, resolve_url
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme

from labsite import units
from labsite.models import Lab, Submission

SAFE = {"GET", "HEAD", "OPTIONS"}
WITHOUT_LAB = ("/static/", "/health/")  # these answer even when the database does not


class SignInFirstMiddleware(LoginRequiredMiddleware):
    """Whoever must sign in again comes back to the page they were on, never to the address that a button sends to."""

    def handle_no_permission(self, request, view_func):
        if request.method in SAFE:
            return super().handle_no_permission(request, view_func)
        return redirect_to_login(page_before(request), resolve_url(self.get_login_url(view_func)))


def page_before(request):
    """The page of this site that the form stood on; the first page where the browser does not say it."""
    came_from = request.headers.get("Referer", "")
    if not url_has_allowed_host_and_scheme(came_from, {request.get_host()}, require_https=request.is_secure()):
        return reverse("home")
    page = urlsplit(came_from)
    return f"{page.path}?{page.query}" if page.query else page.path


class LabMiddleware:
    """Puts the lab on the request and shows times in the lab's time zone."""

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        if request.path.startswith(WITHOUT_LAB):
            return self.get_response(request)
        request.lab = Lab.current()
        units.activate(request.lab.units)
        try:
            with request.lab.own_time(), request.lab.serves_this_request():
                return said_in_words(request, self.get_response(request))
        finally:
            units.deactivate()


def said_in_words(request, response):
    """An address that only a button sends to answers a person who opens it with a page, and not with nothing."""
    if response.status_code != HTTPStatus.METHOD_NOT_ALLOWED or request.method != "GET" or response.content:
        return response
    page = render(request, "405.html", status=response.status_code)
    page["Allow"] = response["Allow"]
    return page


class PasswordChangeMiddleware:
    """A password that somebody else chose is changed before anything else."""

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        allowed = {reverse("password_change"), reverse("sign_out")}
        if getattr(request.user, "must_change_password", False) and request.path not in allowed:
            return redirect("password_change")
        return self.get_response(request)


class OneSubmissionMiddleware:
    """Every change is one transaction, kept only if the view accepts it, and a form sent twice counts once.

    A view that must keep what it wrote although it refuses (sign-in counts failures) carries
    `keeps_own_transaction = True`.
    """

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        return self.get_response(request)

    def process_view(self, request, view, args, kwargs):
        if request.method in SAFE or getattr(view, "keeps_own_transaction", False):
            return None
        with transaction.atomic():
            submission, is_first = self._submission(request)
            if submission is not None and not is_first:
                messages.info(request, "This form was already sent. It was saved once.")
                return redirect(submission.location or "home")
            response = view(request, *args, **kwargs)
            if response.status_code >= 400:
                transaction.set_rollback(True)
            elif submission is not None:
                submission.location = response.get("Location", request.path)[:500]
                submission.save(update_fields=["location"])
        return response

    def _submission(self, request):
        try:
            token = uuid.UUID(request.POST.get("once", ""))
        except ValueError:
            return None, True
        account = request.user if request.user.is_authenticated else None
        submission, is_first = Submission.objects.get_or_create(token=token, defaults={"account": account})
        if not is_first and submission.account_id != getattr(account, "pk", None):
            return None, True
        return submission, is_first
