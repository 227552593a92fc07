"""Measures, access, sitting and supports, cautions."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from builds.engineering.quantities import format_quantity
from clients import access, page, proportions
from clients.forms.cautions import CautionsForm
from clients.forms.measures import MeasuresForm, RightForm
from clients.forms.needs import AccessForm, SittingForm
from clients.models import AccessProfile, Client, Measure, SittingProfile
from clients.views.shared import client_address, get_row, hold, save_record, strike_row, the_one
from labsite.pages import show_form

FORM = require_http_methods(["GET", "POST"])


@FORM
def measure_new(request, case_code):
    client = access.get_editable_client(request, case_code)
    form = MeasuresForm(request.POST or None, client=client, account=request.user)
    if form.is_valid():
        for measure, before in form.save():
            messages.warning(request, leap_words(measure, before))
        for flag in flags_now(client):
            messages.warning(request, proportions.words_of(flag))
        messages.success(request, "The measures are saved.")
        return redirect(client_address(client, "measures"))
    return show_form(
        request, form, title=f"Measures of {client}", submit="Save the measures",
        back=client_address(client, "measures"), intro="Fill in what was measured. Leave the other boxes empty.",
    )  # fmt: skip


def flags_now(client):
    """What looks mistyped among the newest measures, with those just saved."""
    return page.newest_measures(Client.objects.with_needs().get(pk=client.pk))["flags"].values()


def leap_words(measure, before):
    old, new = (format_quantity(one.value_si, one.dimension) for one in (before, measure))
    return (
        f"{measure.get_kind_display()} went from {old} to {new} since {before.taken_on:%d %B %Y}. "
        "Look at it again. Strike it with a reason if it is wrong."
    )


@require_safe
def measure_history(request, case_code, kind):
    client = access.get_client(request, case_code)
    if kind not in Measure.Kind.values:
        raise Http404("No such measure.")
    rows = client.measures.filter(kind=kind).select_related("made_by", "struck_by", "checked_by").newest_first()
    return render(
        request,
        "clients/measure_history.html",
        {
            "client": client, "kind": Measure.Kind(kind), "rows": rows, "may_edit": access.may_edit(request.user),
            "sees_people": request.user.sees_every_build,
        },
    )  # fmt: skip


@FORM
def measure_strike(request, case_code, pk):
    client = access.get_editable_client(request, case_code)
    row = get_row(client.measures.standing(), pk)
    return strike_row(
        request, row, client, "measures",
        title=f"Strike: {row.get_kind_display()}, {row.typed}", submit="Strike the measure",
        done="The measure is struck.",
    )  # fmt: skip


@FORM
def measure_right(request, case_code, pk):
    client = access.get_editable_client(request, case_code)
    row = get_row(client.measures.standing(), pk)
    form = RightForm(request.POST or None, client=client)
    if form.is_valid():
        row.call_right(request.user, form.cleaned_data["reason"])
        messages.success(request, "It is noted that the measure is right.")
        return redirect(client_address(client, "measures"))
    return show_form(
        request, form, title=f"It is right: {row.get_kind_display()}, {row.typed}", submit="Note that it is right",
        back=client_address(client, "measures"),
        intro="Measure again first. The proportions are those of adults; small children differ, as do some conditions.",
    )  # fmt: skip


@FORM
def access_edit(request, case_code):
    client = access.get_editable_client(request, case_code)
    form = AccessForm(request.POST or None, instance=the_one(request, AccessProfile, client))
    return save_record(
        request, form, client, "access",
        title=f"Access profile of {client}", submit="Save the access profile", done="The access profile is saved.",
    )  # fmt: skip


@FORM
def sitting_edit(request, case_code):
    client = access.get_editable_client(request, case_code)
    form = SittingForm(request.POST or None, instance=the_one(request, SittingProfile, client))
    return save_record(
        request, form, client, "sitting",
        title=f"Sitting and supports of {client}", submit="Save sitting and supports",
        done="Sitting and supports are saved.",
    )  # fmt: skip


@FORM
def cautions_edit(request, case_code):
    client = access.get_editable_client(request, case_code)
    hold(request, client)
    form = CautionsForm(request.POST or None, client=client, account=request.user, rows=client.cautions.all())
    return save_record(
        request, form, client, "cautions",
        title=f"Cautions of {client}", submit="Save the cautions", done="The cautions are saved.",
        intro="No diagnosis is asked for. Say what is so, and what is done about it. Builders read this.",
    )  # fmt: skip
