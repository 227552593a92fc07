"""Steps on paper: the bench checklist and the commissioning sheet. What is recorded already is filled in."""

from dataclasses import dataclass, field

from builds.bench.gates import BEFORE
from builds.bench.models import BuildStep, Section
from builds.bench.progress import AGAIN, DOES_NOT_APPLY, FAILED, OPEN, OUTSIDE, PASSED, Bench
from builds.bench.readings import with_unit
from builds.bench.rules import limits_of
from builds.drive.models import Calibration
from builds.record.models import Configuration
from builds.record.voiding import standing_release
from labsite.figures import day

WORDS = {
    OPEN: "",
    PASSED: "Passed",
    DOES_NOT_APPLY: "Does not apply",
    FAILED: "Failed",
    AGAIN: "Again on this side",
    OUTSIDE: "No longer passes",
}


@dataclass(frozen=True)
class Line:
    """One step as it is printed."""

    step: BuildStep
    word: str
    is_done: bool
    reading: str
    limits: str
    initials: str
    on: str
    marks: str
    instrument: str = ""


@dataclass
class Part:
    """One section: the hold point before it, and its lines."""

    title: str
    hold: str
    lines: list = field(default_factory=list)
    done: int = 0


def page(facts, sections):
    bench = Bench(facts.build)
    decisions = list(facts.build.hold_decisions.select_related("made_by"))
    return {
        "parts": [part(facts, bench, decisions, Section(one)) for one in sections],
        "swaps": facts.configuration is not None and facts.configuration.arm == Configuration.Reversible.SWAPS,
        "calibration": newest_calibration(facts.build),
    }


def part(facts, bench, decisions, section):
    states = bench.of(section)
    return Part(
        title=section.label,
        hold=hold_line(facts, decisions, section),
        lines=[line(state) for state in states],
        done=sum(state.is_done for state in states),
    )


def hold_line(facts, decisions, section):
    """The hold point that opens this section, and whether its release stands."""
    before = [hold for hold in BEFORE[section] if hold in facts.build.holds()]
    if not before:
        return ""
    hold = before[-1]
    decision = standing_release(decisions, hold, facts.today)
    if decision is None:
        return f"Hold point {hold.label}: not released. Stop here, save for steps with the battery out."
    return f"Hold point {hold.label}: released {day(decision.made_at)} by {decision.made_by}."


def line(state):
    step, result = state.step, state.result
    counts = result is not None and state.code != AGAIN
    return Line(
        step=step,
        word=WORDS[state.code],
        is_done=state.is_done,
        reading=(with_unit(result.reading, step.reading_unit) or "") if counts else "",
        limits=limits_of(step) or "",
        initials=initials(result.made_by) if counts else "",
        on=day(result.made_at) if counts else "",
        marks=marks_of(step),
        instrument=result.instrument if counts else "",
    )


def initials(account):
    """First letters of a name: Ben Okoye is BO."""
    return "".join(word[0] for word in account.full_name.split())[:4].upper()


def marks_of(step):
    words = {
        "battery_out": "battery out", "needs_photo": "photo", "repeats_per_side": "again on the other side",
        "deviation_reason": "changed from the plan",
    }  # fmt: skip
    return ", ".join(word for name, word in words.items() if getattr(step, name))


def newest_calibration(build):
    """The last calibration as left, that the commissioning is done with; None where there is none."""
    left = [one for one in build.calibrations.all() if not one.is_struck and one.when == Calibration.When.AS_LEFT]
    return max(left, key=lambda one: one.pk, default=None)
