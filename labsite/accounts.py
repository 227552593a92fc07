"""The lab's people: added, given roles, closed and reopened, helped when a password is forgotten."""

from django.contrib import messages
from django.core.exceptions import PermissionDenied, ValidationError
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from labsite import account_rules
from labsite.account_forms import AccountForm
from labsite.forms import ReasonForm
from labsite.models import Account
from labsite.pages import show_form
from labsite.roles import Role, roles_required

SHOWN_ONCE = "one_time_password"


def get_account(pk):
    return get_object_or_404(Account, pk=pk)


@roles_required(Role.COORDINATOR, Role.DIRECTOR)
@require_safe
def accounts(request):
    # A browser that only asks for the headers has not shown it to anybody yet.
    shown = request.session.pop(SHOWN_ONCE, None) if request.method == "GET" else None
    return render(request, "labsite/accounts.html", {"accounts": Account.objects.for_list(), "handed_over": shown})


@roles_required(Role.COORDINATOR, Role.DIRECTOR)
@require_http_methods(["GET", "POST"])
def account_new(request):
    form = AccountForm(request.POST or None)
    if form.is_valid():
        return _show_password_once(request, form.save())
    return show_form(request, form, title="Add an account", submit="Add the account", back=reverse("accounts"))


@roles_required(Role.COORDINATOR, Role.DIRECTOR)
@require_http_methods(["GET", "POST"])
def account_edit(request, pk):
    account = get_account(pk)
    form = AccountForm(request.POST or None, instance=account)
    if form.is_valid():
        form.save()
        messages.success(request, f"The account of {account.full_name} is saved.")
        return redirect("accounts")
    return show_form(
        request, form, title=f"Account of {account.full_name}", submit="Save the account", back=reverse("accounts")
    )


@roles_required(Role.COORDINATOR, Role.DIRECTOR)
@require_http_methods(["GET", "POST"])
def account_close(request, pk):
    account = get_account(pk)
    form = ReasonForm(request.POST or None, label="Reason for closing")
    if form.is_valid():
        try:
            account_rules.close_account(account, request.user, form.cleaned_data["reason"])
        except ValidationError as refusal:
            form.add_error(None, refusal)
        else:
            messages.success(request, f"The account of {account.full_name} is closed. What they signed stays signed.")
            return redirect("accounts")
    return show_form(
        request,
        form,
        title=f"Close the account of {account.full_name}",
        submit="Close the account",
        back=reverse("accounts"),
    )


@roles_required(Role.COORDINATOR, Role.DIRECTOR)
@require_POST
def account_reopen(request, pk):
    account = get_account(pk)
    account.reopen()
    messages.success(request, f"The account of {account.full_name} is open again.")
    return redirect("accounts")


@roles_required(Role.COORDINATOR, Role.DIRECTOR)
@require_POST
def account_reset_password(request, pk):
    account = get_account(pk)
    if account == request.user:
        raise PermissionDenied("This is for another person's account. Change your own password on its page.")
    return _show_password_once(request, account)


def _show_password_once(request, account):
    """Kept in the session until the next page shows it; never in an address, a message or a log."""
    password = account_rules.give_one_time_password(account)
    request.session[SHOWN_ONCE] = {"name": account.full_name, "username": account.username, "password": password}
    return redirect("accounts")
