"""When a step may be recorded: the hold points before its section, the stage, and the order of commissioning."""

from dataclasses import dataclass

from django.urls import reverse

from builds.bench.models import Section, StepResult
from builds.record.holds import Hold, Stage, reached
from builds.record.powering import BEFORE_POWER, first_unreleased

# The hold points before a section, as far as the plan has them.
BEFORE = {
    Section.INCOMING_TEST: (),
    Section.TEARDOWN: (Hold.SOUND_UNIT,),
    Section.ADAPTATION: (Hold.SOUND_UNIT,),
    Section.COMMISSIONING: BEFORE_POWER,
    Section.FITTING: (*BEFORE_POWER, Hold.FIRST_RIDE),
}
BEFORE_WITH_BATTERY_OUT = (Hold.SOUND_UNIT,)
UNOPENED = (Stage.PLAN, Stage.INCOMING_TEST)


@dataclass(frozen=True)
class Blocked:
    """Why a step may not be recorded now, and the place that changes it."""

    why: str
    url: str = ""
    place: str = ""

    def __str__(self):
        return self.why


def holds_before(step, build):
    """The hold points of this build that must stand before this step."""
    holds = BEFORE[Section(step.section)]
    if step.battery_out:
        holds = tuple(one for one in holds if one in BEFORE_WITH_BATTERY_OUT)
    return [one for one in holds if one in build.holds()]


def blocked_by(bench, step):
    """The first thing that stops this step, or None."""
    return _stage(bench, step) or _holds(bench, step) or _order(bench, step) or _client_seated(bench, step)


def _ticket(build, anchor=""):
    return reverse("ticket", args=[build.number]) + anchor


def _stage(bench, step):
    build = bench.build
    stage = build.get_stage_display()
    if step.section == Section.INCOMING_TEST:
        if build.stage in UNOPENED:
            return None
        why = (
            f"The incoming test is of the unit before it is opened, and the build is at {stage}. "
            "Move it back to Incoming test, with the reason, to test again."
        )
        return Blocked(why, _ticket(build), "Ticket")
    return None


def _holds(bench, step):
    build = bench.build
    hold = first_unreleased(build, holds_before(step, build), bench.decisions)
    if hold:
        why = f"The hold point {hold.label} is not released."
        return Blocked(why, _ticket(build, "#hold-points"), f"Hold point {hold.label}")
    if step.section != Section.INCOMING_TEST and not reached(build.stage, Stage.TEARDOWN):
        why = f"The build is at {build.get_stage_display()}. Move it to Teardown first."
        return Blocked(why, _ticket(build), "Ticket")
    return None


def _order(bench, step):
    """Commissioning goes strictly in order; elsewhere the page leads and the builder may choose."""
    if step.section != Section.COMMISSIONING:
        return None
    for state in bench.of(Section.COMMISSIONING):
        if state.step.pk == step.pk:
            return None
        if not state.is_done:
            why = f"Commissioning goes in order. First comes {state.step}."
            return Blocked(why, section_url(bench.build, step.section, state.step), f"Step {state.step.code}")
    return None


def _client_seated(bench, step):
    """With the client in it, a unit that is marked or has a check that failed is not tried further."""
    build = bench.build
    if step.section != Section.FITTING or step.battery_out:
        return None
    if build.unit.is_marked_do_not_use:
        return Blocked(f"Unit {build.unit.number} is marked do not use.", _ticket(build), "Ticket")
    if any(one.is_open for one in build.nonconformances.all()):
        why = "A nonconformance is open. Decide what is done with it before the client sits in the unit."
        return Blocked(why, _ticket(build, "#nonconformances"), "Nonconformances")
    return None


def section_url(build, section, step=None):
    address = reverse("bench_section", args=[build.number, section])
    return f"{address}#step-{step.pk}" if step else address


def was_opened(bench):
    """Whether somebody has already worked inside the unit."""
    return any(
        result.outcome == StepResult.Outcome.PASSED and not result.is_struck
        for state in bench.of(Section.TEARDOWN, Section.ADAPTATION)
        for result in state.step.results.all()
    )
