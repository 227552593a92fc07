"""Whether a unit may be switched on or driven now: asked before whatever is recorded of a unit under power."""

from builds.record.holds import Hold
from builds.record.voiding import standing_release

BEFORE_POWER = (Hold.SOUND_UNIT, Hold.FIRST_POWER)


def first_unreleased(build, holds, decisions):
    """The first of these hold points that is not released; None when all are that the plan of this build has."""
    return next((one for one in holds if one in build.holds() and not standing_release(decisions, one)), None)


def why_not_powered(build):
    """Why the unit may not be switched on now, in words; empty when it may. A plan asks for the hold points it has."""
    hold = first_unreleased(build, BEFORE_POWER, list(build.hold_decisions.all()))
    if hold:
        return f"The hold point {hold.label} is not released."
    if build.unit.is_marked_do_not_use:
        return f"Unit {build.unit.number} is marked do not use."
    return ""


def why_not_driven(build):
    """Why it may not go over the floor now. With its wheels up it may, since that finds and proves what was wrong."""
    why = why_not_powered(build)
    if not why and build.has_open_nonconformance:
        return "A nonconformance is open. Decide what is done with it before the unit is driven."
    return why
