"""What the views of this app share."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse

from clients.models import Client
from labsite.forms import ReasonForm
from labsite.pages import show_form


def client_address(client, section=""):
    return reverse("client_page", args=[client.case_code]) + (f"#{section}" if section else "")


def get_row(rows, pk):
    """A row of this client, or 404; a number of somebody else's row does not open it here."""
    return get_object_or_404(rows, pk=pk)


def tried(form, act):
    """Do it; what a rule refuses is shown beside the field, or on top of the form."""
    try:
        act()
    except ValidationError as refusal:
        form.add_error(None, refusal)
        return False
    return True


def the_one(request, model, client):
    """The client's only row of this kind, or a new one."""
    hold(request, client)
    return model.objects.filter(client=client).first() or model(client=client)


def hold(request, client):
    """While a change is made, so that two people do not both begin the same row."""
    if request.method == "POST":
        Client.objects.select_for_update().get(pk=client.pk)


def save_record(request, form, client, section, *, title, submit, done, **page):
    """The usual end of a view with one record: save and go back to its section, or show the form again."""
    if form.is_valid():
        form.save()
        messages.success(request, done)
        return redirect(client_address(client, section))
    return show_form(request, form, title=title, submit=submit, back=client_address(client, section), **page)


def strike_row(request, row, client, section, *, title, submit, done):
    """Strike a wrong entry with a reason. It stays readable."""
    form = ReasonForm(request.POST or None, label="Reason for striking")
    if form.is_valid():
        row.strike(request.user, form.cleaned_data["reason"])
        messages.success(request, done)
        return redirect(client_address(client, section))
    return show_form(
        request, form, title=title, submit=submit, back=client_address(client, section),
        intro="A struck entry stays readable with the reason, and is used for nothing.",
    )  # fmt: skip
