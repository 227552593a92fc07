"""Snapshots of evidence, their digest, what changed since, and voiding by itself.

A release keeps the evidence it stood on. `recheck` compares it with the evidence of now and voids, for
good, what no longer agrees: changing the value back does not bring a void release back.
"""

import hashlib
import json
from contextlib import contextmanager
from contextvars import ContextVar

from auditlog.context import auditlog_value
from django.db import transaction
from django.utils import timezone

from builds.record import registry, voids
from builds.record.holds import Hold, Stage

MOST_CHANGES_KEPT = 40
_waiting = ContextVar("builds_to_recheck_at_the_end", default=None)


def snapshot(target, evidence):
    """The part of the evidence that matters to this target, as plain data."""
    wanted = voids.fields_for(target)
    return {
        item.key: {
            "label": item.label,
            "fields": {name: _plain(value) for name, value in item.fields.items() if name in wanted[item.kind]},
        }
        for item in evidence
        if item.kind in wanted
    }


def _plain(value):
    if isinstance(value, float):
        return round(value, 9)
    if isinstance(value, dict):
        return {str(key): _plain(one) for key, one in value.items()}
    if isinstance(value, (list, tuple)):
        return [_plain(one) for one in value]
    if value is None or isinstance(value, (bool, int)):
        return value
    return str(value)


def as_of(kept, now):
    """The snapshot of now without the fields that were no evidence yet when the other was kept."""
    return {key: _known_then(kept[key], item, kind_of(key)) if key in kept else item for key, item in now.items()}


def _known_then(then, item, kind):
    unasked = voids.LATER.get(kind, set()) - then["fields"].keys()
    if not unasked:
        return item
    return {**item, "fields": {name: value for name, value in item["fields"].items() if name not in unasked}}


def digest(kept):
    """SHA-256 over the canonical JSON of a snapshot."""
    text = json.dumps(kept, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()


class Changes(list):
    """What differs between two snapshots, in words, one line a change; `kinds` of evidence are those that differ."""

    kinds = frozenset()


def changes(before, now):
    """The Changes from one snapshot to another; causes come before their consequences."""
    lines = Changes()
    lines.kinds = frozenset(kind_of(key) for key in before.keys() | now.keys() if before.get(key) != now.get(key))
    for key in sorted(before.keys() | now.keys(), key=lambda key: (kind_of(key) in voids.CONSEQUENCES, key)):
        old, new = before.get(key), now.get(key)
        if old is None:
            lines.append(f"{new['label']} was added")
        elif new is None:
            lines.append(f"{old['label']} was taken away")
        else:
            lines.extend(_field_changes(new["label"], old["fields"], new["fields"]))
    del lines[MOST_CHANGES_KEPT:]
    return lines


def kind_of(key):
    return key.partition(":")[0]


def _field_changes(label, old, new):
    for name in sorted(old.keys() | new.keys()):
        if old.get(name) != new.get(name):
            yield f"{label}: {voids.name_of(name)} was {said(old.get(name))}, now {said(new.get(name))}"


def said(value):
    if value is None or value == "":
        return "unknown"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return ", ".join(said(one) for one in value) or "none"
    if isinstance(value, dict):
        return "; ".join(f"{key}: {said(one)}" for key, one in value.items()) or "none"
    return str(value)


def all_evidence(build, reports=None):
    """The evidence of every room."""
    return [item for report in (reports or registry.reports(build)).values() for item in report.evidence]


def hold_evidence(build, hold, evidence, decisions):
    """Evidence for one hold point: that of the rooms, and whether each hold point before it stands."""
    extra = []
    for before in build.holds()[: build.holds().index(hold)]:
        one = standing_release(decisions, before)
        says = f"released {one.made_at:%Y-%m-%d %H:%M} by {one.made_by.full_name}" if one else "void"
        label = f"Release of {before.label}"
        extra.append(registry.Evidence("hold-before", f"hold-before:{before}", label, {"standing": says}))
    return [*evidence, *extra]


def standing_release(decisions, hold, today=None):
    """The newest decision on this hold point, if it is a release that stands."""
    newest = max((one for one in decisions if one.hold == hold), key=lambda one: one.pk, default=None)
    return newest if newest and newest.stands(today or timezone.localdate()) else None


@contextmanager
def at_the_end():
    """Many rows change together: each of their builds is rechecked once, when all are saved.

    A release or a move inside rechecks for itself, as always.
    """
    with transaction.atomic():  # all of it or nothing: no row is kept that nobody looked at
        with _collecting() as ids:
            yield
        recheck_builds(ids)


@contextmanager
def _collecting():
    """Take down which builds' evidence is touched, instead of rechecking them at once."""
    ids = set()
    token = _waiting.set(ids)
    try:
        yield ids
    finally:
        _waiting.reset(token)


def recheck_builds(ids):
    """Recheck each of these builds that has something standing."""
    from builds.record.models import Build

    waiting = _waiting.get()
    if waiting is not None:
        waiting.update(ids)
        return
    with transaction.atomic():
        # A release locks its build before it reads the evidence; a change waits for it here and then finds it.
        locked = Build.objects.select_for_update(of=("self",)).filter(client__erased_at__isnull=True).order_by("pk")
        for build in locked.filter(pk__in=set(ids)).select_related("unit", "client"):
            recheck(build)


@transaction.atomic
def recheck(build, account=None):
    """Void whatever stood on evidence that has changed, and then what stood on that. Returns the voided rows.

    Of an erased client nothing is judged again: that the file is gone says nothing of the unit.
    """
    if build.client.is_erased:
        return []
    account = account or current_actor()
    voided = []
    with _collecting() as touched:
        while found := _void_what_changed(build, account):
            voided += found
            registry.forget_prefetched(build)
    recheck_builds(touched - {build.pk})
    _call_back(build, [one for one in voided if hasattr(one, "hold")])
    return voided


def _void_what_changed(build, account):
    decisions = list(build.hold_decisions.filter(verdict="released", voided_at__isnull=True).select_related("made_by"))
    dependants = list(_dependants(build))
    if not decisions and not dependants:
        return []
    evidence = all_evidence(build)
    voided = []
    for hold in build.holds():
        decision = max((one for one in decisions if one.hold == hold), key=lambda one: one.pk, default=None)
        if decision is None:
            continue
        now = as_of(decision.evidence, snapshot(hold, hold_evidence(build, hold, evidence, decisions)))
        if digest(now) != decision.digest:
            decision.void(changes(decision.evidence, now) or ["The evidence changed"], account)
            voided.append(decision)
    for dependant, row in dependants:
        now = dependant.part(row, as_of(row.evidence, snapshot(dependant.target, evidence)))
        if row.evidence != now:
            dependant.void(row, changes(row.evidence, now), account)
            voided.append(row)
    return voided


def _dependants(build):
    """(dependant, row) for every row that stands. The rows of one kind are asked for once: this runs at each save."""
    asked = {}
    for one in registry.dependants():
        if one.rows not in asked:
            asked[one.rows] = one.rows(build)
        yield from ((one, row) for row in one.standing(asked[one.rows]))


def current_actor():
    """Who is making the change, as far as the audit trail knows."""
    try:
        actor = auditlog_value.get().get("actor")
    except LookupError:
        return None
    return actor if actor is not None and actor.pk else None


def _call_back(build, voided):
    """A release void while the unit is with a family is no note in the lab: it asks for stop-use and a call."""
    from builds.record.models import Task

    if not voided or build.stage != Stage.IN_USE:
        return
    names = ", ".join(Hold(one.hold).label for one in voided)
    Task.objects.stop_use(build, f"Void: {names}. {'; '.join(voided[0].void_changes[:3])}")
