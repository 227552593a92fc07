"""Tags for every page: the state word with its shape, and the menu."""

from django import template

from labsite.pages import navigation, url_if_any

register = template.Library()

# A state: its word and its shape. The word is enough by itself; the shape helps the eye; colour has no part in it.
STATES = {
    "fits": ("Fits", "tick"),
    "check": ("Check", "triangle"),
    "stop": ("Stop", "octagon"),
    "unknown": ("Unknown", "question"),
    "met": ("Met", "tick"),
    "unmet": ("Not met", "empty"),
    "void": ("Void", "cross"),
    "standing": ("Standing", "full"),
    "stale": ("Out of date", "triangle"),
    "superseded": ("Superseded", "cross"),
    "waiting": ("Waiting", "half"),
    "open": ("Open", "empty"),
    "done": ("Done", "tick"),
    "passed": ("Passed", "tick"),
    "failed": ("Failed", "octagon"),
    "closed": ("Closed", "full"),
    "struck": ("Struck", "cross"),
    "on_hold": ("On hold", "bars"),
    "overdue": ("Overdue", "triangle"),
}


def state_of(name, word=""):
    """The word and the shape of a state; a state without a shape of its own gets the plain square."""
    code = str(name).strip().lower().replace(" ", "_").replace("-", "_")
    known, shape = STATES.get(code, (code.replace("_", " ").capitalize(), "empty"))
    return {"code": code, "word": word or known, "shape": shape}


@register.inclusion_tag("components/_state.html")
def state(name, word=""):
    return state_of(name, word)


@register.simple_tag
def menu(account):
    return navigation(account)


@register.simple_tag
def url_or_none(name):
    return url_if_any(name)


@register.filter
def error_links(form):
    """(id of the box, message) for each error of the form, in the order of the fields."""
    links = [("", message) for message in form.non_field_errors()]
    for bound in form:
        links += [(_target(bound), message) for message in bound.errors]
    return links


def _target(bound):
    if bound.use_fieldset:
        return f"{bound.auto_id}_0"
    return "" if bound.is_hidden else bound.id_for_label


@register.filter
def widget_kind(bound):
    """Which of the field template's shapes this field takes."""
    kind = getattr(bound.field.widget, "input_type", "")
    if bound.use_fieldset and kind in {"radio", "checkbox"}:
        return "choices"
    if kind == "checkbox":
        return "tick"
    return "select" if kind == "select" else "box"
