"""What differs from the plan. Filling in what the plan left unknown is no deviation; anything else is one."""

from dataclasses import dataclass
from math import isclose

from builds.engineering.gauges import parse_gauge
from builds.engineering.quantities import QuantityError, format_quantity
from labsite.units import lab_units

DIMENSIONS = {
    "length_m": "length", "distance_m": "length", "insulation_c": "temperature", "conductor_c": "temperature",
    "running_a": "current", "stall_a": "current", "rating_a": "current", "rating_dc_a": "current",
}  # fmt: skip
IN_THE_PLAN = {"start": "from", "end": "to"}  # where the plan's word is not the column's
COMPARED = {
    "WireRun": (
        "code", "start", "end", "gauge", "insulation_c", "bundle", "conductor_c", "colour", "length_m", "running_a",
        "stall_a", "role", "motor_circuit", "side", "in_arm", "spliced", "fuse", "label_start", "label_end",
        "termination_start", "termination_end",
    ),
    "WireFuse": ("code", "rating_a", "distance_m", "sheathed"),
    "SwitchingPart": ("code", "name", "kind", "motor_circuit", "rating_dc_a", "stall_a", "runs"),
}  # fmt: skip
NOT_KNOWN = (None, "", "unknown")


@dataclass(frozen=True)
class Difference:
    name: str
    label: str
    planned: str
    now: str

    def __str__(self):
        return f"{self.label}: {self.planned} in the plan, {self.now} now"


def differences(row, values=None):
    """Where a row, or the values about to be saved in it, departs from the plan. A row without a plan has none."""
    if row.planned is None:
        return []
    found = []
    for name in COMPARED[type(row).__name__]:
        planned = row.planned.get(IN_THE_PLAN.get(name, name))
        now = plain_value(name, values[name]) if values is not None and name in values else value_of(row, name)
        if planned not in NOT_KNOWN and not same(name, planned, now):
            label = str(row._meta.get_field(name).verbose_name)
            found.append(Difference(name, label, in_words(row, name, planned), in_words(row, name, now)))
    return found


def value_of(row, name):
    return plain_value(name, getattr(row, name))


def plain_value(name, value):
    """A fuse and runs are compared by their codes, as the plan names them."""
    if name == "fuse":
        return value.code if value else None
    if name == "runs":
        return sorted(run.code for run in (value.all() if hasattr(value, "all") else value))
    return value


def same(name, planned, now):
    if name == "runs":
        return sorted(planned) == now
    if name == "gauge":
        return gauge_label(planned) == gauge_label(now)
    if isinstance(planned, (int, float)) and isinstance(now, (int, float)):
        return isclose(planned, now, rel_tol=1e-6)
    return planned == now


def gauge_label(text):
    try:
        return parse_gauge(text).label
    except QuantityError:
        return text


def in_words(row, name, value):
    if value in NOT_KNOWN:
        return "unknown"
    if name in DIMENSIONS:
        return format_quantity(value, DIMENSIONS[name], system=lab_units())
    if name == "runs":
        return ", ".join(value) or "none"
    choices = dict(row._meta.get_field(name).choices or ())
    return str(choices.get(value, value))
