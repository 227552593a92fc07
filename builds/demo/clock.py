"""The calendar of the demo lab: its past is written on past days, so that the lab never looks made in a minute.

While a `DemoClock` runs, `timezone.now()` and everything that asks it stand on the demo's day. Rows take the
time at which they are made from the model's own default, the real time; `backdate` moves those. It runs before the day
changes, so that evidence which names the time of a release names the one that stays.
"""

from datetime import timedelta

from auditlog.models import LogEntry
from django.apps import apps
from django.db.models import F
from django.utils import timezone

from builds.record.holds import Stage

OURS = ("labsite", "clients", "builds")
# Days after the start of a build on which the work of a stage is recorded.
WORK_DAY = {
    Stage.INCOMING_TEST: 3,
    Stage.TEARDOWN: 6,
    Stage.ADAPTATION: 20,
    Stage.COMMISSIONING: 28,
    Stage.FITTING: 33,
    Stage.HAND_OFF: 38,
}
real_now = timezone.now


def dated_fields():
    """(model, name) of every time that a row takes from the real clock when it is made."""
    for model in apps.get_models():
        if model._meta.app_label in OURS:
            yield from ((model, field.name) for field in model._meta.concrete_fields if field.default is real_now)
    yield LogEntry, "timestamp"


def backdate(since, days):
    """Move everything written since that real time to as many days ago; times of day and order stay."""
    if not days:
        return
    for model, name in dated_fields():
        model._default_manager.filter(**{f"{name}__gte": since}).update(**{name: F(name) - timedelta(days=days)})


class DemoClock:
    """`with DemoClock() as clock`: `clock.go_to(60)` is 60 days ago; at the end it is today again."""

    def __enter__(self):
        self.days_ago, self.since = 0, real_now()
        timezone.now = lambda: real_now() - timedelta(days=self.days_ago)
        return self

    def __exit__(self, *error):
        timezone.now = real_now
        if error == (None, None, None):
            backdate(self.since, self.days_ago)

    def go_to(self, days_ago):
        if days_ago != self.days_ago:
            backdate(self.since, self.days_ago)
            self.days_ago, self.since = max(days_ago, 0), real_now()

    def pace_of(self, started):
        """For a build that started so many days ago: each stage's work falls on its own day."""
        self.go_to(started)

        def pace(build, stop):
            if stop in WORK_DAY:
                self.go_to(started - WORK_DAY[stop])

        return pace
