"""What the lab keeps about a child, told to the family: the kinds of things, never the things themselves."""

from django.utils.translation import gettext as _

from builds.papers import words
from clients.models import Consent


def page(facts):
    client = facts.build.client
    return {"kept": [line for line, is_kept in things(client) if is_kept], "agreed": agreed(client)}


def things(client):
    """(what a family calls it, whether the lab has it)"""
    person = getattr(client, "person", None)
    adults = list(client.caregivers.all())
    yield _("Your child's name"), person is not None
    yield _("Your child's birth date"), bool(person and person.birth_date)
    yield _("Your address"), bool(person and person.address)
    yield _("Your names and how you are related"), bool(adults)
    yield _("Your phone numbers and email"), any(one.phone or one.email for one in adults)
    yield _("The language you read, and the print you like"), bool(adults)
    yield _("When you are up and when you can charge"), getattr(client, "household", None) is not None
    yield _("The places where you use it, and what is near"), bool(client.places.all())
    yield _("Your child's weight, height and reach"), bool(client.measures.all())
    yield _("What your child's hands can do"), getattr(client, "access", None) is not None
    yield _("How your child sits, and what helps"), getattr(client, "sitting", None) is not None
    yield _("What we must watch for, and what we do about it"), bool(client.cautions.all())
    yield _("The clinician's yes, and its end"), bool(client.clearances.all())
    yield _("The goals you told us"), bool(client.goals.all())
    yield _("What you told us in calls and visits"), any(
        contact.done_on for build in client.builds.all() for contact in build.contacts.all()
    )


def agreed(client):
    """(what for, yes or no, since when) for each purpose; no word is no consent."""
    return [(text, *answer(client.consent(purpose))) for purpose, text in purposes()]


def purposes():
    return [
        (Consent.Purpose.SERVICE, _("We make and mend this for you.")),
        (Consent.Purpose.MEASURES, _("We measure your child and keep the numbers.")),
        (Consent.Purpose.CLINICIAN, _("We share what we know with your clinician.")),
        (Consent.Purpose.PHOTO_RECORD, _("We keep photos that show your child.")),
        (Consent.Purpose.PHOTO_TEACHING, _("We show such photos to our students.")),
        (Consent.Purpose.PHOTO_PUBLICITY, _("We show such photos to the public.")),
        (Consent.Purpose.RESEARCH, _("We use what we learn for study.")),
    ]


def answer(consent):
    if consent is None:
        return _("Not asked: no"), ""
    if consent.withdrawn_on:
        return _("You took it back: no"), words.a_day(consent.withdrawn_on)
    return (_("Yes") if consent.given else _("No")), words.a_day(consent.signed_on)
