"""Photos of record: shown to those who may see the build, and never against the family's word."""

from django.db import transaction

from builds.record.models import Photo
from builds.record.rules import Refused
from clients.models import Consent

NO_CONSENT = (
    "The family has not agreed to photos for the record, so a photo that shows the client is not kept. "
    "Take one without the client, or ask the lab coordinator about the consent."
)

NOT_ON_A_GUIDE = "A guide hangs where anybody may read it. Take a photo of the unit without the client for it"


def consent_for_photos(build):
    return build.client.consents.allows(Consent.Purpose.PHOTO_RECORD)


@transaction.atomic
def keep_photo(build, account, file, *, caption="", shows_client=False, on_guide=False):
    """Keep a photo that the form has already cleaned (see labsite.photos)."""
    if shows_client and not consent_for_photos(build):
        raise Refused(NO_CONSENT)
    if shows_client and on_guide:
        raise Refused(NOT_ON_A_GUIDE)
    return Photo.objects.create(
        build=build, file=file, caption=caption, shows_client=shows_client, on_guide=on_guide, made_by=account
    )


def photo_for_guide(build):
    """The newest photo that the guide may show, from rows already fetched; None gives a drawing alone."""
    fit = [one for one in build.photos.all() if one.on_guide and not one.shows_client and not one.is_struck]
    return max(fit, key=lambda one: one.pk, default=None)


def why_hidden(photo, account, consent):
    """Why this person is not shown the picture, in words; empty when they are. `consent` is that of the family now."""
    if not photo.file:
        return "It showed the client, and is erased: the family took its yes back, or had its file erased."
    if photo.shows_client and not consent:
        return "The client can be seen in it, and the family's consent to photos for the record is not in force."
    if photo.is_struck and not account.sees_identity:
        return "It was struck. The lab coordinator can still open it."
    return ""


@transaction.atomic
def strike_photo(photo, account, reason):
    """Strike a photo. One that a result stands on stays until that result is struck."""
    if photo.is_struck:
        raise Refused("This photo is struck already.")
    if photo.step_results.filter(struck_at__isnull=True).exists():
        raise Refused("A result stands on this photo. Strike the result first.")
    photo.strike(account, reason)
    return photo
