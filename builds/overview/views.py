"""The ticket of a build, and starting one."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from builds.access import get_build
from builds.overview.forms import NewBuildForm
from builds.overview.ticket import ticket_of
from builds.record import rules
from labsite.pages import show_form
from labsite.roles import Role, roles_required

INTRO = "Planning waits for the clearance. The plan's steps, wire runs and parts are copied into the build."


@require_safe
def ticket(request, number):
    build = get_build(request, number, everything=True)
    return render(request, "builds/overview/ticket.html", ticket_of(build, request.user))


@roles_required(Role.COORDINATOR)
@require_http_methods(["GET", "POST"])
def build_new(request):
    form = NewBuildForm(request.POST or None, initial={"client": request.GET.get("client")})
    if form.is_valid():
        try:
            build = start(form.cleaned_data, request.user)
        except rules.Refused as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, f"Build {build.number} is started.")
            return redirect("ticket", build.number)
    return show_form(request, form, title="Start a build", submit="Start the build", intro=INTRO)


def start(chosen, account):
    referral = chosen["client"].referrals.filter(outcome="open").order_by("-received_on").first()
    return rules.start_build(**chosen, account=account, referral=referral)
