"""What a cart did when it was pushed, chosen from words; no test that was not done counts as one."""

from django import forms

from builds.engineering.finding import EngineeringError
from builds.engineering.wheel_faults import BENCH_TESTS, PUSHES, wheel_faults
from labsite.forms import LabForm

DOES = (
    ("forward", "Drives forward"),
    ("backward", "Drives backward"),
    ("spins-left", "Spins to the occupant's left: left wheel backward, right wheel forward"),
    ("spins-right", "Spins to the occupant's right: left wheel forward, right wheel backward"),
)
NOT_DONE = ("", "Not done yet")
TURNED = (
    NOT_DONE, ("left+", "Left wheel, forward"), ("left-", "Left wheel, backward"), ("right+", "Right wheel, forward"),
    ("right-", "Right wheel, backward"),
)  # fmt: skip
MOVED = (
    NOT_DONE, ("x+", "The sideways value rises (x+)"), ("x-", "The sideways value falls (x-)"),
    ("y+", "The forward value rises (y+)"), ("y-", "The forward value falls (y-)"),
)  # fmt: skip


def asked(label, choices, required=False, help_text=""):
    return forms.ChoiceField(
        label=label, choices=choices, required=required, widget=forms.RadioSelect, help_text=help_text
    )


class FaultForm(LabForm):
    """Two pushes, and what the bench tests showed. `found` is what explains it once the form is valid."""

    forward = asked("Pushed forward, the cart", DOES, required=True)
    right = asked("Pushed to the occupant's right, the cart", DOES, required=True)
    push_forward = asked("Raw stick values on a push forward", MOVED, help_text="No wheel needs power for it")
    push_right = asked("Raw stick values on a push to the occupant's right", MOVED)
    left_channel = asked("The left channel alone driven forward", TURNED, help_text="Wheels up, each channel by itself")
    right_channel = asked("The right channel alone driven forward", TURNED)

    found = None

    def clean(self):
        cleaned = super().clean()
        if not self.errors:
            try:
                self.found = wheel_faults(**{name: cleaned[name] or None for name in (*PUSHES, *BENCH_TESTS)})
            except EngineeringError as error:
                self.add_error(None, str(error))
        return cleaned

    @property
    def given(self):
        """What was chosen, for the page and for the record."""
        return {name: self.cleaned_data[name] for name in (*PUSHES, *BENCH_TESTS) if self.cleaned_data.get(name)}

    def said(self):
        """(what was done, what it showed) of everything that was done."""
        return [(self.fields[name].label, dict(self.fields[name].choices)[value]) for name, value in self.given.items()]
