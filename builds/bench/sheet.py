"""What the page of one section shows, put together once."""

from dataclasses import dataclass, field

from builds.access import may_edit
from builds.bench.deviations import changed_from_plan
from builds.bench.forms import StepForm
from builds.bench.gates import Blocked
from builds.bench.models import BuildStep, Section
from builds.bench.progress import AGAIN, DOES_NOT_APPLY, OUTSIDE, Bench, StepState
from builds.bench.readings import with_unit
from builds.bench.rules import limits_of
from builds.record.photos import consent_for_photos, why_hidden

# State of a step -> code of the shape, and the word where it is not the shape's own.
SHAPES = {
    DOES_NOT_APPLY: ("closed", "Does not apply"),
    AGAIN: ("stale", "To be done again on this side"),
    OUTSIDE: ("stale", "No longer passes: read it again"),
}


@dataclass
class ResultRow:
    result: object
    reading: str | None
    photo_hidden: str


@dataclass
class StepRow:
    step: BuildStep
    state: StepState | None
    results: list
    limits: str
    changes: list
    blocked: Blocked | None = None
    form: StepForm | None = None
    shape: str = field(default="open")
    word: str = ""
    read: str | None = None


class Sheet:
    """One section of the bench for one person."""

    def __init__(self, build, section, account):
        self.build, self.account = build, account
        self.section = Section(section)
        self.bench = Bench(build)
        self.may_edit = may_edit(account, build)
        self.consent = consent_for_photos(build)

    def rows(self, opened=None, form=None):
        """Every step of the section; `opened` is the one whose form is on the page."""
        states = {state.step.pk: state for state in self.bench.of(self.section)}
        steps = [one for one in self.bench.all_steps if one.section == self.section]
        rows = [self._row(step, states.get(step.pk)) for step in steps]
        for row in rows:
            if form is not None and row.step.pk == opened.pk:
                row.form = form
        return rows

    def _row(self, step, state):
        row = StepRow(
            step,
            state,
            [self._result(step, one) for one in step.results.all()],
            limits_of(step),
            changed_from_plan(step),
            self.bench.blocked(step) if state else None,
        )
        if state:
            row.shape, row.word = SHAPES.get(state.code, (state.code, ""))
            row.read = with_unit(state.result.reading, step.reading_unit) if state.result else None
        return row

    def _result(self, step, result):
        hidden = why_hidden(result.photo, self.account, self.consent) if result.photo else ""
        return ResultRow(result, with_unit(result.reading, step.reading_unit), hidden)

    def leading_step(self):
        """The step that the page opens by itself: the first one not done, where it may be recorded."""
        step, blocked = self.bench.next_step(self.section)
        return step if step and not blocked and self.may_edit else None

    def why_waiting(self):
        """What stops the section as a whole, so that it is said once at its top."""
        step, blocked = self.bench.next_step(self.section)
        return blocked

    def context(self, opened=None, form=None):
        """For the template; without a step of its own the page opens the leading one."""
        if opened is None:
            opened = self.leading_step()
            form = StepForm(self.bench, opened) if opened else None
        return {
            "build": self.build,
            "section": self.section,
            "configuration": self.bench.configuration,
            "counts": self.bench.counts(),
            "count": self.bench.count(self.section),
            "rows": self.rows(opened, form),
            "opened": opened,
            "waiting": self.why_waiting(),
            "may_edit": self.may_edit,
        }
