"""What the controller offers to the hold points: whether it runs the recorded settings.

Asked where a fit from a capture sets the drive. A drive that was set by hand is told as unknown and not held by it:
its controller may run a program of the lab's own.
"""

from django.urls import reverse

from builds.drive.controller import controller_of
from builds.drive.controller_rules import WORDS, last_told, runs
from builds.engineering.finding import COMMON_PRACTICE, Finding, unknown
from builds.record.holds import Hold
from builds.record.registry import Condition, Evidence

TEXT = "The controller runs the recorded settings"
NAME = "settings of the controller"
FORMULA = "the eight signs that the controller tells at its start are those of the record"
HEADING = "Controller"


def controller_now(build, found):
    """What the configuration of now makes the controller run; None without a stick or a configuration."""
    if found.configuration is None or not build.has_stick:
        return None
    return controller_of(found.configuration, found.fit)


def controller_evidence(build, controller):
    told = last_told(build)
    if told and controller:
        agrees = {True: "as recorded", False: "not as recorded", None: "not known to be so now"}
        words = f"{told.told}, {agrees[runs(build, controller)]}"
        yield Evidence("controller", "controller", TEXT, {"told": words})


def controller_condition(build, found, controller):
    if found.fit is None or controller is None:
        return
    answer = runs(build, controller)
    yield Condition(
        Hold.FIRST_RIDE, TEXT, answer, why_not(build, answer, controller), reverse("controller", args=[build.number])
    )


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


def controller_finding(build, controller):
    """For the ticket: (heading, finding)."""
    if controller is None:
        return
    answer = runs(build, controller)
    told = last_told(build)
    if answer is None:
        missing = why_not(build, answer, controller).rstrip(".")
        yield HEADING, unknown(NAME, missing, limit=controller.digest or None, formula=FORMULA, source=COMMON_PRACTICE)
    else:
        verdict = WORDS[answer][0]
        yield HEADING, Finding(NAME, told.told, "", controller.digest, verdict, FORMULA, COMMON_PRACTICE)


def controller_workers(build):
    return {one for row in build.told_digests.all() for one in (row.made_by_id, row.struck_by_id)} - {None}


def controller_state(build, controller):
    """(state, words) for the ticket's line of work; nothing while nothing is known of it."""
    return WORDS[runs(build, controller)] if build.told_digests.all() else ("", "")
