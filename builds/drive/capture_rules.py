"""What may be done with a capture: kept whole with its fit, set for the client, refused, or struck."""

import hashlib

from django.core.files.base import ContentFile
from django.db import transaction
from django.utils import timezone

from builds.drive.capture_models import Capture, FittedStick
from builds.drive.captures import why_not_accepted
from builds.drive.rules import save_configuration
from builds.record.models import Build
from builds.record.rules import Refused, forget_prefetched

Decision = FittedStick.Decision


@transaction.atomic
def record_capture(build, account, *, log, fit, readings, **facts):
    """Keep a log as it came with what was fitted to it: the row, its fit and its file, or nothing."""
    digest = hashlib.sha256(log).hexdigest()
    capture = Capture(build=build, made_by=account, digest=digest, readings=readings, adc_bits=fit.adc_bits, **facts)
    capture.log.save("capture.txt", ContentFile(log), save=False)
    try:
        capture.save(force_insert=True)
        FittedStick.objects.create(build=build, capture=capture, results=fit.as_dict())
    except BaseException:
        capture.log.storage.delete(capture.log.name)
        raise
    forget_prefetched(build)
    return capture


@transaction.atomic
def accept_fit(fitted, account, *, based_on, reason="", mirrored_seen=False):
    """Set a fit for the client: the next configuration. On another side the places of the arm are unknown."""
    build = Build.objects.select_for_update(of=("self",)).get(pk=fitted.build_id)
    fitted = FittedStick.objects.select_for_update(of=("self",)).select_related("capture").get(pk=fitted.pk)
    why = why_not_accepted(fitted)
    if why:
        raise Refused(why)
    if fitted.results["mirrored"] and not (mirrored_seen and reason):
        raise Refused("This fit is mirrored: say why, and that the wheels-up run will decide.")
    side, now = fitted.capture.side, build.configuration()
    if now and now.fit_id == fitted.pk and now.side == side:
        raise Refused("This fit is in use already.")
    settings = {"fit": fitted, "side": side}
    if now and now.side != side:
        settings.update(shoulder_place=None, control_place=None)
    decide(fitted, account, Decision.ACCEPTED, reason)
    told = f"Stick fit accepted: {fitted.capture}"
    return save_configuration(build, account, f"{told}. {reason}" if reason else told, based_on, **settings)


@transaction.atomic
def refuse_fit(fitted, account, reason):
    """Not to be set, and why. What is in use is not refused: its capture is struck, or another is set."""
    build = Build.objects.select_for_update(of=("self",)).get(pk=fitted.build_id)
    now = build.configuration()
    if now and now.fit_id == fitted.pk:
        raise Refused("This fit is in use. Accept another one first, or strike this capture.")
    if fitted.decision == Decision.REFUSED:
        raise Refused("This fit was refused already.")
    decide(fitted, account, Decision.REFUSED, reason)
    forget_prefetched(fitted.build)


@transaction.atomic
def strike_capture(capture, account, reason):
    if capture.is_struck:
        raise Refused("This capture is struck already.")
    capture.strike(account, reason)
    forget_prefetched(capture.build)


def decide(fitted, account, decision, reason):
    fitted.decision, fitted.reason = decision, reason
    fitted.decided_by, fitted.decided_at = account, timezone.now()
    fitted.save(update_fields=["decision", "reason", "decided_by", "decided_at"])
