"""What every page shares: how a form is shown again, and which places the menu offers to whom."""

from django.shortcuts import render
from django.urls import NoReverseMatch, reverse

from labsite.roles import Role

EVERYONE = tuple(Role)
OVERSEEING = (Role.COORDINATOR, Role.REVIEWER, Role.DIRECTOR)
DESK = (Role.COORDINATOR, Role.DIRECTOR)

# A place: its url name, its label, and the roles with work there.
PLACES = [
    ("desk", "Desk", DESK),
    ("waiting_list", "Waiting list", OVERSEEING),
    ("my_builds", "My builds", (Role.BUILDER,)),
    ("review_queue", "To review", (Role.REVIEWER, Role.DIRECTOR)),
    ("board", "Board", OVERSEEING),
    ("clients", "Clients", OVERSEEING),
    ("builds", "Builds", EVERYONE),
    ("plans", "Build plans", EVERYONE),
    ("base_units", "Base units", EVERYONE),
    ("contacts_due", "Follow-up", DESK),
    ("paper_languages", "Languages", DESK),
    ("calculators", "Calculators", EVERYONE),
    ("accounts", "Accounts", DESK),
    ("lab_settings", "Lab settings", DESK),
]


def url_if_any(name):
    """The address of a named place, or None while nobody has built it."""
    for full_name in (name, f"builds:{name}", f"clients:{name}"):
        try:
            return reverse(full_name)
        except NoReverseMatch:
            continue
    return None


def navigation(account):
    """The (address, label) pairs that this account's roles open."""
    if not getattr(account, "is_authenticated", False):
        return []
    found = [(url_if_any(name), label) for name, label, roles in PLACES if account.has_role(*roles)]
    return [(address, label) for address, label in found if address]


def show_form(request, form, *, title, submit, back=None, intro="", template="components/form_page.html", **context):
    """A page with one form; after a refusal the same page with what was typed, answered with 422."""
    refused = form.is_bound and bool(form.errors)
    page = {
        "form": form, "title": title, "submit": submit, "back": back, "intro": intro, "refused": refused, **context,
    }  # fmt: skip
    return render(request, template, page, status=422 if refused else 200)
