"""Small rows of a build and its client, fetched with the build itself: the database hands them over as JSON.

A ticket reads some thirty kinds of rows. Those that are few and plain come in the query of the build, the others by
prefetching; both end where Django keeps prefetched rows, so that a report cannot tell them apart.
"""

import json
from datetime import UTC

from django.db import models
from django.db.models import F, Func, JSONField, OuterRef
from django.db.models.functions import JSONObject
from django.utils import timezone

OF_CLIENT = ("measures", "cautions", "places", "clearances", "consents", "caregivers")
OF_BUILD = (
    "moves", "hold_requests", "tasks", "restore_items", "proving_lines", "stop_measurements", "captures", "stick_fits",
    "photos",
)  # fmt: skip
NAMES = {*OF_BUILD, *(f"client__{name}" for name in OF_CLIENT)}
MARK = "_json_of_"


class RowsOf(Func):
    """The rows of one table that point at this row, as one JSON array.

    In SQL of our own: Django would put the same text together anew, column by column, each time a build is read.
    """

    output_field = JSONField()

    def __init__(self, outer, link):
        super().__init__(outer)
        self.link = link

    def as_sql(self, compiler, connection, **extra):
        model, quote = self.link.related_model, connection.ops.quote_name
        outer, params = compiler.compile(self.source_expressions[0])
        table, points = quote(model._meta.db_table), quote(self.link.field.column)
        array = self.array_of(model, table, quote)
        return f"(SELECT {array} FROM {table} WHERE {table}.{points} = {outer})", params  # noqa: S608 - names of ours

    def array_of(self, model, table, quote):
        return f"JSONB_AGG(TO_JSONB({table}))"

    def as_sqlite(self, compiler, connection, **extra):
        return OnSQLite(self.source_expressions[0], self.link).as_sql(compiler, connection)


class OnSQLite(RowsOf):
    def array_of(self, model, table, quote):
        columns = [field.column for field in model._meta.concrete_fields]
        pairs = ", ".join(f"'{column}', {table}.{quote(column)}" for column in columns)
        return f"JSON_GROUP_ARRAY(JSON_OBJECT({pairs}))"


def annotated(builds):
    """The queryset of builds with these rows beside each build."""
    client = builds.model._meta.get_field("client").related_model
    rows = {f"{MARK}{name}": rows_of(client, name, "client_id") for name in OF_CLIENT}
    rows[f"{MARK}known"] = JSONObject(**client.objects.what_is_known(OuterRef("client")))
    return builds.annotate(**rows, **{f"{MARK}{name}": rows_of(builds.model, name, "pk") for name in OF_BUILD})


def rows_of(parent, name, outer):
    return RowsOf(F(outer), parent._meta.get_field(name))


def unpack(build):
    """Put the rows where `build.tasks.all()` and `build.client.places.all()` look for them."""
    known = build.__dict__.pop(f"{MARK}known")
    build.client.what_is_known = {name: bool(value) for name, value in known.items()}
    for parent, names in ((build.client, OF_CLIENT), (build, OF_BUILD)):
        for name in names:
            keep(parent, name, build.__dict__.pop(f"{MARK}{name}") or [])
    know_the_problems(build)


def know_the_problems(build):
    """The problem that a task is about is fetched with the build already."""
    problems = {one.pk: one for one in build.problems.all()}
    for task in build.tasks.all():
        if task.problem_id in problems:
            task.problem = problems[task.problem_id]


def keep(parent, name, rows):
    link = parent._meta.get_field(name)
    made = [row_of(link.related_model, one, parent._state.db) for one in rows]
    for one in made:
        setattr(one, link.field.name, parent)
    queryset = getattr(parent, name).get_queryset()
    queryset._result_cache = in_order(made, link.related_model._meta.ordering)
    queryset._prefetch_done = True
    if not hasattr(parent, "_prefetched_objects_cache"):
        parent._prefetched_objects_cache = {}
    parent._prefetched_objects_cache[name] = queryset


def row_of(model, values, db):
    fields = model._meta.concrete_fields
    return model.from_db(db, [one.attname for one in fields], [read(one, values[one.column]) for one in fields])


def read(field, value):
    """The value as the field has it; SQLite hands over JSON as text and times without their zone."""
    if isinstance(field, JSONField):
        return json.loads(value) if isinstance(value, str) else value
    value = field.to_python(value)
    if isinstance(field, models.DateTimeField) and value is not None and timezone.is_naive(value):
        return timezone.make_aware(value, UTC)
    return value


def in_order(rows, ordering):
    for name in reversed(ordering):
        rows.sort(key=lambda row, name=name: getattr(row, name.lstrip("-")), reverse=name.startswith("-"))
    return rows
