"""What the controller offers to the hold points: whether it runs the recorded settings.

Asked where a fit from a capture sets the drive. A drive that was set by hand is told as unknown and not held by it:
its controller may run a program of the lab's own.
"""

from django.urls import reverse

from builds.drive.controller import controller_of
from builds.drive.controller_rules import WORDS, last_told
from builds.engineering.finding import COMMON_PRACTICE, Finding, unknown
from builds.record.holds import Hold
from builds.record.registry import Condition, Evidence

TEXT = "The controller runs the recorded settings"
MEASURED_WITH = "Speeds and stops are measured with the settings that the controller runs"
STOPPED = {"floor": "on the floor", "slope": "down the slope"}
NAME = "settings of the controller"
FORMULA = "the eight signs that the controller tells at its start are those of the record"
HEADING = "Controller"


def controller_now(build, found):
    """What the configuration of now makes the controller run; None without a stick or a configuration."""
    if found.configuration is None or not build.has_stick:
        return None
    return controller_of(found.configuration, found.fit)


def controller_evidence(build, controller, answer):
    told = last_told(build)
    if told and controller:
        agrees = {True: "as recorded", False: "not as recorded", None: "not known to be so now"}
        words = f"{told.told}, {agrees[answer]}"
        yield Evidence("controller", "controller", TEXT, {"told": words})


def controller_condition(build, found, controller, answer, since):
    if found.fit is None or controller is None:
        return
    yield Condition(
        Hold.FIRST_RIDE, TEXT, answer, why_not(build, answer, controller), reverse("controller", args=[build.number])
    )
    if answer:
        yield Condition(
            Hold.FIRST_RIDE,
            MEASURED_WITH,
            *measured_since(found, since),
            reverse("timed_runs", args=[build.number]),
        )


def measured_since(found, since):
    """(met, why): whatever was measured before ran a program that nobody knows."""
    rows = [(f"timed runs at {one.position}", one.runs) for one in found.ceilings if one.runs]
    stops = (found.stops.floor, found.stops.slope)
    rows += [(f"stop {STOPPED[one.place]}", [one]) for one in stops if one is not None]
    before = [words for words, measured in rows if all(one.made_at < since for one in measured)]
    if before:
        return False, f"From before it was known to run these settings: {', '.join(before)}."
    return True if rows else None, "" if rows else "Nothing is measured yet."


def why_not(build, answer, controller):
    if answer:
        return ""
    if controller.problem:
        return controller.problem
    if controller.missing:
        return f"Unknown yet: {', '.join(controller.missing)}."
    if answer is False:
        return "What it told is not what the record says."
    if last_told(build):
        return "The settings were others meanwhile. Type back what it tells now."
    return "Nothing was typed back yet."


def controller_finding(build, controller, answer):
    """For the ticket: (heading, finding)."""
    if controller is None:
        return
    told = last_told(build)
    if answer is None:
        missing = why_not(build, answer, controller).rstrip(".")
        yield HEADING, unknown(NAME, missing, limit=controller.digest or None, formula=FORMULA, source=COMMON_PRACTICE)
    else:
        verdict = WORDS[answer][0]
        yield HEADING, Finding(NAME, told.told, "", controller.digest, verdict, FORMULA, COMMON_PRACTICE)


def controller_workers(build):
    return {one for row in build.told_digests.all() for one in (row.made_by_id, row.struck_by_id)} - {None}


def controller_state(build, answer):
    """(state, words) for the ticket's line of work; nothing while nothing is known of it."""
    return WORDS[answer] if build.told_digests.all() else ("", "")
