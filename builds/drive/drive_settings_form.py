"""The drive's part of the configuration form: selector, ceilings, slew, gains, pulses. Left empty it stays unknown."""

import re

from django import forms

from builds.engineering.capture import MOST_BITS
from builds.engineering.drive_settings import MOST_CEILINGS, PULSE_LEAST_US, PULSE_MOST_US, RANGES
from builds.engineering.quantities import parse_quantity
from builds.engineering.typed import QuantityError
from builds.record.models import Configuration
from builds.record.models.drive_settings import SignalEnd
from labsite.marks import YesNoUnknown

LONGEST_POSITION = 40
MOST_CEILING_M_S = 5
EXAMPLE = "One position a line: name; share of full command; ceiling. For example: slow; 40 %; 0.7 m/s"
RANGE_OF = {"slew_up": "slew_up_per_s", "slew_down": "slew_down_per_s"}
ANSWERS = (("", "Unknown"), ("yes", "Yes"), ("no", "No"))


def label_of(name):
    return str(Configuration._meta.get_field(name).verbose_name)


def number(name, help_text=""):
    """A number that may stay unknown, within the range that the controller takes."""
    _, _, least, most, is_whole = RANGES[RANGE_OF.get(name, name)]
    kind = forms.IntegerField if is_whole else forms.FloatField
    return kind(label=label_of(name), required=False, min_value=least, max_value=most, help_text=help_text)


def reading(name, help_text):
    return forms.IntegerField(
        label=label_of(name), required=False, min_value=1, max_value=2**MOST_BITS - 2, help_text=help_text
    )


def yes_no(name, help_text):
    return forms.TypedChoiceField(
        label=label_of(name), choices=ANSWERS, required=False, coerce=lambda one: one == "yes", empty_value=None,
        help_text=help_text,
    )  # fmt: skip


class CeilingsField(forms.CharField):
    """Up to five lines, each a position of the selector; kept as rows."""

    widget = forms.Textarea(attrs={"rows": "5"})

    def prepare_value(self, value):
        return "\n".join(map(line_of, value)) if isinstance(value, list) else value

    def clean(self, value):
        lines = [one for one in super().clean(value).splitlines() if one.strip()]
        if len(lines) > MOST_CEILINGS:
            raise forms.ValidationError(f"{self.label} must be {MOST_CEILINGS} lines or fewer, not {len(lines)}")
        rows = [row_of(one) for one in lines]
        names = [row["position"].casefold() for row in rows]
        if len(set(names)) < len(names):
            raise forms.ValidationError("Enter each position of the selector once")
        return rows or None


def line_of(row):
    ceiling = "" if row["ceiling_m_s"] is None else f"; {row['ceiling_m_s']:.6g} m/s"
    return f"{row['position']}; {row['share'] * 100:.6g} %{ceiling}"


def row_of(line):
    parts = [part.strip() for part in re.split(r";|,\s", line)]
    if len(parts) not in (2, 3) or not 0 < len(parts[0]) <= LONGEST_POSITION:
        raise forms.ValidationError(EXAMPLE)
    try:
        share = parse_quantity(parts[1], "fraction", name="Share of full command").value_si
        speed = None
        if len(parts) == 3 and parts[2].lower() not in ("", "unknown"):
            speed = parse_quantity(parts[2], "speed", name="Ceiling").value_si
    except QuantityError as error:
        raise forms.ValidationError(str(error)) from error
    if not 0 < share <= 1:
        raise forms.ValidationError(f"Share of full command must be above 0 % to 100 %, not {share * 100:.4g} %")
    if speed is not None and not 0.05 <= speed <= MOST_CEILING_M_S:
        raise forms.ValidationError(f"Ceiling must be 0.05 m/s to {MOST_CEILING_M_S} m/s, not {speed:.4g} m/s")
    return {"position": parts[0], "share": share, "ceiling_m_s": speed}


class DriveSettingsFields(forms.Form):
    """Mixed into the configuration form of a build with a stick."""

    drive_suffixes = {
        "slew_up": "of full per second", "slew_down": "of full per second", "neutral_left_us": "\u00b5s",
        "neutral_right_us": "\u00b5s", "span_us": "\u00b5s", "band_low": "counts", "band_high": "counts",
    }  # fmt: skip
    selector = forms.ChoiceField(
        label=label_of("selector"), choices=YesNoUnknown.choices, widget=forms.RadioSelect,
        help_text="Without one the slowest ceiling holds",
    )  # fmt: skip
    ceilings = CeilingsField(label=label_of("ceilings"), required=False, max_length=500, help_text=EXAMPLE)
    slew_up = number("slew_up", "How much of full command is added in a second; 1 takes a second to full")
    slew_down = number("slew_down", "While the stick is eased; letting go never waits for it")
    reverse_gain = number("reverse_gain", "0 no reverse, 1 as fast as forward")
    turn_gain = number("turn_gain", "1 turns on the spot at full wheel speed; less is calmer")
    expo = number("expo", "0 straight, 1 wholly cubed: small pushes do less")
    at_signal_end = forms.ChoiceField(
        label=label_of("at_signal_end"), choices=SignalEnd.choices, widget=forms.RadioSelect,
        help_text="Measured at commissioning, on the slope of the client's places where there is one",
    )  # fmt: skip
    neutral_left_us = number("neutral_left_us", "Trimmed until the left wheel stands still")
    neutral_right_us = number("neutral_right_us", "Trimmed until the right wheel stands still")
    span_us = number("span_us", "From neutral to full command, both sides")
    left_inverted = yes_no("left_inverted", "Yes where a longer pulse turns the left wheel backward")
    right_inverted = yes_no("right_inverted", "Yes where a longer pulse turns the right wheel backward")

    band_low = reading("band_low", "Push the bare stick round its rim: the smallest reading of both, less a little")
    band_high = reading("band_high", "The largest reading, and a little more; beyond the two a wire is broken")

    def drop_drive(self):
        for name in Configuration.DRIVE_SETTINGS:
            self.fields.pop(name, None)

    def drive_initial(self, settings):
        """Yes and no as the choices say them."""
        words = {True: "yes", False: "no", None: ""}
        return {name: words[settings.get(name)] for name in ("left_inverted", "right_inverted")}

    def clean_drive(self, cleaned):
        if "selector" not in self.fields:
            return
        rows = {row["position"].casefold(): row for row in cleaned.get("ceilings") or []}
        position = (cleaned.get("ceiling_position") or "").casefold()
        selector = cleaned.get("selector")
        if selector == YesNoUnknown.YES and rows and position and position not in rows:
            names = ", ".join(row["position"] for row in rows.values())
            self.add_error("ceiling_position", f"Position of the speed selector must be one of its positions: {names}")
        elif position in rows:
            cleaned["ceiling_position"] = rows[position]["position"]  # one spelling, by which runs are found
        row = min(rows.values(), key=lambda one: one["share"], default=None) if selector == YesNoUnknown.NO else (
            rows.get(position)
        )  # fmt: skip
        self._refuse_two_ceilings(cleaned.get("ceiling_m_s"), row)
        low, high = cleaned.get("band_low"), cleaned.get("band_high")
        if None not in (low, high) and low >= high:
            self.add_error("band_high", f"Highest possible reading must be more than the lowest, {low}, not {high}")
        for name in ("neutral_left_us", "neutral_right_us"):
            self._refuse_long_pulse(name, cleaned.get(name), cleaned.get("span_us"))

    def _refuse_two_ceilings(self, in_use, row):
        if row and None not in (in_use, row["ceiling_m_s"]) and abs(in_use - row["ceiling_m_s"]) > 1e-6:
            self.add_error(
                "ceilings",
                f"The ceiling at {row['position']} must be the speed ceiling in use, {in_use:.4g} m/s, "
                f"not {row['ceiling_m_s']:.4g} m/s",
            )

    def _refuse_long_pulse(self, name, neutral, span):
        if None in (neutral, span):
            return
        if neutral - span < PULSE_LEAST_US or neutral + span > PULSE_MOST_US:
            self.add_error(
                name,
                f"{label_of(name)} less and plus the span must be within {PULSE_LEAST_US} to {PULSE_MOST_US} \u00b5s, "
                f"not {neutral - span} to {neutral + span} \u00b5s",
            )
