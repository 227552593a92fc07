"""Forms of captures: a log sent or pasted, and a fit accepted."""

from django import forms

from builds.drive.capture_models import Capture
from builds.engineering.capture import (
    FEWEST_BITS,
    LARGEST_BYTES,
    MOST_BITS,
    USUAL_BITS,
    read_capture,
    refuse_size,
    text_of,
)
from builds.engineering.finding import EngineeringError
from builds.engineering.stick_fit import fit_stick
from labsite.forms import MAX_LINE, LabForm
from labsite.marks import Side

LONGEST_PASTED = 2_000_000  # of what a browser sends at once; longer logs come as a file
LONGEST_REASON = 200  # beside it the configuration says which capture


def own(name, **options):
    return Capture._meta.get_field(name).formfield(**options)


class CaptureForm(LabForm):
    """A log as a file or as text. It is read and fitted here, so that nothing is kept that cannot be."""

    when = own("when", widget=forms.RadioSelect, choices=Capture.When.choices)
    side = own("side", widget=forms.RadioSelect, choices=Side.choices, initial=None)
    adc_bits = forms.IntegerField(
        label="Bits of the converter", min_value=FEWEST_BITS, max_value=MOST_BITS, initial=USUAL_BITS,
        help_text="10 where readings end at 1023, 12 where they end at 4095",
    )  # fmt: skip
    file = forms.FileField(
        label="Log as a file", required=False, max_length=100, widget=forms.FileInput(attrs={"accept": "text/*,.log"}),
        help_text=f"Plain text, up to {LARGEST_BYTES // 1_000_000} MB",
    )  # fmt: skip
    log = forms.CharField(
        label="Log as text", required=False, max_length=LONGEST_PASTED, strip=False,
        widget=forms.Textarea(attrs={"rows": 8, "spellcheck": "false"}), help_text="Or paste it here",
    )  # fmt: skip
    note = forms.CharField(label="Note", required=False, max_length=MAX_LINE)

    def clean(self):
        cleaned = super().clean()
        file, pasted = cleaned.get("file"), cleaned.get("log")
        if "file" in self.errors or "log" in self.errors:
            return cleaned
        if bool(file) == bool(pasted and pasted.strip()):
            told = "Send the log once: as a file or as text" if file else "Choose the file of the log, or paste the log"
            self.add_error("file", told)
            return cleaned
        if not self.errors:
            self._fit("file" if file else "log", file, pasted)
        return cleaned

    def _fit(self, field, file, pasted):
        try:
            if file:
                refuse_size(file.size)
            self.bytes_of_log = file.read() if file else pasted.encode()
            capture = read_capture(self.bytes_of_log, self.cleaned_data["adc_bits"])
            self.fitted, self.readings = fit_stick(capture), len(capture.xy)
        except EngineeringError as error:
            self.add_error(field, str(error).rstrip("."))

    @property
    def sent_texts(self):
        """The heading of a log may say anything, and builders read the log."""
        return [("file", text_of(self.bytes_of_log))] if self.cleaned_data.get("file") else []

    @property
    def kept(self):
        """What the rule keeps."""
        facts = {name: self.cleaned_data[name] for name in ("when", "side", "note")}
        return {**facts, "log": self.bytes_of_log, "fit": self.fitted, "readings": self.readings}


class AcceptFitForm(LabForm):
    mirrored_seen = forms.BooleanField(
        label="I know that this fit is mirrored, and that the wheels-up run decides before anybody rides"
    )
    reason = forms.CharField(label="Reason", required=False, max_length=LONGEST_REASON)
    based_on = forms.IntegerField(required=False, widget=forms.HiddenInput)

    def __init__(self, *args, mirrored, **kwargs):
        super().__init__(*args, **kwargs)
        if mirrored:
            self.fields["reason"].required = True
            self.fields["reason"].label = "Reason for accepting a mirrored fit"
        else:
            del self.fields["mirrored_seen"]
