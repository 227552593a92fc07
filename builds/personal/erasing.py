"""The builds' part of an erasure: what they hold of the family goes, and no name is left in what stays.

Rows that stay are changed without signals: a release is judged no more once the client is erased, and the trail gets no
new values. The digest of a release stays as it was: it tells that the evidence was another before.
"""

import re

from auditlog.models import LogEntry
from django.contrib.contenttypes.models import ContentType
from django.db import models

from builds.papers.family.rules import without_their_words
from builds.papers.models import IssuedPaper, TeachBack
from builds.personal.held import BY_PLACE, DEVICE, HELD, OF_THE_FAMILY, device_models, held_models
from builds.personal.sentences import let_go
from builds.record.holds import OVER, Stage, Standing
from builds.record.models import Build, HoldDecision, Problem, Task
from clients.export import path_to_client
from clients.naming import ERASED

DONE_WITH = (Stage.RETURNED, *OVER)
# How the record names the client's own evidence: what follows in a list of changes is theirs.
OWN = re.compile(r"\b(Cautions|Places|Hours at home|Clearance: conditions): .*", re.DOTALL)
REPORTED = (
    "A problem that the family reported of build {} is not settled. Settle it first, in words about the unit: what the "
    "family wrote goes, what you write stays."
)
NOTHING = "None"  # as the trail writes what was not there before
CHANGE_LISTS = {"void_changes", "superseded_changes", "stale_changes"}


def what_stands_in_the_way(client):
    for build in client.builds.order_by("serial"):
        if build.stage == Stage.IN_USE:
            yield f"Build {build.number} is with the family. Take the unit back first: the papers must stay true."
        elif build.standing != Standing.CANCELLED and build.stage not in DONE_WITH:
            yield f"Build {build.number} is at {build.get_stage_display()}. Finish it and take it back, or cancel it."
        if build.problems.filter(family_report__isnull=False, settled_at__isnull=True, struck_at__isnull=True).exists():
            yield REPORTED.format(build.number)
        for task in build.tasks.filter(done_at__isnull=True):
            yield f"A task of build {build.number} is open: “{task.text}” Do it first, or say what came of it."


def what_goes(client):
    return [(held.says, held.rows(client).count()) for held in HELD]


def what_stays(client):
    if not client.builds.exists():
        return []
    return [
        *DEVICE,
        "Names, addresses and numbers of the family are taken out of all of it: each becomes [erased]",
        "Photos of the unit in which the client cannot be seen",
        "For every issued paper its kind, copy, configuration and digest",
    ]


def names_kept_here(client):
    papers = IssuedPaper.objects.filter(build__client=client).values_list("given_to", flat=True)
    signed = Build.objects.filter(client=client, hand_off__isnull=False).values_list("hand_off__signed_by", flat=True)
    return [name for name in (*papers, *signed) if name]


def erase(client, names, account):
    """Returns the names of the files that go. The caller deletes them when the erasure is certain."""
    told = told_in(client, names)  # before anything is emptied
    files, gone = [], {BY_PLACE: let_go(client)}
    revoke_links(client, account)
    for held in HELD:
        rows = held.rows(client)
        pks = list(rows.values_list("pk", flat=True))
        files += files_of(held, rows)
        if held.words:
            empty(held, pks)
        else:
            rows.delete()
            gone.setdefault(held.model, []).extend(pks)
    files += papers_with_names(client) if told else []
    for model in (*device_models(), *held_models()):
        sweep(model, client, names)
    for model, pks in gone.items():
        entries_of(model, pks).update(object_repr=ERASED, changes={}, changes_text="", serialized_data=None)
    return files


def files_of(held, rows):
    return [name for name in rows.values_list(held.file, flat=True) if name] if held.file else []


def empty(held, pks):
    """Put the words in place where there was something."""
    for field, instead in held.words.items():
        held.model._default_manager.filter(pk__in=pks).exclude(**{field: ""}).update(**{field: instead})


def revoke_links(client, account):
    for build in client.builds.all():
        for link in build.family_links.filter(revoked_at__isnull=True):
            link.revoke(account)


def papers_with_names(client):
    """As-built records, where something in the record named somebody: they may have it too."""
    rows = IssuedPaper.objects.filter(build__client=client).exclude(kind__in=OF_THE_FAMILY)
    files = [name for name in rows.values_list("file", flat=True) if name]
    rows.update(file="")
    return files


def told_in(client, names):
    """Whether the record of the unit, or what it said before, names somebody of the family."""
    for model in device_models():
        rows = rows_of(model, client)
        for row in rows:
            if any(names.out_of(value) != value for value in columns(model, row).values()):
                return True
        for entry in entries_of(model, [row.pk for row in rows]):
            if names.out_of(entry.changes) != entry.changes:
                return True
    return False


def rows_of(model, client):
    return list(model._default_manager.filter(**{path_to_client(model): client}).order_by("pk"))


def columns(model, row):
    """Text that a person may have written, and what was gathered from it."""
    found = {}
    for field in model._meta.concrete_fields:
        is_text = isinstance(field, (models.CharField, models.TextField)) and not field.choices and not field.unique
        is_file = isinstance(field, models.FileField)
        if (is_text and not is_file) or isinstance(field, models.JSONField):
            found[field.name] = getattr(row, field.name)
    return found


def sweep(model, client, names):
    """No name is left in these rows and in their trail, nor what the client's own evidence said."""
    rows = rows_of(model, client)
    for row in rows:
        before = columns(model, row)
        theirs = is_theirs(row)
        after = {name: names.out_of(cleared(model, name, value, theirs)) for name, value in before.items()}
        changed = {name: fitting(model, name, value) for name, value in after.items() if value != before[name]}
        if changed:
            model._default_manager.filter(pk=row.pk).update(**changed)
    of_theirs = {row.pk for row in rows if is_theirs(row)}
    for entry in entries_of(model, [row.pk for row in rows]):
        clear_entry(model, entry, names, entry.object_id in of_theirs)


def fitting(model, name, value):
    longest = getattr(model._meta.get_field(name), "max_length", None)
    return value[:longest] if isinstance(value, str) and longest else value


def is_theirs(row):
    return isinstance(row, (Problem, Task)) and row.told_by_the_family


def cleared(model, name, value, theirs=False):
    """One column without what the client's own evidence said, nor what the family told where the row is theirs."""
    if name == "evidence" and model in (HoldDecision, TeachBack):
        return without_the_person(value)
    if name == "evidence" and model is IssuedPaper:
        return {target: without_the_person(kept) for target, kept in value.items()}
    if name in CHANGE_LISTS:
        return [OWN.sub(rf"\1: {ERASED}", line) for line in value]
    return cleared_text(model, value, theirs) if name == "text" else value


def without_the_person(kept):
    """A snapshot with the measures, the side and the slopes it stood on, and without what was written of the client."""
    return {key: {**item, "fields": fields_without(key, item["fields"])} for key, item in kept.items()}


def fields_without(key, fields):
    if key in ("client-cautions", "client-hours"):
        return dict.fromkeys(fields, ERASED)
    if key == "client-places":
        return {name: PLACES[name](value) for name, value in fields.items()}
    if key == "clearance" and fields.get("conditions"):
        return {**fields, "conditions": ERASED}
    return fields


PLACES = {
    "slopes": lambda value: {f"place {number}": value[name] for number, name in enumerate(sorted(value), 1)},
    "hazards": lambda value: ERASED,
}


def entries_of(model, pks):
    return LogEntry.objects.filter(content_type=ContentType.objects.get_for_model(model), object_id__in=pks)


def clear_entry(model, entry, names, theirs=False):
    """Who, when and which kind stay; personal columns lose their values, the others any name."""
    personal = {name for held in HELD if held.model is model for name in (*held.words, *held.secret)}
    kept = {name: pair for name, pair in (entry.changes or {}).items() if name not in personal}
    kept = {name: [cleared_text(model, one, theirs and name == "text") for one in pair]
            if isinstance(pair, list) else pair for name, pair in kept.items()}  # fmt: skip
    kept = names.out_of(kept)
    said = names.out_of(entry.object_repr)
    if kept != entry.changes or said != entry.object_repr or entry.changes_text:
        entry.changes, entry.object_repr, entry.changes_text, entry.serialized_data = kept, said, "", None
        entry.save(update_fields=["changes", "object_repr", "changes_text", "serialized_data"])


def cleared_text(model, value, theirs=False):
    """The words of a task or of the problem log without what the family said and what was said of the client."""
    if model not in (Task, Problem) or not isinstance(value, str):
        return value
    left = without_their_words(value)
    if theirs and left == value and value != NOTHING and not value.endswith(ERASED):
        return ERASED  # begun in other words than now: which of them are the family's, nobody can tell
    return OWN.sub(rf"\1: {ERASED}", left)
