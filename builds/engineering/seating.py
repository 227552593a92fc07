"""Which supports the seat needs, suggested from the level of sitting. A clinician decides; this only asks."""

from dataclasses import dataclass

from builds.engineering import guards
from builds.engineering.finding import CHECK, COMMON_PRACTICE, FITS, STOP, Finding, unknown

HEAD, TRUNK, PELVIS, BELT = "head", "trunk", "pelvis", "belt"
SUPPORTS = (HEAD, TRUNK, PELVIS, BELT)
LOWEST_LEVEL, HIGHEST_LEVEL = 1, 8
CANNOT_BE_PLACED = 1
# The level of sitting scale has eight levels; what each asks for is derived from its words, common practice.
LEVEL_SUPPORTS = {
    1: SUPPORTS,
    2: (HEAD, TRUNK, PELVIS),
    3: (TRUNK, PELVIS),
    4: (PELVIS,),
    5: (BELT,),
    6: (BELT,),
    7: (BELT,),
    8: (BELT,),
}
FORMULA = "supports by level of sitting: 2 head, trunk and pelvis; 3 trunk and pelvis; 4 pelvis; 5 and more a belt"


@dataclass(frozen=True)
class SuggestedSupports:
    supports: tuple | None
    clinician_decides: bool
    findings: tuple


def suggested_supports(level):
    """Supports suggested for a level of sitting.

    Parameters: level, 1 to 8, or None for unknown [-]. Returns codes of `SUPPORTS` (None when unknown), whether a
    clinician has to decide, findings. A suggestion, not a prescription. Raises EngineeringError. Common practice.

    >>> suggested_supports(3).supports, suggested_supports(1).clinician_decides, suggested_supports(None).supports
    (('trunk', 'pelvis'), True, None)
    """
    level = guards.whole("Level of sitting", level, "", minimum=LOWEST_LEVEL, maximum=HIGHEST_LEVEL)
    name = "suggested supports"
    if level is None:
        missing = unknown(name, "level of sitting", formula=FORMULA, source=COMMON_PRACTICE)
        return SuggestedSupports(None, True, (missing,))
    supports = LEVEL_SUPPORTS[level]
    decides = level == CANNOT_BE_PLACED
    formula = "cannot be placed to sit: all supports, and a clinician decides" if decides else FORMULA
    verdict = CHECK if decides else FITS
    inputs = (("level of sitting", str(level)),)
    found = Finding(name, ", ".join(supports), "", None, verdict, formula, COMMON_PRACTICE, inputs)
    return SuggestedSupports(supports, decides, (found,))


def supports_against_level(level, fitted):
    """Whether the supports that are fitted are those the level of sitting asks for.

    Parameters: level, 1 to 8, or None [-]; fitted: codes of `SUPPORTS`, or None for unknown [-]. Returns a
    Finding: `stop` where one lacks, `check` for level 1. A belt is enough only from level 5 on. Raises
    EngineeringError. Common practice.

    >>> supports_against_level(3, ["trunk"]).verdict, supports_against_level(5, ["belt"]).verdict
    ('stop', 'fits')
    """
    suggested = suggested_supports(level)
    fitted = known_supports(fitted)
    name, formula = "supports fitted", FORMULA
    missing = ["level of sitting"] if suggested.supports is None else []
    missing += ["supports fitted"] if fitted is None else []
    if missing:
        return unknown(name, missing, formula=formula, source=COMMON_PRACTICE)
    wanted = ", ".join(suggested.supports)
    told = ", ".join(fitted) or "none"
    lacking = set(suggested.supports) - set(fitted) - _covered(fitted)
    verdict = STOP if lacking else CHECK if suggested.clinician_decides else FITS
    return Finding(name, told, "", wanted, verdict, formula, COMMON_PRACTICE, (("level of sitting", str(level)),))


def chest_strap(fitted):
    """No chest strap without pelvic support: a sliding child would hang by it.

    Parameters: fitted: codes of `SUPPORTS`, or None for unknown [-]. Returns a Finding. Common practice.

    >>> chest_strap(["trunk"]).verdict, chest_strap(["trunk", "pelvis"]).verdict, chest_strap(None).verdict
    ('stop', 'fits', 'unknown')
    """
    fitted = known_supports(fitted)
    name, formula = "chest strap", "support of the trunk only together with support of the pelvis or a belt"
    if fitted is None:
        return unknown(name, "supports fitted", formula=formula, source=COMMON_PRACTICE)
    alone = TRUNK in fitted and not {PELVIS, BELT} & set(fitted)
    told = ", ".join(fitted) or "none"
    return Finding(name, told, "", None, STOP if alone else FITS, formula, COMMON_PRACTICE)


def known_supports(fitted):
    """Support codes in the order of `SUPPORTS`, or None; a code nobody knows is refused."""
    if fitted is None:
        return None
    for code in fitted:
        guards.choice("Support", code, SUPPORTS)
    return tuple(code for code in SUPPORTS if code in fitted)


def _covered(fitted):
    """Support of the pelvis does what a belt does."""
    return {BELT} if PELVIS in fitted else set()
