"""What the views of all rooms share when a rule may refuse, and the page on which an entry is struck."""

from django.contrib import messages
from django.shortcuts import redirect

from builds.record.rules import Refused
from labsite.forms import ReasonForm
from labsite.pages import show_form

STAYS = "A struck entry no longer counts, and stays readable with your reason."


def accepted(form, act):
    """Do it; when a rule refuses, its sentence stands on top of the form. Returns whether it was done."""
    try:
        act()
    except Refused as refusal:
        form.add_error(None, str(refusal))
        return False
    return True


def strike_page(
    request, strike, *, title, done, back, then=None, submit="Strike it", label="Reason for striking", intro=STAYS
):
    """Ask for the reason and hand it to `strike`; afterwards on to `then`, or back where that is left out."""
    form = ReasonForm(request.POST if request.method == "POST" else None, label=label)
    if form.is_valid() and accepted(form, lambda: strike(form.cleaned_data["reason"])):
        messages.success(request, done)
        return redirect(then or back)
    return show_form(request, form, title=title, submit=submit, back=back, intro=intro, danger=True)
