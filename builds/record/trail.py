"""Who changed what a release judges, as the audit trail tells.

A row keeps only who changed it last, and a weighed part keeps nobody; the trail keeps everybody.
"""

from dataclasses import dataclass
from datetime import datetime

from auditlog.models import LogEntry
from django.contrib.contenttypes.models import ContentType
from django.db.models import Q

from builds.record import registry
from builds.record.registry import Fact

NOTHING_SAID = ("None", "null", "", "unknown")  # as the trail writes it: whoever left it open entered nothing


@dataclass(frozen=True)
class Entry:
    """Somebody gave a fact a value."""

    account_id: int
    at: datetime
    fact: Fact


def changed_by(build):
    """Account ids of everybody who changed a row of this build that the rooms name as work."""
    rows = Q(pk__in=[])
    for name in {name for room in registry.rooms() for name in room.work}:
        model = build._meta.get_field(name).related_model
        of_build = model._base_manager.filter(build=build.pk).values("pk")
        rows |= Q(content_type=ContentType.objects.get_for_model(model), object_id__in=of_build)
    return set(LogEntry.objects.filter(rows, actor__isnull=False).order_by().values_list("actor_id", flat=True))


def entered(build):
    """Every entry or change of a shared fact that this build uses, oldest first.

    However long ago, and though others changed it since: a row has no place where a second person agrees to it,
    and a figure that somebody else typed anew would be the way round.
    """
    facts = {}
    for room in registry.rooms():
        for fact in room.facts(build):
            key = ContentType.objects.get_for_model(fact.row).pk, fact.row.pk
            facts.setdefault(key, []).append(fact)
    rows = Q(pk__in=[])
    for content_type, pk in facts:
        rows |= Q(content_type=content_type, object_id=pk)
    log = LogEntry.objects.filter(rows, actor__isnull=False).order_by("timestamp", "pk")
    return [
        Entry(one.actor_id, one.timestamp, fact)
        for one in log
        for fact in facts[one.content_type_id, one.object_id]
        if gives(one, fact)
    ]


def gives(one, fact):
    """Whether this line of the trail gave the fact a value that the build may have."""
    _, value = (one.changes or {}).get(fact.column, (None, "None"))
    is_late = fact.copied_at is not None and one.timestamp > fact.copied_at
    return value not in NOTHING_SAID and not is_late
