"""Everything the lab keeps about one client and the family as one readable copy: for the family that asks for it.

Every field of every record is told under its label, struck entries with the reason; a new field or model of this
app is told too, without another line here. The builds add what they hold through `hooks.kept_elsewhere`. The record
of the equipment itself names nobody and is not in the copy.
"""

import datetime
import json
import tempfile
import zipfile

from django.apps import apps
from django.db import models
from django.utils import timezone

from clients import hooks, trail
from clients.models import Client
from labsite.models import Lab

NOT_TOLD = {"id", "client"}  # numbers of the database, and the client once more
ABOUT = (
    "All that the lab keeps about this client and the family, with who looked at it and who changed it. The record of "
    "the equipment itself names nobody and is not in this copy."
)
MISSING = "This file is missing"


def export(client, more=None):
    """The whole file of one client, ready to be written as JSON; `more` is what other apps hold, if asked already."""
    lab = Lab.current()
    more = kept_elsewhere(client) if more is None else more
    told_here = {
        str(model._meta.verbose_name): [told(row) for row in rows_of(model, path, client)] for model, path in records()
    }
    return {
        "what": ABOUT,
        "lab": lab.name,
        "case code": client.case_code,
        "opened": said(client.made_at),
        "exported": said(timezone.now()),
        "records": {**told_here, **{kind: rows for one in more for kind, rows in one.records.items()}},
        "who looked": trail.openings_told(client),
        "who changed": trail.changes_told(client, [one.trail for one in more]),
    }


def kept_elsewhere(client):
    return [ask(client) for ask in hooks.kept_elsewhere]


def files_of(more):
    return [pair for one in more for pair in one.files]


def parts_of(client):
    """(what, how many) pairs of everything in the copy."""
    more = kept_elsewhere(client)
    whole = export(client, more)
    counts = {kind: len(rows) for kind, rows in whole["records"].items()}
    counts["looks at the file"], counts["changes in the trail"] = len(whole["who looked"]), len(whole["who changed"])
    counts["photos, signatures and papers, as files"] = len(files_of(more))
    return [(what, count) for what, count in counts.items() if count]


def packed(client):
    """The copy as a file that is open for reading: the JSON, and the photos, signatures and papers that it names."""
    more = kept_elsewhere(client)
    told_all = export(client, more)
    copy = tempfile.TemporaryFile()
    with zipfile.ZipFile(copy, "w", zipfile.ZIP_DEFLATED) as box:
        told_all[MISSING] = [name for name, file in files_of(more) if not put(box, name, file)]
        box.writestr(f"{client.case_code}.json", json.dumps(told_all, indent=2, ensure_ascii=False))
    copy.seek(0)
    return copy


def put(box, name, file):
    """Whether the file was there."""
    try:
        with file.open("rb") as kept:
            box.writestr(name, kept.read())
    except FileNotFoundError:
        return False
    return True


def records():
    """(model, path to its client) of every model of this app that belongs to a client."""
    for model in apps.get_app_config("clients").get_models():
        path = path_to_client(model)
        if path:
            yield model, path


def path_to_client(model, passed=()):
    """The way from a record to its client: directly, or through records of its own app that it belongs to."""
    links = [field for field in model._meta.get_fields() if isinstance(field, models.ForeignKey)]
    for field in links:
        if field.related_model is Client:
            return field.name
    for field in links:
        ours = field.related_model._meta.app_label == model._meta.app_label and field.related_model not in passed
        further = path_to_client(field.related_model, (*passed, model)) if ours else ""
        if further:
            return f"{field.name}__{further}"
    return ""


def rows_of(model, path, client):
    links = [field.name for field in model._meta.concrete_fields if field.is_relation]
    return model._default_manager.filter(**{path: client}).select_related(*links).order_by("pk")


def told(row, secret=()):
    """Label and value of each field, as a person reads them."""
    fields = [field for field in row._meta.concrete_fields if field.name not in NOT_TOLD and field.name not in secret]
    return {str(field.verbose_name): value_of(row, field) for field in fields}


def value_of(row, field):
    if field.choices:
        return str(getattr(row, f"get_{field.name}_display")())
    value = getattr(row, field.name)
    if isinstance(field, models.FileField):
        return value.name or None
    return str(value) if value is not None and field.is_relation else said(value)


def said(value):
    """Numbers, lists, yes and no stay as they are; empty is None; dates and times are ISO."""
    if isinstance(value, datetime.datetime):
        return timezone.localtime(value).isoformat(timespec="minutes")
    if isinstance(value, (datetime.date, datetime.time)):
        return value.isoformat()
    return None if value == "" else value
