"""Numbers that count on: the next one is given to one transaction at a time."""

from django.contrib.contenttypes.models import ContentType
from django.db.models import Max


def next_number(rows, column, first):
    """One more than the greatest of all rows. Call inside a transaction: whoever asks next waits until it is through.

    The lock is on the row that names the model, since the last row of a table is no lock on the one after it.
    """
    kind = ContentType.objects.get_for_model(rows.model)
    ContentType.objects.select_for_update(no_key=True).get(pk=kind.pk)
    last = rows.aggregate(last=Max(column))["last"]
    return first if last is None else last + 1
