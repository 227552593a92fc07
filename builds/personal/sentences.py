"""Translations of what was written about one client. A sentence that another client has too stays theirs."""

from builds.papers.sentences import client_sources
from builds.papers.translations import Translation
from clients.models import Client


def translations_of(client):
    """Those made for a sentence of this client, by the place that was written beside it."""
    return [row for row in Translation.objects.order_by("pk") if row.place.endswith(f" of case {client.case_code}")]


def let_go(client):
    """Delete this client's translations, or leave them to another client with the same words. Returns the gone."""
    others = places_elsewhere(client)
    gone = []
    for row in translations_of(client):
        if row.source_digest in others:
            row.place = others[row.source_digest]
            row.save(update_fields=["place"])
        else:
            gone.append(row.pk)
    Translation.objects.filter(pk__in=gone).delete()
    return gone


def places_elsewhere(client):
    """Digest of a sentence -> where it stands of another client."""
    found = {}
    for other in Client.objects.exclude(pk=client.pk).with_needs():
        for clearance in [*other.clearances.all(), None]:
            for one in client_sources(other, clearance):
                found.setdefault(one.digest, one.place)
    return found
