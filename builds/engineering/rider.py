"""How heavy the rider may be: what the rated load of a unit leaves when everything added is taken off."""

from builds.engineering import guards
from builds.engineering.finding import EngineeringError, plain
from builds.engineering.load import HEAVIEST_KG, listed

LEAST_LEFT_KG = 0.5  # what is less than that is nothing: a limit is printed rounded down, also to whole pounds


def greatest_rider(*, added, rated_kg):
    """The greatest mass of a rider on a unit with these masses added.

    Rated load less the sum of what was added; what was taken off gives nothing back, since it is not in the rating.
    Parameters: added: `Mass` each, none to 200 [kg]; rated load, above 0 to 1000 [kg], or None. Returns the mass [kg],
    None where a mass or the rating is not known. The load stands still: bumps and kerbs are not in it. Raises
    EngineeringError, also where less than 0.5 kg is left for a rider. Source: the rating of the base unit.

    >>> from builds.engineering.load import Mass
    >>> round(greatest_rider(added=[Mass("seat", 2.1), Mass("mount", 1.4)], rated_kg=25), 3)
    21.5
    """
    rated = guards.number("Rated load", rated_kg, "kg", above=0, maximum=HEAVIEST_KG)
    counted = [mass for mass in added if not mass.removed]
    if counted:
        listed(counted)
    if rated is None or any(mass.mass_kg is None for mass in counted):
        return None
    left = rated - sum(mass.mass_kg for mass in counted)
    if left < LEAST_LEFT_KG:
        raise EngineeringError(
            f"What was added must weigh at least {LEAST_LEFT_KG} kg less than the rated load, {plain(rated)} kg."
        )
    return left
