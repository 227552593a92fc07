"""What is not as it should be: it holds the build until somebody decides what is done with it."""

from django.db import transaction
from django.utils import timezone

from builds.record import registry
from builds.record.models import Nonconformance
from builds.record.releasing import why_not
from builds.record.rules import Refused, locked

NOT_AS_IS = (
    "Only a reviewer who did not record it, did no work on this build and entered no facts that its hold points judge "
    "may use it as is."
)


@transaction.atomic
def open_nonconformance(build, account, text, source=""):
    """A check failed: one open nonconformance for each failed thing."""
    found = build.nonconformances.filter(source=source, closed_at__isnull=True).first() if source else None
    if found:
        return found
    return Nonconformance.objects.create(build=build, source=source, text=text[:500], made_by=account)


def may_use_as_is(nonconformance, account):
    if not account.is_reviewer or account.pk == nonconformance.made_by_id:
        return False
    build = nonconformance.build
    reports = registry.reports(build)
    return not any(why_not(build, account, reports, hold) for hold in build.holds())


@transaction.atomic
def dispose(nonconformance, account, *, disposition, cause, fix):
    """Close a nonconformance. Using a thing as it is needs a reviewer who did not find or make it."""
    locked(nonconformance.build)
    nonconformance.refresh_from_db()
    if not nonconformance.is_open:
        raise Refused("This nonconformance is closed already.")
    use_as_is = disposition == Nonconformance.Disposition.USE_AS_IS
    if use_as_is and not may_use_as_is(nonconformance, account):
        raise Refused(NOT_AS_IS)
    nonconformance.disposition = disposition
    nonconformance.cause = cause
    nonconformance.fix = fix
    nonconformance.closed_at = timezone.now()
    nonconformance.closed_by = account
    nonconformance.save(update_fields=["disposition", "cause", "fix", "closed_at", "closed_by"])
    return nonconformance
