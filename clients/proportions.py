"""Measures that look mistyped beside the stature: a flag with its working, never a refusal.

Only what the table of body proportions knows is compared, and a reach with compensation is not: the trunk leans
along. Somebody who looked again can say that the measure is right; then it is no longer flagged.
"""

from dataclasses import dataclass

from builds.engineering.finding import CHECK
from builds.engineering.proportions import ONLY_ABOVE, proportion_band, proportion_flags
from builds.engineering.quantities import format_quantity
from clients.models import Measure
from labsite.units import lab_units

Kind = Measure.Kind
COMPARED = (Kind.REACH, Kind.LOWER_LEG, Kind.SEAT_DEPTH)
SEVERAL = "More than one measure does not go with the stature. Look at the stature first."


@dataclass(frozen=True)
class Flag:
    """One measure beside the stature: the finding, and what it says in the lab's units."""

    measure: object
    stature: object
    finding: object

    def __str__(self):
        least, most = proportion_band(name=self.measure.kind, stature_m=self.stature.value_si)
        near = f"{length(least)} to {length(most)}"
        if self.measure.kind in ONLY_ABOVE:
            near = f"up to {length(most)}"
        return (
            f"It is {length(self.measure.value_si)}. "
            f"Beside a stature of {length(self.stature.value_si)} it is usually {near}."
        )


def length(metres):
    return format_quantity(metres, "length", system=lab_units())


def is_compared(row):
    return row.kind in COMPARED and row.compensation != Measure.Compensation.WITH


def flags_of(rows):
    """{id of the measure: its flag}, among the newest standing measures of a client."""
    stature = next((row for row in rows if row.kind == Kind.STATURE), None)
    if stature is None:
        return {}
    flags = {}
    for row in rows:
        if is_compared(row) and row.checked_at is None:
            (finding,) = proportion_flags(stature_m=stature.value_si, measures={str(row.kind): row.value_si})
            if finding.verdict == CHECK:
                flags[row.pk] = Flag(row, stature, finding)
    return flags


def lacks_stature(rows):
    """Something could be compared, and the stature is unknown."""
    return any(is_compared(row) for row in rows) and all(row.kind != Kind.STATURE for row in rows)


def words_of(flag):
    """For the message after measures were saved."""
    side = f", {flag.measure.get_side_display().lower()}" if flag.measure.side else ""
    return (
        f"{flag.measure.get_kind_display()}{side} looks mistyped. {flag} Look at it again. "
        "Strike it with a reason if it is wrong, or say why it is right."
    )
