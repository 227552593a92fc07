"""What the builds hold of a family, for the copy that it asks for."""

import mimetypes
from pathlib import PurePath

from django.contrib.contenttypes.models import ContentType
from django.db.models import Q

from builds.papers.models import HandOff
from builds.personal.held import HELD
from builds.personal.sentences import translations_of
from clients.export import told
from clients.hooks import Kept


def kept(client):
    found = Kept()
    for held in HELD:
        links = [one.name for one in held.model._meta.concrete_fields if one.is_relation]
        rows = list(held.rows(client).select_related(*links))
        found.records.setdefault(str(held.model._meta.verbose_name), []).extend(in_words(held, row) for row in rows)
        found.files += [(name_in_copy(held, row), getattr(row, held.file)) for row in rows if has_file(held, row)]
        found.trail |= trail_of(held.model, [row.pk for row in rows])
    found.records["translation"] = [told(row) for row in translations_of(client)]
    return found


def in_words(held, row):
    words = told(row, held.secret)
    if held.file:
        label = str(held.model._meta.get_field(held.file).verbose_name)
        words[label] = name_in_copy(held, row) if has_file(held, row) else None
    return words


def has_file(held, row):
    return bool(held.file and getattr(row, held.file))


def name_in_copy(held, row):
    """As it is kept, with an ending by which the family's computer knows what to open it with."""
    name = getattr(row, held.file).name
    if PurePath(name).suffix or not isinstance(row, HandOff):
        return name
    return f"{name}{mimetypes.guess_extension(row.signed_sheet_type) or ''}"


def trail_of(model, pks):
    return Q(content_type=ContentType.objects.get_for_model(model), object_id__in=pks)
