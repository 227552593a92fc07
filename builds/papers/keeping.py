"""What the lab keeps about a child, told to the family: the kinds of things, never the things themselves."""

from django.utils import translation
from django.utils.translation import gettext as _

from builds.papers import words
from builds.papers.catalogue import SOURCE
from builds.record.registry import Evidence
from clients.models import Client, Consent


def page(facts):
    client = facts.build.client
    kept = [text for text, is_kept in things(client, known(client)).values() if is_kept]
    return {"kept": kept, "later": later(), "agreed": agreed(client)}


def evidence(client):
    """What the paper says, for the record: it is no longer true when a kind of thing comes or an answer changes."""
    with translation.override(SOURCE):
        for code, (text, is_kept) in things(client, getattr(client, "what_is_known", None) or known(client)).items():
            if is_kept:
                yield Evidence("kept", f"kept:{code}", f"What we keep: {text}", {"kept": "yes"})
        for purpose in Consent.Purpose:
            said = " ".join(answer(client.consent(purpose))).strip()
            yield Evidence(
                "family-answer", f"family-answer:{purpose}", f"Answer to “{purpose.label}”", {"answer": said}
            )


def known(client):
    """Asked anew for a paper; a ticket has it with its build."""
    return Client.objects.filter(pk=client.pk).values(**Client.objects.what_is_known(client.pk)).get()


def things(client, known):
    """code -> (what a family calls it, whether the lab has it)"""
    adults = list(client.caregivers.all())
    return {
        "name": (_("Your child's name"), known["has_name"]),
        "birth-date": (_("Your child's birth date"), known["has_birth_date"]),
        "address": (_("Your address"), known["has_address"]),
        "adults": (_("Your names and how you are related"), bool(adults)),
        "phone": (_("Your phone numbers and email"), any(one.phone or one.email for one in adults)),
        "language": (_("The language you read, and the print you like"), bool(adults)),
        "hours": (_("When you are up and when you can charge"), getattr(client, "household", None) is not None),
        "places": (_("The places where you use it, and what is near"), bool(client.places.all())),
        "measures": (_("Your child's weight, height and reach"), bool(client.measures.all())),
        "access": (_("What your child's hands can do"), getattr(client, "access", None) is not None),
        "sitting": (_("How your child sits, and what helps"), getattr(client, "sitting", None) is not None),
        "cautions": (_("What we must watch for, and what we do about it"), bool(client.cautions.all())),
        "clearance": (_("The clinician's yes, and its end"), bool(client.clearances.all())),
        "goals": (_("The goals you told us"), known["has_goals"]),
    }


def later():
    """What comes while the unit is used. It is told from the start, so that a call makes no paper out of date."""
    return [
        _("What you tell us in calls and visits"),
        _("The problems you report, with your photos"),
        _("The days of use that you write down"),
        _("Your signatures, and which papers we gave you"),
        _("Photos that show your child, if you say yes"),
    ]


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
