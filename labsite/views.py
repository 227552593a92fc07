"""Where a person lands after signing in, and whether the site is well."""

from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.db import DatabaseError, connection
from django.http import JsonResponse
from django.shortcuts import redirect, render
from django.urls import NoReverseMatch, reverse
from django.views.decorators.http import require_http_methods, require_safe

from labsite.account_forms import LabSettingsForm
from labsite.pages import show_form
from labsite.roles import Role, roles_required

INTRO = "Families find these on every paper: whom to call, and when somebody answers."

# The first role a person has, in this order, decides the page.
OWN_WORK = (
    (Role.COORDINATOR, "desk"),
    (Role.BUILDER, "my_builds"),
    (Role.REVIEWER, "review_queue"),
    (Role.DIRECTOR, "board"),
)


def own_work_of(account):
    """The address of this person's own work; nothing for a person without a role."""
    for role, name in OWN_WORK:
        if account.has_role(role):
            try:
                return reverse(name)
            except NoReverseMatch:
                continue
    return None


@require_safe
def home(request):
    address = own_work_of(request.user)
    if address:
        return redirect(address)
    return render(request, "labsite/no_role.html")


# What the papers of the families say of the lab.
PRINTED = {"name", "phone", "hours", "outside_hours", "emergency_number"}
ON_PAPERS = " Papers that say it otherwise are replaced: each ticket lists the copies to collect and to print anew."


def on_papers(form):
    return bool(PRINTED & set(form.changed_data))


@roles_required(Role.COORDINATOR, Role.DIRECTOR)
@require_http_methods(["GET", "POST"])
def lab_settings(request):
    intro = intro_of(request.lab)
    form = LabSettingsForm(request.POST or None, instance=request.lab)
    if form.is_valid():
        form.save()
        messages.success(request, f"The lab settings are saved.{ON_PAPERS if on_papers(form) else ''}")
        return redirect("lab_settings")
    return show_form(request, form, title="Lab settings", submit="Save the lab settings", intro=intro)


def intro_of(lab):
    missing = lab.missing()
    return f"{INTRO} Not known yet, and the papers wait for it: {', '.join(missing)}." if missing else INTRO


@login_not_required
@require_safe
def health(request):
    """For a watchdog: nothing but whether the site answers and reaches its database."""
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT 1")
    except DatabaseError:
        return JsonResponse({"site": "ok", "database": "down"}, status=503)
    return JsonResponse({"site": "ok", "database": "ok"})
