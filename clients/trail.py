"""Who looked at a client's file, and who changed what in it."""

from auditlog.models import LogEntry
from django.utils import timezone

from labsite.models import FileOpening

MOST = 200
NOT_TOLD = {"id", "client", "made by", "made at", "written by", "written at", "struck by"}


def openings(client):
    """The newest looks, those of one person at one thing in one day together: who, what, how often, first and last."""
    rows = FileOpening.objects.filter(case_code=client.case_code).select_related("account").order_by("-at")[:MOST]
    together = {}
    for row in rows:
        key = (timezone.localdate(row.at), row.who, row.what)
        one = together.setdefault(key, {"who": row.who, "what": row.what, "times": 0, "last": row.at})
        one["times"] += 1
        one["first"] = row.at
    return list(together.values())


def changes(client):
    """The newest changes of the client's records, those of erased rows too: when, who, what, and each value."""
    entries = (
        LogEntry.objects.filter(additional_data__client=client.pk)
        .select_related("actor", "content_type")
        .order_by("-timestamp", "-pk")[:MOST]
    )
    return [
        {
            "at": entry.timestamp,
            "who": entry.actor or "The system",
            "what": entry.content_type.name,
            "action": entry.get_action_display(),
            "values": values_of(entry),
        }
        for entry in entries
    ]


def values_of(entry):
    return [
        (label, _said(old), _said(new))
        for label, (old, new) in entry.changes_display_dict.items()
        if label.lower() not in NOT_TOLD
    ]


def _said(value):
    return "empty" if value in ("None", "", None) else value
