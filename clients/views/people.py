"""The family's facts: person file, caregivers, hours at home; and the places of use."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from clients import access
from clients.forms.people import CaregiverForm, HouseholdForm, PersonForm, PlaceForm
from clients.models import Caregiver, Household, PersonFile, Place
from clients.views.shared import client_address, get_row, save_record, the_one

FORM = require_http_methods(["GET", "POST"])


@FORM
def person_edit(request, case_code):
    client = access.get_editable_family(request, case_code, "Person file")
    form = PersonForm(request.POST or None, instance=the_one(request, PersonFile, client))
    return save_record(
        request, form, client, "family",
        title=f"Person file of {client}", submit="Save the person file", done="The person file is saved.",
    )  # fmt: skip


@FORM
def caregiver_new(request, case_code):
    client = access.get_editable_family(request, case_code, "Caregivers")
    form = CaregiverForm(request.POST or None, instance=Caregiver(client=client))
    return save_record(
        request, form, client, "family",
        title=f"Add a caregiver of {client}", submit="Add the caregiver", done="The caregiver is added.",
    )  # fmt: skip


@FORM
def caregiver_edit(request, case_code, pk):
    client = access.get_editable_family(request, case_code, "Caregivers")
    form = CaregiverForm(request.POST or None, instance=get_row(client.caregivers, pk))
    return save_record(
        request, form, client, "family",
        title=f"Caregiver of {client}", submit="Save the caregiver", done="The caregiver is saved.",
    )  # fmt: skip


@FORM
def caregiver_remove(request, case_code, pk):
    client = access.get_editable_family(request, case_code, "Caregivers")
    return remove_row(request, client, get_row(client.caregivers, pk), "family", "caregiver")


@FORM
def household_edit(request, case_code):
    client = access.get_editable_family(request, case_code, "Hours at home")
    form = HouseholdForm(request.POST or None, instance=the_one(request, Household, client))
    return save_record(
        request, form, client, "home",
        title=f"Hours and storage at home, {client}", submit="Save the hours", done="The hours at home are saved.",
    )  # fmt: skip


@FORM
def place_new(request, case_code):
    client = access.get_editable_client(request, case_code)
    form = PlaceForm(request.POST or None, instance=Place(client=client))
    return save_record(
        request, form, client, "places",
        title=f"Add a place of use, {client}", submit="Add the place", done="The place is added.",
    )  # fmt: skip


@FORM
def place_edit(request, case_code, pk):
    client = access.get_editable_client(request, case_code)
    form = PlaceForm(request.POST or None, instance=get_row(client.places, pk))
    return save_record(
        request, form, client, "places",
        title=f"Place of use, {client}", submit="Save the place", done="The place is saved.",
    )  # fmt: skip


@FORM
def place_remove(request, case_code, pk):
    client = access.get_editable_client(request, case_code)
    return remove_row(request, client, get_row(client.places, pk), "places", "place")


def remove_row(request, client, row, section, what):
    """Ask once, then take the row away. The trail of changes keeps that it was there."""
    if request.method == "POST":
        row.delete()
        messages.success(request, f"The {what} is removed.")
        return redirect(client_address(client, section))
    return render(
        request,
        "clients/remove.html",
        {"client": client, "row": row, "what": what, "back": client_address(client, section)},
    )
