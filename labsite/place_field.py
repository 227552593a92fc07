"""A form field for where something sits on a unit: three lengths, kept as [x, y, z] in metres."""

from django import forms
from django.core.exceptions import ValidationError
from django.utils.html import format_html, format_html_join

from labsite.quantity_field import QuantityField

AXES = ("Forward of the rear axle", "To the occupant's left", "Up from the ground")
FARTHEST_M = 3.0
HINT = "From the rear axle's middle on the ground. Behind it and to the occupant's right are below zero, like -12"


class PlaceWidget(forms.MultiWidget):
    """Three boxes, each with its label above and its unit beside it."""

    unit = ""

    def __init__(self, attrs=None):
        box = {"inputmode": "text", "autocomplete": "off", "class": "form-control"}
        super().__init__([forms.TextInput(box) for _ in AXES], attrs)

    def decompress(self, value):
        return value or [None] * len(AXES)

    def render(self, name, value, attrs=None, renderer=None):
        boxes = self.get_context(name, value, attrs)["widget"]["subwidgets"]
        return format_html_join(
            "",
            '<div class="field"><label for="{}">{}</label><div class="box box-short">{}'
            '<span class="unit" aria-hidden="true">{}</span></div></div>',
            ((box["attrs"]["id"], label, self._box(box), self.unit) for label, box in zip(AXES, boxes, strict=True)),
        )

    @staticmethod
    def _box(box):
        attrs = {key: value for key, value in box["attrs"].items() if value is not None and value is not False}
        value = "" if box["value"] is None else box["value"]
        told = format_html_join("", ' {}="{}"', ((key, "" if here is True else here) for key, here in attrs.items()))
        return format_html('<input type="text" name="{}" value="{}"{}>', box["name"], value, told)


class PlaceField(forms.MultiValueField):
    """Cleans to [x, y, z] in metres, or to None (unknown) when all three are empty."""

    widget = PlaceWidget

    def __init__(self, **options):
        fields = [
            QuantityField(
                "length", label=axis, metric_unit="cm", us_unit="in", required=False,
                minimum=0 if axis is AXES[2] else -FARTHEST_M, maximum=FARTHEST_M,
            )
            for axis in AXES
        ]  # fmt: skip
        options.setdefault("help_text", HINT)
        super().__init__(fields, require_all_fields=False, required=False, **options)

    def get_bound_field(self, form, field_name):
        self.widget.unit = self.fields[0].unit
        return super().get_bound_field(form, field_name)

    def prepare_value(self, value):
        if not value:
            return None
        return [field.prepare_value(part) for field, part in zip(self.fields, value, strict=True)]

    def reading(self, place):
        """A stored place as a person would read it."""
        if not place:
            return "unknown"
        parts = [field.reading(part) for field, part in zip(self.fields, place, strict=True)]
        return ", ".join(f"{part} {axis.lower()}" for part, axis in zip(parts, AXES, strict=True))

    def compress(self, parts):
        if not parts or all(part is None for part in parts):
            return None
        lacking = [axis.lower() for axis, part in zip(AXES, parts, strict=True) if part is None]
        if lacking:
            also = " and ".join(lacking)
            raise ValidationError(f"Enter also how far {also}, or leave all three empty", code="partly")
        return list(parts)

    def _shown(self, initial):
        return [part or "" for part in self.prepare_value(initial) or [""] * len(AXES)]

    def _typed(self, data):
        return [(part or "").strip() for part in data or [""] * len(AXES)]

    def has_changed(self, initial, data):
        return self._shown(initial) != self._typed(data)

    def _clean_bound_field(self, bound):
        """What is shown is rounded; saving it again unchanged keeps the exact stored value."""
        if bound.initial and self._shown(bound.initial) == self._typed(bound.data):
            return bound.initial
        return super()._clean_bound_field(bound)


def place_in_words(place):
    """For pages and evidence: metres from the rear axle's middle on the ground; None is unknown."""
    if place is None:
        return None
    x, y, z = place
    side = "on the middle line" if y == 0 else f"{abs(y):.3g} m to the occupant's {'left' if y > 0 else 'right'}"
    way = f"{abs(x):.3g} m {'forward of' if x >= 0 else 'behind'} the rear axle"
    return f"{way}, {side}, {z:.3g} m up"
