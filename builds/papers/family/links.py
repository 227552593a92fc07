"""Family links: made, found again from what somebody typed or clicked, opened with the second word.

The address holds a random key with this site's signature; the database holds a digest of the key and a hash of the
word, so that neither a copy of the database nor a guess opens a link.
"""

import hashlib
import secrets
import unicodedata
from dataclasses import dataclass
from datetime import timedelta

from django.contrib.auth.hashers import check_password, make_password
from django.core import signing
from django.db import transaction
from django.db.models import Max
from django.urls import reverse
from django.utils import timezone

from builds.papers.family.models import FamilyLink
from builds.record.models import Build

SALT = "builds.papers.family.link"
KEY_BYTES = 16
# Syllables that are read alike in most languages: some 40,000 words, and five tries before a wait.
FIRST, SECOND, SYLLABLES = "bdlmnrstz", "aiou", 3
UNFIT = ("bas", "dil", "lut", "mal", "mat", "mor", "nazi", "rat", "sat", "tit", "tot")  # would begin or be bad words
TRIES = 5
FIRST_WAIT = timedelta(minutes=15)
LONGEST_WAIT = timedelta(days=1)


@dataclass(frozen=True)
class Made:
    """A new link with what is shown once and kept nowhere."""

    link: FamilyLink
    token: str
    word: str


@transaction.atomic
def make_link(build, account, *, days, language="en", word=None, key=None):
    Build.objects.select_for_update(of=("self",)).get(pk=build.pk)
    key, word = key or secrets.token_urlsafe(KEY_BYTES), word or new_word()
    last = build.family_links.aggregate(last=Max("number"))["last"] or 0
    link = FamilyLink.objects.create(
        build=build,
        number=last + 1,
        language=language,
        key_digest=digest_of(key),
        word_hash=make_password(as_compared(word)),
        expires_at=timezone.now() + timedelta(days=days),
        made_by=account,
    )
    return Made(link, token_of(key), word)


def new_word():
    while True:
        word = "".join(secrets.choice(FIRST) + secrets.choice(SECOND) for _ in range(SYLLABLES))
        if not any(part in word for part in UNFIT):
            return word


def as_compared(word):
    """Case, accents and gaps do not matter: a phone adds them by itself."""
    plain = unicodedata.normalize("NFKD", str(word)[:80]).casefold()
    return "".join(sign for sign in plain if sign.isalnum())


def digest_of(key):
    return hashlib.sha256(key.encode()).hexdigest()


def signer():
    return signing.Signer(salt=SALT, sep=".")


def token_of(key):
    return signer().sign(key)


def address_of(token):
    return reverse("family_link", args=[token])


def link_of(token):
    """The link behind an address while it leads anywhere; None for every other address, whatever its fault."""
    try:
        key = signer().unsign(token)
    except signing.BadSignature:
        return None
    links = FamilyLink.objects.select_related("build__unit__type", "build__client", "build__plan_revision__plan")
    link = links.filter(key_digest=digest_of(key)).first()
    return link if link and link.works else None


@transaction.atomic
def try_word(link, typed):
    """"open", "wrong" or "locked". Failures are counted one after the other, whoever else knocks."""
    link = FamilyLink.objects.select_for_update(of=("self",)).get(pk=link.pk)
    if link.is_locked:
        return "locked"
    if check_password(as_compared(typed), link.word_hash):
        link.failures, link.locked_until, link.opened_at = 0, None, timezone.now()
        link.save(update_fields=["failures", "locked_until", "opened_at"])
        return "open"
    link.failures += 1
    if link.failures % TRIES == 0:
        link.locked_until = timezone.now() + wait_after(link.failures)
    link.save(update_fields=["failures", "locked_until"])
    return "locked" if link.is_locked else "wrong"


def wait_after(failures):
    """Each further five wrong words double the wait, up to a day."""
    return min(FIRST_WAIT * 2 ** min(failures // TRIES - 1, 10), LONGEST_WAIT)
