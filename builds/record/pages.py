"""What the views of all rooms share: text that names nobody, a rule that may refuse, the page that strikes an entry."""

from django import forms
from django.contrib import messages
from django.shortcuts import redirect

from builds.access import get_build
from builds.record.rules import Refused
from clients.names import Names, refusal
from labsite.forms import ReasonForm
from labsite.pages import show_form

STAYS = "A struck entry no longer counts, and stays readable with your reason."
CHOOSE_AGAIN = "Choose the file again: it is kept only when the whole page is saved"


def valid(request, form):
    """Whether the form may be saved: it is valid, and no text in it names the client or the family.

    Builders read what stands in the record. The build is the one in the address of the page.
    """
    if not form.is_valid():
        return False
    names = Names(get_build(request, request.resolver_match.kwargs["number"]).client)
    for name, text in texts_of(form):
        if said := refusal(names, [text], request.user):
            form.add_error(name, said)
    if form.errors:
        for name in form.files.keys() & form.fields.keys():
            form.add_error(name, CHOOSE_AGAIN)
    return not form.errors


def texts_of(form):
    """(field, text) of what was typed in words; `sent_texts` of a form are those of the files sent with it."""
    typed = [name for name, field in form.fields.items() if isinstance(field, forms.CharField)]
    words = [(name, form.cleaned_data[name]) for name in typed if isinstance(form.cleaned_data.get(name), str)]
    return [*words, *getattr(form, "sent_texts", ())]


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
    if valid(request, form) and accepted(form, lambda: strike(form.cleaned_data["reason"])):
        messages.success(request, done)
        return redirect(then or back)
    return show_form(request, form, title=title, submit=submit, back=back, intro=intro, danger=True)
