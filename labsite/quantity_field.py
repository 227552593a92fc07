"""A form field for a typed quantity: the unit that was typed wins, a bare number is in the lab's unit."""

from django import forms
from django.core.exceptions import ValidationError

from builds.engineering import units as physical
from builds.engineering.quantities import QuantityError, parse_quantity
from labsite.models import Lab
from labsite.units import lab_units
from labsite.wording import figure

SHOWN_DIGITS = 6
LIMIT_DIGITS = 4
# Below nothing there is no mass and no length; these may well be below nothing.
SIGNED = {"temperature", "angle", "moment", "number", "force"}
NUL = "null_characters_not_allowed"


class QuantityField(forms.CharField):
    """Cleans to a float in SI units, or to None (unknown) when it is left empty and may be.

    SI here means the base unit of the dimension in `builds.engineering.units` (°C and degrees among them).
    `minimum` and `maximum` are in it too; where nothing below zero can be, the minimum is zero.
    `metric_unit` and `us_unit` are the lab's units for a bare number.
    """

    def __init__(self, dimension, *, metric_unit, us_unit=None, minimum=None, maximum=None, units=None, **options):
        options.setdefault("max_length", 40)
        options.setdefault("empty_value", None)
        super().__init__(**options)
        self.dimension, self.kind = dimension, physical.DIMENSIONS[dimension]
        self.minimum = 0 if minimum is None and dimension not in SIGNED else minimum
        self.maximum = maximum
        self.metric_unit, self.us_unit = metric_unit, us_unit or metric_unit
        self.units = units
        self.widget.attrs.update(inputmode="decimal", autocomplete="off")

    @property
    def unit(self):
        """The lab's unit as it is written beside the box."""
        return physical.WRITTEN.get(self.lab_unit, self.lab_unit)

    @property
    def lab_unit(self):
        if self.metric_unit == self.us_unit:
            return self.metric_unit
        return self.us_unit if (self.units or lab_units()) == Lab.Units.US else self.metric_unit

    def prepare_value(self, value):
        return value if value is None or isinstance(value, str) else self.in_lab_unit(value, SHOWN_DIGITS)

    def reading(self, value_si):
        """A stored value as a person would read it."""
        return "unknown" if value_si is None else f"{self.in_lab_unit(value_si, SHOWN_DIGITS)} {self.unit}".strip()

    def in_lab_unit(self, value_si, digits):
        number = physical.from_base(value_si, physical.unit_of(self.lab_unit, self.kind) or self.kind.base, self.kind)
        return figure(float(f"{number:.{digits}g}")).replace(",", "")

    def to_python(self, value):
        text = super().to_python(value)
        if text is None:
            return None
        if len(text) > self.max_length:
            raise ValidationError(f"{self._label} must be {self.max_length} characters or fewer", code="max_length")
        if "\x00" in text:
            raise ValidationError(f"{self._label} holds a character that cannot be kept. Type it again", code=NUL)
        try:
            return parse_quantity(text, self.dimension, name=self._label, default_unit=self.lab_unit).value_si
        except QuantityError as error:
            raise ValidationError(str(error), code="invalid") from error

    def run_validators(self, value):
        """The limits, told in the lab's unit; the text validators of the base class do not apply to a number."""
        for limit, broken, words in (
            (self.minimum, lambda: value < self.minimum, "or more"),
            (self.maximum, lambda: value > self.maximum, "or less"),
        ):
            if value is not None and limit is not None and broken():
                told = f"{self.in_lab_unit(limit, LIMIT_DIGITS)} {self.unit}"
                raise ValidationError(f"{self._label} must be {told} {words}", code="limit")

    def _clean_bound_field(self, bound):
        """What is shown is rounded; saving it again unchanged keeps the exact stored value."""
        if bound.initial is not None and (bound.data or "").strip() == str(self.prepare_value(bound.initial)):
            self.run_validators(bound.initial)
            return bound.initial
        return super()._clean_bound_field(bound)

    def has_changed(self, initial, data):
        return (data or "").strip() != str("" if initial is None else self.prepare_value(initial))

    @property
    def _label(self):
        return str(self.label or "Value")

    def default_hint(self):
        return f"In {self.unit}, or type another unit after the number"
