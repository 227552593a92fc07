"""Erasing the file of a family: the coordinator begins it, the director confirms it."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from clients import access, erasing
from clients.forms.erasure import ConfirmForm, EraseForm, TakeBackForm
from clients.models import Erasure
from clients.views.shared import client_address, tried
from labsite.pages import show_form

FORM = require_http_methods(["GET", "POST"])
NOBODY = "Nobody has asked to erase this file, or it was taken back."


@FORM
def client_erase(request, case_code):
    client = access.get_editable_family(request, case_code, "Erasing the file")
    if client.erasure():
        messages.info(request, "The erasure is begun already. It waits for the lab director.")
        return redirect("client_page", case_code)
    reasons = erasing.what_stands_in_the_way(client)
    form = EraseForm(request.POST or None, instance=Erasure(client=client, begun_by=request.user))
    if form.is_valid() and tried(form, lambda: erasing.begin(form.instance)):
        messages.success(request, f"The erasure of {client} is begun. Nothing is gone until the director confirms it.")
        return redirect("client_page", case_code)
    if reasons and request.method == "GET":
        return render(request, "clients/erase_waits.html", {"client": client, "reasons": reasons})
    return show_page(request, form, client, title=f"Erase the file of {client}", submit="Begin the erasure")


@FORM
def erasure_confirm(request, case_code):
    client = access.get_confirmable_client(request, case_code)
    erasure = client.erasure()
    if erasure is None:
        raise Http404(NOBODY)
    if erasure.confirmed_at is not None:
        return finish(request, client, erasure)
    form = ConfirmForm(request.POST or None, client=client)
    if form.is_valid() and tried(form, lambda: erasing.confirm(erasure, request.user)):
        messages.success(request, f"The file of {client} is erased.")
        return redirect("client_page", case_code)
    return show_page(
        request, form, client, title=f"Confirm: erase the file of {client}", submit="Erase the file now",
        erasure=erasure, danger=True, another=erasing.ANOTHER if erasure.begun_by_id == request.user.pk else "",
    )  # fmt: skip


def finish(request, client, erasure):
    """Done already; what a first time could not delete is tried again."""
    if request.method == "POST":
        erasing.confirm(erasure, request.user)
        messages.info(request, "The files that were left are tried again. Look at this page once more.")
    return redirect("client_page", client.case_code)


@FORM
def erasure_take_back(request, case_code):
    client = access.get_family_client(request, case_code, "Taking an erasure back")
    erasure = client.erasure()
    if erasure is None or not erasure.waits:
        raise Http404(NOBODY)
    form = TakeBackForm(request.POST or None, client=client)
    if form.is_valid() and tried(form, lambda: erasing.take_back(erasure, request.user, form.cleaned_data["reason"])):
        messages.success(request, "The erasure is taken back. Nothing is gone.")
        return redirect("client_page", case_code)
    return show_form(
        request, form, title=f"Take the erasure of {client} back", submit="Take it back", back=client_address(client),
        intro="The file stays as it is. Who asked, who took it back and why stays written down.",
    )  # fmt: skip


def show_page(request, form, client, **page):
    """The form beside what exactly goes and what stays."""
    return show_form(
        request, form, back=client_address(client), template="clients/erase.html", client=client,
        goes=erasing.what_goes(client), stays=erasing.what_stays(client), **page,
    )  # fmt: skip
