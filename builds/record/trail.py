"""Who changed what a release judges, as the audit trail tells.

A row keeps only who changed it last, and a weighed part keeps nobody; the trail keeps everybody.
"""

from auditlog.models import LogEntry
from django.contrib.contenttypes.models import ContentType
from django.db.models import Q

from builds.record import registry


def changed_by(build):
    """Account ids of everybody who changed a row of this build that the rooms name as work."""
    rows = Q(pk__in=[])
    for name in {name for room in registry.rooms() for name in room.work}:
        model = build._meta.get_field(name).related_model
        of_build = model._base_manager.filter(build=build.pk).values("pk")
        rows |= Q(content_type=ContentType.objects.get_for_model(model), object_id__in=of_build)
    return set(LogEntry.objects.filter(rows, actor__isnull=False).order_by().values_list("actor_id", flat=True))
