"""Tables of workshop papers: caption, columns, rows of words. Unknown is said, never left blank where it matters."""

from dataclasses import dataclass, field

from builds.engineering.finding import plain
from builds.engineering.quantities import format_quantity
from labsite.figures import UNKNOWN, moment
from labsite.units import lab_units


@dataclass
class Table:
    caption: str
    columns: tuple
    rows: list = field(default_factory=list)
    is_facts: bool = False
    weights: tuple = ()  # how wide each column is beside the others

    @property
    def shares(self):
        """Whole percent of the width for each column, never more than the page together."""
        weights = self.weights or (1,) * len(self.columns)
        shares = [max(3, min(60, round(100 * weight / sum(weights)))) for weight in weights]
        while sum(shares) > 100:
            shares[shares.index(max(shares))] -= 1
        return shares

    @classmethod
    def of_facts(cls, caption, *pairs):
        """Two columns, what and how; an empty optional value leaves its line out."""
        return cls(caption, (), [(label, value) for label, value in pairs if value not in ("", None)], is_facts=True)


def known(value, unit=""):
    """A value with its unit, or that it is unknown."""
    if value is None or value == "":
        return UNKNOWN
    text = plain(value) if isinstance(value, (int, float)) else str(value)
    return f"{text} {unit}".strip()


def measure(value_si, dimension):
    return UNKNOWN if value_si is None else format_quantity(value_si, dimension, system=lab_units())


def place(point):
    return UNKNOWN if not point else ", ".join(f"{axis:g}" if axis is not None else UNKNOWN for axis in point)


def who_when(account, at):
    return f"{account}, {moment(at)}" if account else UNKNOWN
