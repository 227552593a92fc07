"""Contacts with the family: those of one build, and all that wait. They tell of the family, so few see them."""

from functools import partial

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from builds.access import get_handed_over_build, get_identified_build
from builds.followup import rules
from builds.followup.forms import ContactDoneForm, ContactForm
from builds.followup.models import PlannedContact
from builds.record.pages import accepted, strike_page
from builds.record.rules import Refused
from labsite.pages import show_form
from labsite.roles import Role, roles_required

WHAT = "Contacts of build {}"


@roles_required(Role.COORDINATOR, Role.DIRECTOR)
@require_safe
def contacts_due(request):
    waiting = PlannedContact.objects.coming().for_list()
    return render(request, "builds/followup/contacts_due.html", {"contacts": waiting, "today": timezone.localdate()})


@require_safe
def contacts(request, number):
    build = get_identified_build(request, number, WHAT.format(number))
    rows = list(build.contacts.for_list())
    handed_on = rules.date_of_hand_off(build)
    page = {
        "build": build,
        "contacts": rows,
        "handed_on": handed_on,
        "missing": rules.what_is_missing([one for one in rows if not one.is_struck], handed_on),
        "suggested": rules.suggested(handed_on) if handed_on else [],
        "today": timezone.localdate(),
        "may_record": request.user.has_role(Role.COORDINATOR),
    }
    return render(request, "builds/followup/contacts.html", page)


@require_POST
def contacts_suggest(request, number):
    build = get_handed_over_build(request, number, WHAT.format(number))
    try:
        added = rules.suggest(build, request.user)
    except Refused as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, f"{added} contacts are added." if added else "The usual contacts are there already.")
    return redirect("contacts", build.number)


@require_http_methods(["GET", "POST"])
def contact_new(request, number):
    build = get_handed_over_build(request, number, WHAT.format(number))
    form = ContactForm(request.POST or None)
    form.instance.build, form.instance.made_by = build, request.user
    if form.is_valid():
        form.save()
        return redirect("contacts", build.number)
    return page(request, build, form, "Add a contact with the family", "Add the contact")


@require_http_methods(["GET", "POST"])
def contact_done(request, number, pk):
    build = get_handed_over_build(request, number, WHAT.format(number))
    contact = get_object_or_404(build.contacts.standing(), pk=pk)
    form = ContactDoneForm(request.POST or None)
    if form.is_valid() and accepted(form, lambda: rules.finish(contact, request.user, **form.cleaned_data)):
        return redirect("contacts", build.number)
    return page(request, build, form, "What came of the contact", "Save")


@require_http_methods(["GET", "POST"])
def contact_strike(request, number, pk):
    build = get_handed_over_build(request, number, WHAT.format(number))
    contact = get_object_or_404(build.contacts.standing(), pk=pk)
    return strike_page(
        request, partial(contact.strike, request.user), title="Strike a contact", done="The contact is struck.",
        back=reverse("contacts", args=[build.number]),
    )  # fmt: skip


def page(request, build, form, title, submit):
    back = reverse("contacts", args=[build.number])
    return show_form(request, form, title=title, submit=submit, back=back)
