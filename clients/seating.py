"""The supports that a sitting level suggests, in the words of the forms and pages."""

from builds.engineering import finding, seating
from clients.models import SittingProfile

Support = SittingProfile.Support
UNKNOWN = ("unknown", "Unknown")
SHORT = {"head": "head rest", "trunk": "trunk supports", "pelvis": "pelvic support", "belt": "lap belt"}


def suggestion(level):
    """Codes of the supports this level suggests, or None while the level is unknown."""
    supports = seating.suggested_supports(level).supports
    return None if supports is None else list(supports)


def words(codes):
    """Supports in words; None is unknown, nothing is none."""
    if codes is None:
        return "unknown"
    return ", ".join(Support(code).label if code in Support.values else code for code in codes) or "none"


def level_choices():
    """The levels, each with what it suggests; unknown is a choice of its own."""
    levels = range(seating.LOWEST_LEVEL, seating.HIGHEST_LEVEL + 1)
    return [(level, f"Level {level}: {_suggests(level)}") for level in levels] + [UNKNOWN]


def _suggests(level):
    suggested = seating.suggested_supports(level)
    told = ", ".join(SHORT[code] for code in suggested.supports)
    return f"suggests {told}{'. A clinician decides' if suggested.clinician_decides else ''}"


def lone_chest_strap(codes):
    """A chest harness without support of the pelvis."""
    return seating.chest_strap(_of_the_scale(codes)).verdict == finding.STOP


def difference(level, codes):
    """How a decision differs from the suggestion, in words; nothing when it does not."""
    suggested = suggestion(level)
    if suggested is None:
        return "the sitting level is unknown, so nothing is suggested"
    lacking = seating.supports_against_level(level, _of_the_scale(codes)).verdict == finding.STOP
    beyond = [code for code in _of_the_scale(codes) if code not in suggested]
    if not lacking and not beyond:
        return ""
    return f"level {level} suggests {words(suggested)}"


def _of_the_scale(codes):
    return [code for code in codes if code in seating.SUPPORTS]
