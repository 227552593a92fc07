"""Signing in and out, one's own password, and the page for somebody who tried too often."""

from datetime import timedelta

from axes.helpers import get_cool_off
from axes.models import AccessAttempt
from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.views import LoginView, LogoutView
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from labsite.account_forms import OwnPasswordForm, SignInForm
from labsite.models import Account
from labsite.pages import show_form


class SignIn(LoginView):
    template_name = "labsite/sign_in.html"
    authentication_form = SignInForm
    redirect_authenticated_user = True

    def get_context_data(self, **kwargs):
        return super().get_context_data(nobody_yet=not Account.objects.exists(), **kwargs)

    def form_invalid(self, form):
        return self.render_to_response(self.get_context_data(form=form, refused=True), status=422)


sign_in = login_not_required(SignIn.as_view())
sign_in.keeps_own_transaction = True  # a refused sign-in is counted

sign_out = login_not_required(require_POST(LogoutView.as_view()))


def locked_out(request, response=None, credentials=None):
    """Said instead of the sign-in page after too many wrong tries: when to try again, and whom to ask."""
    attempt = (
        AccessAttempt.objects.filter(username=(credentials or {}).get("username"), ip_address=request.axes_ip_address)
        .order_by("-attempt_time")
        .first()
    )
    last = attempt.attempt_time if attempt else timezone.now()
    again_at = _full_minute_after(last + get_cool_off(request))
    return render(request, "labsite/locked_out.html", {"again_at": again_at}, status=429)


def _full_minute_after(moment):
    return moment.replace(second=0, microsecond=0) + timedelta(minutes=1)


@require_http_methods(["GET", "POST"])
def password_change(request):
    form = OwnPasswordForm(request.user, data=request.POST or None)
    if form.is_valid():
        form.save()
        update_session_auth_hash(request, request.user)
        messages.success(request, "Your password is changed.")
        return redirect("home")
    return show_form(request, form, title="Change your password", submit="Change the password")
