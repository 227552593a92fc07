"""The CDC 2000 table of weight for age, 2 to 20 years: L, M, S between its half-month rows.

z = ((X / M)^L - 1) / (L x S) and its inverse X = M x (1 + L x S x z)^(1 / L); where L is 0, ln(X / M) / S and
M x exp(S x z). No row of this table has an L of 0 or above.
"""

import csv
from bisect import bisect_left
from functools import cache
from math import exp, inf, log
from pathlib import Path
from typing import NamedTuple

# CDC/NCHS, 2000 growth charts, data file wtage.csv (work of the US government).
SOURCE = "CDC 2000 growth charts, weight for age 2 to 20 years, file wtage.csv"
FILE = Path(__file__).with_name("data") / "cdc_2000_weight_for_age.csv"
SHA_256 = "3406c9d125bcb69c062a9e84eb8c0209bfe9346542bdc1d308643750dcc241b7"
SEX_CODES = {"1": "male", "2": "female"}
YOUNGEST_MONTHS = 24.0
OLDEST_MONTHS = 240.0


class Lms(NamedTuple):
    """Power, median [kg] and coefficient of variation at one age."""

    power: float
    median_kg: float
    variation: float

    def z_of(self, weight_kg):
        """Distance from the median in standard deviations [-] of a weight above 0 [kg]. Source: CDC.

        >>> round(Lms(-1.000453886, 18.48592413, 0.129879257).z_of(16.0), 5)
        -1.19631
        """
        ratio = weight_kg / self.median_kg
        if self.power == 0:
            return log(ratio) / self.variation
        return (ratio**self.power - 1) / (self.power * self.variation)

    def weight_at(self, z):
        """Weight [kg] at this z [-]; endless where a curve this far out has no weight left to name. Source: CDC.

        >>> round(Lms(-1.000453886, 18.48592413, 0.129879257).weight_at(1), 5)
        21.24534
        """
        if self.power == 0:
            return self.median_kg * exp(self.variation * z)
        base = 1 + self.power * self.variation * z
        if base <= 0:
            return inf if self.power < 0 else 0.0
        return self.median_kg * base ** (1 / self.power)


@cache
def rows(sex):
    """The rows of one sex as (age [months], Lms), youngest first."""
    with FILE.open(newline="") as lines:
        return tuple(
            (float(row["Agemos"]), Lms(float(row["L"]), float(row["M"]), float(row["S"])))
            for row in csv.DictReader(lines)
            if SEX_CODES[row["Sex"]] == sex
        )


def lms_at(sex, age_months):
    """L, M and S of this sex at this age, in a straight line between the rows around it.

    Parameters: sex: male or female [-]; age, 24 to 240 [months]. Returns Lms [-, kg, -], or None outside the
    table. Source: CDC 2000 growth charts; the straight line between rows is the CDC's own advice (from memory).

    >>> lms_at("male", 60.5).median_kg, lms_at("male", 23.9)
    (18.48592413, None)
    """
    if not YOUNGEST_MONTHS <= age_months <= OLDEST_MONTHS:
        return None
    table = rows(sex)
    above = bisect_left(table, age_months, key=lambda row: row[0])
    age, found = table[above]
    if age == age_months:
        return found
    below_age, below = table[above - 1]
    share = (age_months - below_age) / (age - below_age)
    return Lms(*(low + share * (high - low) for low, high in zip(below, found, strict=True)))
