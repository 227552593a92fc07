"""The waiting list, the client list, and a case from its referral to its outcome."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from clients import access, rules
from clients.forms.referral import CloseForm, MoveForm, NewCaseForm, ReferralForm
from clients.models import Client, Referral
from clients.views.shared import client_address, get_row, tried
from labsite.forms import ReasonForm
from labsite.pages import show_form
from labsite.roles import Role, roles_required

FORM = require_http_methods(["GET", "POST"])


@require_safe
@roles_required(Role.COORDINATOR, Role.REVIEWER, Role.DIRECTOR)
def waiting_list(request):
    today = timezone.localdate()
    names = request.user.sees_identity
    cases = Referral.objects.waiting().for_list()
    rows = [
        {
            "case": case,
            "days": case.days_waiting(today),
            "days_at_stage": case.days_at_stage(today),
            "waits_for": rules.waits_for(case, today),
            "name": getattr(case.client, "person", None) if names else None,
        }
        for case in (cases.with_names() if names else cases)
    ]
    return render(
        request, "clients/waiting_list.html", {"rows": rows, "names": names, "may_edit": access.may_edit(request.user)}
    )


@require_safe
def clients(request):
    names = request.user.sees_identity
    rows = Client.objects.seen_by(request.user).for_list()
    rows = [
        {
            "client": one,
            "case": one.open_referral(),
            "last": one.last_referral(),
            "name": getattr(one, "person", None) if names else None,
        }
        for one in (rows.with_names() if names else rows)
    ]
    return render(
        request, "clients/clients.html", {"rows": rows, "names": names, "may_edit": access.may_edit(request.user)}
    )


@FORM
@roles_required(Role.COORDINATOR)
def referral_new(request):
    form = NewCaseForm(request.POST or None)
    if form.is_valid():
        case = rules.open_case(form.person, form.instance, request.user)
        messages.success(request, f"The case {case.client} is open.")
        return redirect("client_page", case.client.case_code)
    return show_form(
        request, form, title="New referral", submit="Open the case", back=reverse("waiting_list"),
        intro="Somebody the lab does not know yet. Somebody the lab knows gets a new referral on their own page.",
    )  # fmt: skip


@FORM
def referral_again(request, case_code):
    client = access.get_editable_client(request, case_code)
    form = ReferralForm(request.POST or None, instance=Referral(client=client))
    if form.is_valid() and tried(form, lambda: rules.open_again(form.instance, request.user)):
        messages.success(request, f"The case {client} is open again with a new referral.")
        return redirect("client_page", case_code)
    return show_form(
        request, form, title=f"New referral for {client}", submit="Open the case", back=client_address(client)
    )


@FORM
def referral_edit(request, case_code, pk):
    client = access.get_editable_family(request, case_code, "Referral")
    case = get_row(client.referrals, pk)
    form = ReferralForm(request.POST or None, instance=case)
    if form.is_valid():
        form.save()
        messages.success(request, "The referral is saved.")
        return redirect("client_page", case_code)
    return show_form(
        request, form, title=f"Referral of {client}", submit="Save the referral", back=client_address(client)
    )


@FORM
def case_move(request, case_code, pk):
    client = access.get_editable_client(request, case_code)
    case = get_open_case(client, pk)
    form = MoveForm(request.POST or None, referral=case)
    if form.is_valid() and tried(form, lambda: rules.move_case(case, form.move(), request.user)):
        moved = Referral.Stage(form.cleaned_data["to_stage"])
        messages.success(request, f"{client} is at {moved.label}.")
        return redirect("client_page", case_code)
    return show_form(
        request, form, title=f"Move {client} on from {case.get_stage_display()}", submit="Move the case",
        back=client_address(client),
    )  # fmt: skip


def get_open_case(client, pk):
    case = get_row(client.referrals, pk)
    if not case.is_open:
        raise Http404("This case is closed. Reopen it on the client's page.")
    return case


@FORM
def case_close(request, case_code, pk):
    client = access.get_editable_client(request, case_code)
    case = get_open_case(client, pk)
    form = CloseForm(request.POST or None, referral=case)
    if form.is_valid() and tried(form, lambda: rules.close_case(case, account=request.user, **form.cleaned_data)):
        messages.success(request, f"The case of {client} is closed.")
        return redirect("client_page", case_code)
    return show_form(
        request, form, title=f"Close the case of {client}", submit="Close the case", back=client_address(client)
    )


@FORM
def case_reopen(request, case_code, pk):
    client = access.get_editable_client(request, case_code)
    case = get_row(client.referrals, pk)
    form = ReasonForm(request.POST or None, label="Reason for reopening")
    if form.is_valid() and tried(form, lambda: rules.reopen_case(case, form.cleaned_data["reason"], request.user)):
        messages.success(request, f"The case of {client} is open again.")
        return redirect("client_page", case_code)
    return show_form(
        request, form, title=f"Reopen the case of {client}", submit="Reopen the case", back=client_address(client)
    )
