"""Who looked at a client's file, and who changed what in it."""

from auditlog.models import LogEntry
from django.db.models import Q
from django.utils import timezone

from labsite.models import FileOpening

MOST = 200
NOT_TOLD = {
    "id", "client", "made by", "made at", "written by", "written at", "struck by", "evidence", "stale changes",
    "superseded changes",
}  # fmt: skip


def openings(client):
    """The newest looks, those of one person at one thing in one day together: who, what, how often, first and last."""
    together = {}
    for row in looks(client)[:MOST]:
        key = (timezone.localdate(row.at), row.who, row.what)
        one = together.setdefault(key, {"who": row.who, "what": row.what, "times": 0, "last": row.at})
        one["times"] += 1
        one["first"] = row.at
    return list(together.values())


def looks(client):
    return FileOpening.objects.filter(case_code=client.case_code).select_related("account").order_by("-at")


def openings_told(client):
    """Every look, for the copy that a family asks for."""
    return [{"when": moment(row.at), "who": str(row.who), "what": row.what} for row in looks(client)]


def changes(client):
    """The newest changes of the client's records, those of erased rows too: when, who, what, and each value."""
    return [
        {
            "at": entry.timestamp,
            "who": entry.actor or "The system",
            "what": entry.content_type.name,
            "action": entry.get_action_display(),
            "values": values_of(entry),
        }
        for entry in entries(client)[:MOST]
    ]


def entries(client, more=()):
    """Entries of the trail that belong to this client; `more` says which of other apps do."""
    wanted = Q(additional_data__client=client.pk)
    for one in more:
        wanted |= one
    return LogEntry.objects.filter(wanted).select_related("actor", "content_type").order_by("-timestamp", "-pk")


def changes_told(client, more=()):
    """Every change, for the copy that a family asks for."""
    return [
        {
            "when": moment(entry.timestamp),
            "who": str(entry.actor or "The system"),
            "what": f"{entry.get_action_display()}: {entry.content_type.name}",
            "values": {label: [old, new] for label, old, new in values_of(entry)},
        }
        for entry in entries(client, more)
    ]


def moment(at):
    return timezone.localtime(at).isoformat(timespec="minutes")


def values_of(entry):
    """Without links to other records: whoever made it is told beside it, and each would be looked up by itself."""
    model = entry.content_type.model_class()
    links = {field.name for field in model._meta.concrete_fields if field.is_relation} if model else set()
    entry.changes = {name: pair for name, pair in (entry.changes or {}).items() if name not in links}
    return [
        (label, _said(old), _said(new))
        for label, (old, new) in entry.changes_display_dict.items()
        if label.lower() not in NOT_TOLD
    ]


def _said(value):
    return "empty" if value in ("None", "", None) else value
