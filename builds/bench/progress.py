"""How the steps of a build stand: which result counts, what is done, what is open, and what comes next."""

from dataclasses import dataclass
from functools import cached_property

from django.db.models import Prefetch

from builds.bench import gates
from builds.bench.models import BuildStep, Section, StepResult
from builds.bench.readings import passes

RESULTS = Prefetch(
    "results",
    StepResult.objects.select_related("made_by", "struck_by", "configuration", "photo__struck_by").order_by("pk"),
)
STEPS = BuildStep.objects.select_related("deviation_by", "struck_by").prefetch_related(RESULTS)
TICKET_PREFETCH = [Prefetch("steps", STEPS)]

# A state: the code of its word and shape on the page, and whether the step is done.
OPEN, PASSED, DOES_NOT_APPLY, FAILED, AGAIN, OUTSIDE = "open", "passed", "does_not_apply", "failed", "again", "outside"
DONE = (PASSED, DOES_NOT_APPLY)


@dataclass(frozen=True)
class StepState:
    step: BuildStep
    code: str
    result: StepResult | None = None

    @property
    def is_done(self):
        return self.code in DONE


def newest_result(step):
    """The newest result that is not struck, from rows already fetched."""
    return max((one for one in step.results.all() if not one.is_struck), key=lambda one: one.pk, default=None)


def side_kept_since(configurations, configuration):
    """The first configuration of those, unbroken up to this one, that have the control on the same side."""
    if configuration is None:
        return 0
    first = configuration.number
    for one in sorted(configurations, key=lambda each: each.number, reverse=True):
        if one.number > configuration.number:
            continue
        if one.side != configuration.side:
            break
        first = one.number
    return first


def counting_result(step, configuration, since=None):
    """The result that counts. Where the step repeats per side, only one taken since the control came to this side."""
    return _counting(newest_result(step), step, configuration, since)


def _counting(newest, step, configuration, since):
    if newest is None or not step.repeats_per_side:
        return newest
    since = side_kept_since(step.build.configurations.all(), configuration) if since is None else since
    recorded_in = newest.configuration.number if newest.configuration else 0
    return newest if recorded_in >= since else None


def state_of(step, configuration, since=None):
    """How one step stands now. Limits that were changed later are held against the reading that was taken."""
    newest = newest_result(step)
    result = _counting(newest, step, configuration, since)
    if result is None:
        return StepState(step, AGAIN if newest else OPEN, newest)
    if result.outcome == StepResult.Outcome.FAILED:
        return StepState(step, FAILED, result)
    if result.outcome == StepResult.Outcome.DOES_NOT_APPLY:
        return StepState(step, DOES_NOT_APPLY, result)
    return StepState(step, PASSED if still_passes(step, result) else OUTSIDE, result)


def still_passes(step, result):
    if step.needs_photo and result.photo is None:
        return False
    if not step.reading_label:
        return True
    if result.reading is None:
        return False
    return passes(result.reading, step.limit_low, step.limit_high, step.reading_unit)


@dataclass(frozen=True)
class Count:
    section: Section
    done: int
    total: int
    failed: int

    @property
    def is_done(self):
        return self.done == self.total


class Bench:
    """The steps of one build as they stand now, read once."""

    def __init__(self, build):
        self.build = build
        self.configurations = list(build.configurations.all())
        self.configuration = max(self.configurations, key=lambda one: one.number, default=None)

    @cached_property
    def all_steps(self):
        """Every step, struck ones too, in the order of the path."""
        fetched = "steps" in getattr(self.build, "_prefetched_objects_cache", {})
        rows = self.build.steps.all() if fetched else STEPS.filter(build=self.build)
        places = list(Section)
        for step in rows:
            step.build = self.build
        return sorted(rows, key=lambda one: (places.index(one.section), one.order, one.pk))

    @cached_property
    def states(self):
        """The standing steps with how each stands."""
        since = side_kept_since(self.configurations, self.configuration)
        return [state_of(one, self.configuration, since) for one in self.all_steps if not one.is_struck]

    @cached_property
    def decisions(self):
        return list(self.build.hold_decisions.all())

    def of(self, *sections):
        return [one for one in self.states if one.step.section in sections]

    def testing(self, code):
        """The states of steps that test this, for example the battery."""
        return [one for one in self.states if one.step.tests == code]

    def count(self, section):
        states = self.of(section)
        return Count(
            Section(section), sum(one.is_done for one in states), len(states), sum(one.code == FAILED for one in states)
        )

    def counts(self):
        return [self.count(section) for section in Section]

    def blocked(self, step):
        """Why this step may not be recorded now, or None."""
        return gates.blocked_by(self, step)

    def next_step(self, *sections):
        """The first step that is not done, and why it is blocked or None; (None, None) when all are done."""
        for state in self.of(*(sections or Section)):
            if not state.is_done:
                return state.step, self.blocked(state.step)
        return None, None


def next_step(build):
    """The next step of the build and why it is blocked, or None."""
    return Bench(build).next_step()
