"""What the unit carries against what it is rated for."""

from dataclasses import dataclass
from math import floor

from builds.engineering import guards, margins
from builds.engineering.finding import STOP, EngineeringError, Finding, plain, shown_inputs, unknown

SOURCE = "rating of the base unit"
HEAVIEST_KG = 1000.0
MOST_MASSES = 200
ROUNDING = 1e-9
MOST_DECIMALS = 1  # a tenth of a kilogram, as scales for people read


@dataclass(frozen=True)
class Mass:
    """A mass [kg] and its place: x forward of the rear axle, y to the occupant's left, z up from the ground [m].

    What was taken off (`removed`) counts against.
    """

    name: str
    mass_kg: float | None
    place_m: tuple | None = None
    removed: bool = False

    def __post_init__(self):
        checked = guards.number(f"Mass of {self.name}", self.mass_kg, "kg", minimum=0, maximum=HEAVIEST_KG)
        object.__setattr__(self, "mass_kg", checked)
        object.__setattr__(self, "place_m", guards.point(f"Place of {self.name}", self.place_m))

    @property
    def counted_kg(self):
        return -self.mass_kg if self.removed else self.mass_kg


@dataclass(frozen=True)
class Load:
    total_kg: float | None
    margin_kg: float | None
    fraction: float | None
    findings: tuple


def load(*, masses, rated_kg):
    """The total of all masses against the rated load.

    Parameters: masses: 1 to 200 of `Mass` [kg]; rated load, above 0 to 1000 [kg], or None. Returns total [kg], margin
    [kg], share of the rating [-], findings: `stop` above the rating, `check` within 5 % of it. A mass that is not
    known makes the total unknown, unless the others alone are too heavy. The load stands still: bumps and kerbs are
    not in it. Raises EngineeringError. Source: the rating of the base unit.

    >>> carried = load(masses=[Mass("rider", 16), Mass("seat", 2.1)], rated_kg=25)
    >>> round(carried.total_kg, 1), round(carried.margin_kg, 1), carried.findings[0].verdict
    (18.1, 6.9, 'fits')
    """
    masses = listed(masses)
    rated = guards.number("Rated load", rated_kg, "kg", above=0, maximum=HEAVIEST_KG)
    known = [mass for mass in masses if mass.mass_kg is not None]
    unknown_names = [f"mass of {mass.name}" for mass in masses if mass.mass_kg is None]
    least = sum(mass.mass_kg for mass in known)
    total = None if unknown_names else positive_total(masses)
    margin = None if None in (total, rated) else rated - total
    fraction = None if None in (total, rated) else total / rated
    found = _finding(masses, total, least, rated, unknown_names)
    return Load(total, margin, fraction, (found, *_left(margin, masses, found)))


def listed(masses):
    """The masses as a tuple; none, too many, and two of one name are refused."""
    masses = tuple(masses)
    if not 1 <= len(masses) <= MOST_MASSES:
        raise EngineeringError(f"Masses must be from 1 to {MOST_MASSES}, not {len(masses)}.")
    names = [mass.name for mass in masses]
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise EngineeringError(f"Masses must have different names; {', '.join(twice)} is there more than once.")
    return masses


def positive_total(masses):
    """Sum [kg] of the counted masses; nothing at all cannot be.

    Parameters: masses: `Mass` each [kg]. Returns [kg], above 0 to 200,000. Raises EngineeringError. Source: definition.

    >>> positive_total([Mass("unit", 16), Mass("old seat", 2, removed=True)])
    14.0
    """
    total = sum(mass.counted_kg for mass in masses)
    return guards.number("Total mass", total, "kg", above=0, maximum=HEAVIEST_KG * MOST_MASSES)


def _finding(masses, total, least, rated, unknown_names):
    name, formula = "load", "sum of all masses, what was taken off counted against, no more than the rated load"
    formula = margins.LOAD.beside(formula)
    inputs = shown_inputs(**{mass.name: (mass.mass_kg, "kg off" if mass.removed else "kg") for mass in masses})
    surely_too_heavy = rated is not None and least > rated and not any(mass.removed for mass in masses)
    missing = unknown_names + ([] if rated is not None else ["rated load"])
    if surely_too_heavy:
        return Finding(name, least, "kg", rated, STOP, formula, SOURCE, inputs)
    if missing:
        return unknown(name, missing, unit="kg", limit=rated, formula=formula, source=SOURCE, inputs=inputs)
    verdict = margins.judged(total, rated, margins.LOAD)
    return Finding(name, total, "kg", rated, verdict, formula, SOURCE, inputs)


def justified_margin(margin_kg, masses):
    """What may still be added [kg], rounded down to the decimals of the coarsest mass, and to a tenth at most.

    Parameters: margin [kg]; masses: those that were added up [kg]; those below 1 kg say nothing about the coarsest.
    Returns [kg]. Source: a sum is no finer than its coarsest part; rounded down, so that it never flatters.

    >>> justified_margin(11.17, [Mass("rider", 16.4), Mass("seat", 2.13)]), justified_margin(-0.2, [Mass("rider", 16)])
    (11.1, -1.0)
    """
    heavy = [mass.mass_kg for mass in masses if mass.mass_kg >= 1]
    scale = 10 ** min((_decimals(mass) for mass in heavy), default=MOST_DECIMALS)
    return floor(margin_kg * scale + ROUNDING) / scale


def _decimals(mass_kg):
    return min(len(plain(mass_kg, 9).partition(".")[2]), MOST_DECIMALS)


def _left(margin, masses, judged):
    """The room that is left, said only when it is known."""
    if margin is None:
        return ()
    formula = "rated load less the sum of all masses, rounded down to what the coarsest of them justifies"
    left = justified_margin(margin, masses)
    return (Finding("left up to the rated load", left, "kg", None, judged.verdict, formula, SOURCE, judged.inputs),)
