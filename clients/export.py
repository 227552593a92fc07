"""Everything this app keeps about one client as one readable file: for the family that asks what the lab keeps.

Every field of every record is told under its label, struck entries with the reason; a new field or model of this
app is told too, without another line here. What the lab keeps about the equipment itself is in the device file.
"""

import datetime

from django.apps import apps
from django.db import models
from django.utils import timezone

from clients.models import Client
from labsite.models import Lab

NOT_TOLD = {"id", "client"}  # numbers of the database, and the client once more
ABOUT = (
    "All that the lab keeps about this client and the family. The record of the equipment itself names nobody and is "
    "not in this file."
)


def export(client):
    """The whole file of one client, ready to be written as JSON."""
    lab = Lab.current()
    return {
        "what": ABOUT,
        "lab": lab.name,
        "case code": client.case_code,
        "opened": said(client.made_at),
        "exported": said(timezone.now()),
        "records": {
            str(model._meta.verbose_name): [told(row) for row in rows_of(model, path, client)]
            for model, path in records()
        },
    }


def records():
    """(model, path to its client) of every model of this app that belongs to a client."""
    for model in apps.get_app_config("clients").get_models():
        path = path_to_client(model)
        if path:
            yield model, path


def path_to_client(model):
    """The way from a record to its client: directly, or through the record that it belongs to."""
    links = [field for field in model._meta.get_fields() if isinstance(field, models.ForeignKey)]
    for field in links:
        if field.related_model is Client:
            return field.name
    for field in links:
        ours = field.related_model._meta.app_label == "clients"
        further = path_to_client(field.related_model) if ours else ""
        if further:
            return f"{field.name}__{further}"
    return ""


def rows_of(model, path, client):
    links = [field.name for field in model._meta.concrete_fields if field.is_relation]
    return model._default_manager.filter(**{path: client}).select_related(*links).order_by("pk")


def told(row):
    """Label and value of each field, as a person reads them."""
    fields = [field for field in row._meta.concrete_fields if field.name not in NOT_TOLD]
    return {str(field.verbose_name): value_of(row, field) for field in fields}


def value_of(row, field):
    if field.choices:
        return str(getattr(row, f"get_{field.name}_display")())
    value = getattr(row, field.name)
    return str(value) if value is not None and field.is_relation else said(value)


def said(value):
    """Numbers, lists, yes and no stay as they are; empty is None; dates and times are ISO."""
    if isinstance(value, datetime.datetime):
        return timezone.localtime(value).isoformat(timespec="minutes")
    if isinstance(value, (datetime.date, datetime.time)):
        return value.isoformat()
    return None if value == "" else value
