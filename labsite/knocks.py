"""How often somebody may knock: counted in the database, so that it holds for every process of the site.

An address is kept as a digest only, with the site's own key, and forgotten after a day.
"""

from datetime import timedelta
from ipaddress import ip_address

from django.conf import settings
from django.db import transaction
from django.utils import timezone
from django.utils.crypto import salted_hmac

from labsite.models import Knock

FORGOTTEN_AFTER = timedelta(days=1)


def too_many(door, who, *, most, within):
    """Count one knock of this person at this door; whether there were more than `most` in that stretch of time."""
    return count(door, who, within=within) > most


def too_many_from_here(door, request, *, most, within):
    """The same for the address that a request comes from."""
    return too_many(door, address_of(request), most=most, within=within)


@transaction.atomic
def count(door, who, *, within):
    now = timezone.now()
    knock, is_new = Knock.objects.select_for_update().get_or_create(
        door=door, who=digest_of(who), defaults={"since": now, "times": 0}
    )
    if is_new:
        Knock.objects.filter(since__lt=now - FORGOTTEN_AFTER).delete()
    if knock.since + within <= now:
        knock.since, knock.times = now, 0
    knock.times += 1
    knock.save(update_fields=["since", "times"])
    return knock.times


def digest_of(who):
    return salted_hmac("labsite.knocks", str(who), algorithm="sha256").hexdigest()


def address_of(request):
    """The address that knocks. Behind a proxy it is the last one named: only our own proxy wrote that."""
    if settings.SECURE_PROXY_SSL_HEADER is not None:
        named = request.headers.get("X-Forwarded-For", "").rpartition(",")[2].strip()
        if is_address(named):
            return named
    return request.META.get("REMOTE_ADDR", "")


def is_address(text):
    try:
        ip_address(text)
    except ValueError:
        return False
    return True
