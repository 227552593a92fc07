"""How close to a limit a finding asks for a look: within the stated margin `check`, past the limit `stop`.

Only a limit whose passing stops has a margin. Where passing it asks for a look already (drop, charger current, walking
pace), and where both numbers are nominal (a blade fuse against its table current), there is none: inside it fits.
"""

from dataclasses import dataclass

from builds.engineering.finding import CHECK, COMMON_PRACTICE, FITS, STOP, plain

ROUNDING = 1e-9


@dataclass(frozen=True)
class Margin:
    """A share of the limit, or a fixed amount in `unit` where `share` is None; `why` is what makes it uncertain."""

    share: float | None
    amount: float
    unit: str
    why: str
    source: str = COMMON_PRACTICE

    def of(self, limit):
        return abs(limit) * self.share if self.share is not None else self.amount

    @property
    def words(self):
        size = f"{plain(self.share * 100)} %" if self.share is not None else f"{plain(self.amount)} {self.unit}"
        return f"within {size} of the limit it asks for a look: {self.why} ({self.source})"

    def beside(self, formula):
        """The words of a formula with what the margin is and why."""
        return f"{formula}; {self.words}"


LOAD = Margin(0.05, 0.0, "", "clothes and what a child carries are not weighed")
TIP = Margin(None, 2.0, "\u00b0", "places are measured by hand")
AMPACITY = Margin(0.05, 0.0, "", "a clamp meter is no better")
CONTACT = Margin(0.05, 0.0, "", "a stall current varies with the charge of the battery")
CLEARED_SPEED = Margin(0.05, 0.0, "", "runs are timed by hand")
MARGINS = (LOAD, TIP, AMPACITY, CONTACT, CLEARED_SPEED)


def judged(value, limit, margin, at_least=False):
    """The verdict of a value against a limit that must not be passed.

    Parameters: value and limit in one unit [-]; margin: one of `MARGINS`, or None where there is none [-]; at_least:
    whether the value must be the limit or more, instead of the limit or less [-]. Returns a verdict [-]: `stop` past
    the limit, `check` on the limit and within the margin, else `fits`. A billionth past the limit is rounding.
    Source: each margin's own.

    >>> judged(18, 20, LOAD), judged(19.5, 20, LOAD), judged(20, 20, LOAD), judged(20.1, 20, LOAD)
    ('fits', 'check', 'check', 'stop')
    >>> judged(18, 15, TIP, at_least=True), judged(16, 15, TIP, at_least=True), judged(14.9, 15, TIP, at_least=True)
    ('fits', 'check', 'stop')
    >>> judged(20, 20, None)
    'fits'
    """
    room = value - limit if at_least else limit - value
    slack = abs(limit) * ROUNDING
    if room < -slack:
        return STOP
    return CHECK if margin is not None and room <= margin.of(limit) + slack else FITS
