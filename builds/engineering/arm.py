"""The arm that carries the control: how many pieces, and whether its clamp holds."""

from dataclasses import dataclass
from math import ceil

from builds.engineering import guards, limits
from builds.engineering.finding import CHECK, FITS, STOP, UNKNOWN, Finding, shown_inputs, unknown

GRAVITY_M_S2 = 9.81
ROUNDING = 1e-9


@dataclass(frozen=True)
class Arm:
    pieces: int | None
    moment_nm: float | None
    margin: float | None
    findings: tuple


def arm(
    *, path_length_m, pitch_m, piece_mass_kg, control_mass_kg, hand_force_n, horizontal_m, holding_moment_nm,
    least_margin=None,
):  # fmt: skip
    """Pieces of a jointed arm, the moment at its foot, and how many times over the foot holds it.

    pieces = path length over pitch, rounded up; moment = horizontal x (g x (control + pieces x piece / 2) + hand
    force); margin = holding moment over moment.
    Parameters: path length, above 0 to 5, pitch of a piece, 0.001 to 1, horizontal distance from foot to control, 0
    to 5 [m]; mass of a piece, 0 to 10, and of the control, 0 to 50 [kg]; force of the hand, downward, 0 to 2000 [N];
    holding moment of the foot, 0 to 10,000 [N·m]; least_margin: what the lab asks for, 2 to 20 [-]; each may be None.
    Returns pieces [-], moment [N·m], margin [-], findings: `stop` below 1, `check` below 2 or what the lab asks for,
    and beside it, where they are known, the moment and the pieces.
    The pieces are taken as spread evenly over the horizontal distance. A child leaning on the arm is not in it unless
    in the hand force. Raises EngineeringError. Source: statics; margin: common practice.

    >>> held = arm(path_length_m=0.5, pitch_m=0.04, piece_mass_kg=0.02, control_mass_kg=0.2, hand_force_n=10,
    ...            horizontal_m=0.4, holding_moment_nm=12)
    >>> held.pieces, round(held.moment_nm, 3), round(held.margin, 2), held.findings[0].verdict
    (13, 5.295, 2.27, 'fits')
    """
    path = guards.number("Path length", path_length_m, "m", above=0, maximum=5)
    pitch = guards.number("Pitch", pitch_m, "m", minimum=0.001, maximum=1)
    piece = guards.number("Mass of a piece", piece_mass_kg, "kg", minimum=0, maximum=10)
    control = guards.number("Mass of the control", control_mass_kg, "kg", minimum=0, maximum=50)
    force = guards.number("Hand force", hand_force_n, "N", minimum=0, maximum=2000)
    horizontal = guards.number("Horizontal distance", horizontal_m, "m", minimum=0, maximum=5)
    holding = guards.number("Holding moment", holding_moment_nm, "N\u00b7m", minimum=0, maximum=10_000)
    pieces = None if None in (path, pitch) else ceil(path / pitch - ROUNDING)
    moment = None
    if None not in (pieces, piece, control, force, horizontal):
        moment = horizontal * (GRAVITY_M_S2 * (control + pieces * piece / 2) + force)
    margin = holding / moment if moment and holding is not None else None
    facts = {
        "path length": (path, "m"), "pitch": (pitch, "m"), "mass of a piece": (piece, "kg"),
        "mass of the control": (control, "kg"), "hand force": (force, "N"),
        "horizontal distance": (horizontal, "m"), "holding moment": (holding, "N\u00b7m"),
    }
    held = _finding(margin, moment, facts, least_margin)
    return Arm(pieces, moment, margin, (held, *_parts(pieces, moment, holding, held)))


def _finding(margin, moment, facts, least_margin):
    least = limits.tightened(limits.ARM_MARGIN, least_margin)
    source = limits.source_of(limits.ARM_MARGIN, least_margin)
    name = "margin of the arm's foot"
    formula = "holding moment over horizontal distance times the weight of control and half the pieces plus hand force"
    inputs = shown_inputs(**facts)
    missing = [label for label, (fact, _) in facts.items() if fact is None]
    missing += [] if missing or moment else ["a weight, a force or a distance above 0"]
    if missing:
        return unknown(name, missing, limit=least, formula=formula, source=source, inputs=inputs)
    verdict = STOP if margin < 1 else CHECK if margin < least else FITS
    return Finding(name, margin, "", least, verdict, formula, source, inputs)


def _parts(pieces, moment, holding, held):
    """What the margin is made of, once it is known."""
    found = []
    if held.verdict != UNKNOWN:
        formula = "horizontal distance times the weight of control and half the pieces plus hand force"
        limit_is = "; the limit is what the foot holds"
        found.append(
            Finding("moment at the arm's foot", moment, "N\u00b7m", holding, held.verdict, formula + limit_is,
                    held.source, held.inputs)
        )  # fmt: skip
    if pieces is not None:
        formula = "path length over pitch, rounded up; a count, with nothing to judge"
        found.append(Finding("pieces of the arm", pieces, "", None, FITS, formula, "definition", held.inputs))
    return found
