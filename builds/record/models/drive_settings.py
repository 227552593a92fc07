"""What the controller of a two-motor drive is set to. Everything is unknown until somebody says it."""

from django.db import models

from labsite.marks import YesNoUnknown


class SignalEnd(models.TextChoices):
    COAST = "coast", "Coast: the wheels run on"
    BRAKE = "brake", "Brake"
    UNKNOWN = "unknown", "Unknown"


class DriveSettings(models.Model):
    """Part of a configuration. `ceilings` has a row for each position of the speed selector, the slowest ceiling
    wherever no selector is fitted: {"position": words, "share": of full command above 0 to 1, "ceiling_m_s": or None}.
    """

    ceilings = models.JSONField("Positions of the speed selector with their ceilings", null=True, blank=True)
    selector = models.CharField(
        "Speed selector fitted", max_length=10, choices=YesNoUnknown.choices, default=YesNoUnknown.UNKNOWN
    )
    slew_up = models.FloatField("Rise of the command", null=True, blank=True)  # share of full per second
    slew_down = models.FloatField("Fall of the command while the stick is eased", null=True, blank=True)
    reverse_gain = models.FloatField("Reverse gain", null=True, blank=True)
    turn_gain = models.FloatField("Turn gain", null=True, blank=True)
    expo = models.FloatField("Expo shape", null=True, blank=True)  # 0 straight, 1 wholly cubed
    at_signal_end = models.CharField(
        "When the signal ends, the motor controllers", max_length=10, choices=SignalEnd.choices,
        default=SignalEnd.UNKNOWN,
    )  # fmt: skip
    neutral_left_us = models.PositiveIntegerField("Neutral pulse, left", null=True, blank=True)
    neutral_right_us = models.PositiveIntegerField("Neutral pulse, right", null=True, blank=True)
    span_us = models.PositiveIntegerField("Span of the pulse", null=True, blank=True)
    left_inverted = models.BooleanField("Left motor controller inverted", null=True, blank=True)
    right_inverted = models.BooleanField("Right motor controller inverted", null=True, blank=True)

    # Beyond what the whole stick can give, a wire is broken.
    band_low = models.PositiveIntegerField("Lowest possible reading of the stick", null=True, blank=True)
    band_high = models.PositiveIntegerField("Highest possible reading of the stick", null=True, blank=True)

    class Meta:
        abstract = True

    # In the order in which they are asked for and told.
    DRIVE_SETTINGS = (
        "selector", "ceilings", "slew_up", "slew_down", "reverse_gain", "turn_gain", "expo", "at_signal_end",
        "neutral_left_us", "neutral_right_us", "span_us", "left_inverted", "right_inverted", "band_low", "band_high",
    )  # fmt: skip
    UNITS = {
        "slew_up": "of full per second", "slew_down": "of full per second", "neutral_left_us": "\u00b5s",
        "neutral_right_us": "\u00b5s", "span_us": "\u00b5s", "band_low": "counts", "band_high": "counts",
    }  # fmt: skip

    def unknown_drive_settings(self):
        """The names of the drive settings that nobody has said yet."""
        return [name for name in self.DRIVE_SETTINGS if getattr(self, name) in (None, [], "", "unknown")]

    def drive_setting_in_words(self, name):
        """One drive setting as a person reads it; a position of the selector with its share and its ceiling."""
        value = getattr(self, name)
        if name == "ceilings":
            return "; ".join(map(ceiling_in_words, value or [])) or "unknown"
        if isinstance(value, bool):
            return "yes" if value else "no"
        if hasattr(self, f"get_{name}_display"):
            return getattr(self, f"get_{name}_display")()
        return "unknown" if value is None else f"{value:.6g} {self.UNITS.get(name, '')}".strip()

    def slowest(self):
        """The position of the slowest ceiling, which holds where no selector is fitted; None while none is known."""
        return min(self.ceilings or [], key=lambda one: one["share"], default=None)

    def ceiling_rows(self):
        """The positions that the cart can be driven at: all of the selector's, or the slowest where none is fitted."""
        if self.selector == YesNoUnknown.NO:
            return [self.slowest()] if self.ceilings else []
        return list(self.ceilings or [])

    def ceiling_at(self, position):
        """The row of this position; None where the selector has none of that name."""
        return next((one for one in self.ceilings or [] if one["position"] == position), None)


def ceiling_in_words(row):
    speed = "ceiling unknown" if row["ceiling_m_s"] is None else f"{row['ceiling_m_s']:.6g} m/s"
    return f"{row['position']}: {row['share'] * 100:.6g} % of full command, {speed}"
