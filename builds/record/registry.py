"""What rooms offer to the record, so that the record decides without knowing the rooms.

A room's `evidence.py` has `register(registry)`, which calls `registry.add(Room(...))`.
`report(build)` returns a `Report`: the facts the hold points stand on (`evidence`), what each hold point
asks for (`conditions`), who did the work (`workers`), and what was computed (`findings`).
`watches` names the models whose rows may change a report, each with a function row -> ids of builds,
so that a change anywhere voids what stood on the old value.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import datetime
from functools import cached_property

from django.db.models.signals import m2m_changed, post_delete, post_save

from builds.record.holds import Hold
from builds.record.together import NAMES, annotated, unpack
from labsite.models import Lab


@dataclass(frozen=True)
class Evidence:
    """One thing a release stands on: `fields` are its values in words, compared and shown when they change."""

    kind: str  # a row of voids.TABLE
    key: str  # stable for the life of the thing, e.g. "wire-run:12"
    label: str  # "Wire run W3"
    fields: dict  # field name -> value (str, number, bool, None, list)


NEEDED, NOT_KNOWN = "Still needed", "Not known yet"


@dataclass(frozen=True)
class Condition:
    """One thing a hold point asks for. `met` is True, False, or None where it is not known."""

    hold: Hold
    text: str  # what must be so, as a statement: "Every incoming test is passed"
    met: bool | None
    why: str = ""  # what is missing, in words
    url: str = ""  # the place that meets it
    agree: tuple[str, ...] = ()  # how the work departs from the plan: whoever releases agrees to each by itself

    @property
    def told(self):
        """For a reader: what is not met is said as what is needed, since the bare statement reads like a fact."""
        return self.text if self.met else f"{NOT_KNOWN if self.met is None else NEEDED}: {self.text}"


@dataclass
class Report:
    evidence: list[Evidence] = field(default_factory=list)
    conditions: list[Condition] = field(default_factory=list)
    workers: set[int] = field(default_factory=set)  # account ids who did work that is judged here
    workers_on: dict[Hold, set[int]] = field(default_factory=dict)  # who did work that only this hold point judges
    named_on: dict[Hold, set[str]] = field(default_factory=dict)  # texts that name who did such work, as written
    second_persons: dict[Hold, set[int]] = field(default_factory=dict)  # whose checks count as a second person's
    findings: list = field(default_factory=list)  # (heading, Finding) pairs for the ticket
    section: dict = field(default_factory=dict)  # what the room's part of the ticket shows


@dataclass(frozen=True)
class Fact:
    """One column of a row that other builds may use too. Who entered it releases no hold point that judges it."""

    row: object
    column: str
    holds: frozenset[Hold]  # those that judge it
    copied_at: datetime | None = None  # the build has a copy from then: what was entered later is not in it


@dataclass(frozen=True)
class Room:
    name: str
    report: Callable  # build -> Report
    watches: Iterable = ()  # (model class, row -> iterable of build ids)
    prefetch: Iterable = ()  # relations of a build that the report reads, fetched together for a whole ticket
    m2m: Iterable = ()  # (through model, row -> iterable of build ids)
    work: Iterable = ()  # relations of a build: whoever changed such a row did work, as the audit trail tells
    facts: Callable = lambda build: ()  # build -> facts of shared rows; the audit trail tells who entered them


@dataclass(frozen=True)
class Dependant:
    """Something besides a release that is true for one state of the record only: papers, teach-back."""

    target: str  # a column of voids.TABLE
    rows: Callable  # build -> rows that are still true; asked once, however many targets share it
    void: Callable  # (row, changes, account) -> None
    part: Callable = lambda row, now: now  # (row, snapshot of now) -> what of it this row stands on
    standing: Callable = list  # rows -> those that stand on this target, each with its .evidence


# What the reports read of a build through its links to a single row.
RELATED = (
    "client__access",
    "client__sitting",
    "client__household",
    "unit__type",
    "plan_revision__plan",
    "reviewer",
    "restore_kit",
    "hand_off",
)
FETCHED_OTHERWISE = {*RELATED, *NAMES}
MARKS_OF_WHOLE = {"hold_decisions", "configurations", "steps", "wire_runs", "parts", "issued_papers"}

_rooms: dict[str, Room] = {}
_dependants: list[Dependant] = []


def add(room):
    _rooms[room.name] = room


def add_dependant(dependant):
    _dependants.append(dependant)


def rooms():
    return list(_rooms.values())


def dependants():
    return list(_dependants)


def fetch_whole(builds, **which):
    """One of these builds with all that the reports read, in a constant number of queries."""
    lookups = [one for room in rooms() for one in room.prefetch if name_of(one) not in FETCHED_OTHERWISE]
    build = annotated(builds.select_related(*RELATED).prefetch_related(*lookups)).get(**which)
    unpack(build)
    return build


def name_of(lookup):
    return getattr(lookup, "prefetch_to", lookup)


def whole(build):
    """The build with all that the reports read: as it was handed over if it holds that, otherwise fetched anew."""
    if MARKS_OF_WHOLE <= getattr(build, "_prefetched_objects_cache", {}).keys():
        return build
    return fetch_whole(type(build).objects.all(), pk=build.pk)


def forget_prefetched(build):
    """Rows changed: what was fetched with this object is old."""
    getattr(build, "_prefetched_objects_cache", {}).clear()


class Reports(dict):
    """Room name -> its report on one build, and who changed or entered what is judged: asked when needed, and once."""

    def __init__(self, build, found):
        super().__init__(found)
        self.build = build

    @cached_property
    def changed_by(self):
        from builds.record.trail import changed_by

        return changed_by(self.build)

    @cached_property
    def entered(self):
        from builds.record.trail import entered

        return entered(self.build)


def reports(build):
    """Every room's report on this build, by room name, in a constant number of queries."""
    build = whole(build)
    with Lab.current().serves_this_request():  # every room asks for the lab
        return Reports(build, {room.name: room.report(build) for room in rooms()})


def listen():
    """Recheck what stands whenever a watched row is saved, deleted, or linked."""
    from builds.record.voiding import recheck_builds

    def on_row(builds_of):
        def receiver(sender, instance, **kwargs):
            if not kwargs.get("raw"):
                recheck_builds(builds_of(instance))

        return receiver

    for room in rooms():
        for model, builds_of in room.watches:
            receiver = on_row(builds_of)
            uid = f"{room.name}:{model.__name__}"
            post_save.connect(receiver, sender=model, weak=False, dispatch_uid=uid)
            post_delete.connect(receiver, sender=model, weak=False, dispatch_uid=uid)
        for through, builds_of in room.m2m:

            def on_link(sender, instance, action, builds_of=builds_of, **kwargs):
                if action.startswith("post_"):
                    recheck_builds(builds_of(instance))

            m2m_changed.connect(on_link, sender=through, weak=False, dispatch_uid=f"{room.name}:{through.__name__}")
