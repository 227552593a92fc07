"""What a calculation says: a finding with its verdict, and the error for nonsense.

The order of verdicts is a rule: `unknown` weighs more than `check`, because it may hide a `stop`.
"""

from dataclasses import dataclass
from math import isfinite

FITS = "fits"
CHECK = "check"
STOP = "stop"
UNKNOWN = "unknown"
VERDICTS = (FITS, CHECK, UNKNOWN, STOP)

COMMON_PRACTICE = "common practice, no source"


class EngineeringError(ValueError):
    """An input that cannot be; the text names quantity, value, unit and limit in one line."""


@dataclass(frozen=True)
class Finding:
    """One computed result.

    `value` is a number in `unit`, a word, or None when it cannot be known; `limit` is a number in `unit`, a
    range in words, or None when nothing limits it. `formula` is in words. `inputs` are pairs of label and
    text. `missing` says what has to become known; it is never empty when the verdict is `unknown`.
    """

    name: str
    value: float | str | None
    unit: str
    limit: float | str | None
    verdict: str
    formula: str
    source: str
    inputs: tuple = ()
    missing: str = ""

    def __post_init__(self):
        if self.verdict not in VERDICTS:
            raise ValueError(f"{self.verdict!r} is not a verdict.")
        if self.verdict == UNKNOWN and not self.missing:
            raise ValueError(f"The finding {self.name!r} is unknown and does not say what is missing.")

    @property
    def shown(self):
        """The value rounded for reading, never rounded onto or across the limit."""
        if not isinstance(self.value, (int, float)) or isinstance(self.value, bool):
            return "unknown" if self.value is None else str(self.value)
        return rounded_beside(self.value, self.limit)

    def as_dict(self):
        return {
            "name": self.name,
            "value": self.value,
            "unit": self.unit,
            "limit": self.limit,
            "verdict": self.verdict,
            "formula": self.formula,
            "source": self.source,
            "inputs": [list(pair) for pair in self.inputs],
            "missing": self.missing,
        }


def worst(findings):
    """The gravest verdict among findings; of none at all nothing is known.

    >>> worst([])
    'unknown'
    """
    verdicts = [finding.verdict for finding in findings]
    return max(verdicts, key=VERDICTS.index) if verdicts else UNKNOWN


def unknown(name, missing, *, unit="", limit=None, formula="", source="", inputs=()):
    """A finding that cannot be computed; `missing` is one name or several."""
    what = missing if isinstance(missing, str) else ", ".join(missing)
    return Finding(name, None, unit, limit, UNKNOWN, formula, source, inputs, what)


def shown_inputs(**quantities):
    """Pairs of label and text; a value is a number with its unit, or None for unknown.

    >>> shown_inputs(current=(18.0, "A"), bundle=(None, ""))
    (('current', '18 A'), ('bundle', 'unknown'))
    """
    return tuple((label.replace("_", " "), _with_unit(*pair)) for label, pair in quantities.items())


def plain(number, figures=4):
    """A number for a sentence: rounded, without trailing zeros or an exponent.

    >>> plain(0.7182), plain(1000.0), plain(16.0), plain(1e-7)
    ('0.7182', '1000', '16', '0.0000001')
    """
    if not isfinite(number):
        return str(number)
    rounded = float(f"{number:.{figures}g}")
    text = f"{rounded:.12f}".rstrip("0").rstrip(".")
    return "0" if text in ("", "-0") else text


def _with_unit(value, unit=""):
    if value is None:
        return "unknown"
    text = plain(value, 6) if isinstance(value, (int, float)) else str(value)
    return f"{text} {unit}".strip()


def rounded_beside(value, limit):
    """A value to three figures or as many as keep it on its side of the limit."""
    for figures in range(3, 12):
        text = plain(value, figures)
        if not isinstance(limit, (int, float)):
            return text
        rounded = float(text)
        if (rounded < limit) == (value < limit) and (rounded > limit) == (value > limit):
            return text
    return repr(value)
