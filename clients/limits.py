"""Sizes that a person can have. Common practice, no source: wide enough for anybody the lab fits, tight enough
to catch a wrong unit or a slipped point."""

from clients.models import Measure

Kind = Measure.Kind

# (smallest, largest) in kg or m
LIMITS = {
    Kind.MASS: (2.0, 150.0),
    Kind.STATURE: (0.4, 2.2),
    Kind.SEAT_WIDTH: (0.08, 1.0),
    Kind.SEAT_DEPTH: (0.08, 1.0),
    Kind.ELBOW_HEIGHT: (0.03, 0.6),
    Kind.LOWER_LEG: (0.05, 0.8),
    Kind.REACH: (0.02, 1.2),
}

# A change this large within this many days is more often a slip than growth (common practice).
LEAP, LEAP_DAYS = 0.25, 120


def leap(before, after):
    """Whether a new measure lies so far from the last of its kind that somebody should look at it again."""
    if before is None or abs((after.taken_on - before.taken_on).days) > LEAP_DAYS:
        return False
    return abs(after.value_si - before.value_si) > LEAP * before.value_si
