"""A small picture of values over time: where each day and each value stands. Plain geometry, no drawing."""

from dataclasses import dataclass
from datetime import date

WIDTH, HEIGHT = 360, 230
LEFT, RIGHT, TOP, BOTTOM = 38, 352, 24, 200
MOST_LABELS = 6
STEPS = (1, 2, 5, 10, 20, 50, 100)
DAYS_A_YEAR = 365.25


@dataclass(frozen=True)
class Chart:
    """From the first to the last day across, from the low to the high value upwards."""

    first: date
    last: date
    low: float
    high: float

    width, height, left, right, top, bottom = WIDTH, HEIGHT, LEFT, RIGHT, TOP, BOTTOM

    def x(self, day):
        share = (day - self.first).days / max((self.last - self.first).days, 1)
        return round(LEFT + share * (RIGHT - LEFT), 1)

    def y(self, value):
        share = (value - self.low) / (self.high - self.low)
        return round(BOTTOM - share * (BOTTOM - TOP), 1)

    def point(self, day, value):
        return self.x(day), self.y(value)

    def line(self, pairs):
        """(day, value) pairs as the points of an SVG polyline."""
        return " ".join("{},{}".format(*self.point(day, value)) for day, value in pairs)

    def years(self):
        """(x, year) of the turns of the year inside the picture, thinned where they would touch."""
        turns = [date(year, 1, 1) for year in range(self.first.year + 1, self.last.year + 1)]
        step = step_for(len(turns), MOST_LABELS)
        return [(self.x(turn), str(turn.year)) for turn in turns if (turn.year - self.last.year) % step == 0]

    def values(self):
        """(y, value) of round values inside the picture."""
        step = step_for(self.high - self.low, MOST_LABELS)
        first = -int(-self.low // step) * step
        return [(self.y(value), f"{value:g}") for value in range(int(first), int(self.high) + 1, step)]


def step_for(span, most):
    """The smallest round step that cuts the span into no more than so many pieces."""
    return next((step for step in STEPS if span / step <= most), STEPS[-1])
