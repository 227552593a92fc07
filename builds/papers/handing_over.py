"""The hand-off itself: loan or gift, the date, the signed sheet, and the interpreter where one was needed."""

import uuid

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.files.base import ContentFile
from django.db import transaction
from django.utils.translation import gettext as _
from django.utils.translation import pgettext

from builds.papers.catalogue import paper_language
from builds.papers.models import HandOff
from builds.papers.teaching import supervising_adults
from labsite.photos import clean_photo

MOST_BYTES = 15 * 1024 * 1024
PDF = "application/pdf"
JPEG = "image/jpeg"


def hand_off_of(build):
    """The build's hand-off, or a new one that is not kept yet."""
    found = getattr(build, "hand_off", None)
    return found or HandOff(build=build)


def other_languages(build):
    """Languages of the supervising adults, by name, that the papers are not available in."""
    names = dict(settings.LANGUAGES) | dict(_all_languages())
    codes = {adult.language for adult in supervising_adults(build) if paper_language(adult.language) is None}
    return sorted(names.get(code, code) for code in codes)


def _all_languages():
    from django.conf.global_settings import LANGUAGES

    return LANGUAGES


def language_sentences(build):
    """What the hand-off says where the family reads another language."""
    return [
        _("This paper is not available in %(language)s. An interpreter must go through it with the family.")
        % {"language": in_a_sentence(_(name))}
        for name in other_languages(build)
    ]


def in_a_sentence(name):
    """The name of a language as this language writes it within a sentence."""
    written = pgettext("names of languages within a sentence: capital, or small", "capital")
    return name if written == "capital" else name[:1].lower() + name[1:]


def is_understood(build):
    """Papers in their languages, or an interpreter went through them and that is recorded."""
    if not other_languages(build):
        return True
    kept = getattr(build, "hand_off", None)
    return bool(kept and kept.interpreted_by and kept.interpreted_on)


def clean_signed_sheet(file):
    """The scan or photo of the signed sheet as it is kept: (content, type). Photos lose their metadata."""
    label = "Scan or photo of the signed sheet"
    if file.size > MOST_BYTES:
        raise ValidationError(f"{label} must be {MOST_BYTES // 1024**2} MB or smaller")
    file.seek(0)
    if file.read(5) != b"%PDF-":
        return clean_photo(file, label), JPEG
    file.seek(0)
    content = file.read()
    if b"%%EOF" not in content[-2048:]:
        raise ValidationError(f"{label} is not a whole PDF. Scan it again")
    return ContentFile(content, name=f"{uuid.uuid4().hex}.pdf"), PDF


@transaction.atomic
def keep_signed_sheet(hand_off, content, kind):
    """Keep the new sheet; the file it replaces stays until the change is certain."""
    old = hand_off.signed_sheet.name
    storage = hand_off.signed_sheet.storage
    hand_off.signed_sheet.save(content.name, content, save=False)
    hand_off.signed_sheet_type = kind
    try:
        hand_off.save(update_fields=["signed_sheet", "signed_sheet_type"])
    except BaseException:
        storage.delete(hand_off.signed_sheet.name)
        raise
    if old:
        transaction.on_commit(lambda: storage.delete(old))
