"""What the views of all rooms share when a rule may refuse."""

from builds.record.rules import Refused


def accepted(form, act):
    """Do it; when a rule refuses, its sentence stands on top of the form. Returns whether it was done."""
    try:
        act()
    except Refused as refusal:
        form.add_error(None, str(refusal))
        return False
    return True
