"""To erase the file of a family: what stands in the way, what goes, what stays, and the erasing itself.

Two people erase. Every record of this app that belongs to a client goes, a new model too, unless `WORDS` says which of
its fields are emptied instead: the referrals keep their dates, so that the lab can tell how long people waited. What
other apps hold goes by their own hooks. The trail of changes keeps who, when and which kind of record, without values.
"""

from auditlog.models import LogEntry
from django.contrib.contenttypes.models import ContentType
from django.core.exceptions import PermissionDenied, ValidationError
from django.core.files.storage import default_storage
from django.db import connection, transaction
from django.utils import timezone

from clients import hooks
from clients.export import records
from clients.models import CaseMove, Client, Erasure, Referral
from clients.naming import ERASED, Identity

# Fields that are emptied where the row stays.
WORDS = {
    Referral: ("referrer_name", "referrer_role", "referrer_organisation", "referrer_contact", "reason",
               "outcome_reason"),
    CaseMove: ("reason",),
}  # fmt: skip
STAYS = (
    "The case code, with the dates of each referral, its outcome, and who made each move",
    "Who opened the file and who changed it, and when; what was changed is emptied",
    "Who asked for this, who began it, who confirmed it, when and why",
)
OPEN = "The case is open. Close it with its outcome first."
ANOTHER = "Two people erase a file. Whoever began it does not confirm it."
GONE = "The file of {} is erased. Nothing is added to it any more."


def what_stands_in_the_way(client):
    """Why the file may not be erased yet, in sentences; an empty list when it may."""
    found = [OPEN] if client.referrals.waiting().exists() else []
    return found + [sentence for ask in hooks.in_the_way for sentence in ask(client)]


def what_goes(client):
    """(what, how many) pairs of everything that would be erased now."""
    pairs = [
        (str(model._meta.verbose_name), model._default_manager.filter(**{path: client}).count())
        for model, path in records()
        if model not in WORDS and model is not Erasure
    ]
    words = sum(model._default_manager.filter(**{path: client}).count() for model, path in records() if model in WORDS)
    pairs.append(("words in referrals and moves of the case", words))
    pairs += [pair for ask in hooks.goes_with_the_file for pair in ask(client)]
    return [(what[:1].upper() + what[1:], count) for what, count in pairs if count]


def what_stays(client):
    return [*STAYS, *(sentence for ask in hooks.stays_without_the_file for sentence in ask(client))]


def refuse_change(client, request):
    """Whoever changes something waits for an erasure that is under way, and then finds the file gone."""
    now = locked(client) if request.method == "POST" else client
    if now.is_erased:
        raise PermissionDenied(GONE.format(client.case_code))


@transaction.atomic
def begin(erasure):
    """Ask for an erasure; it comes unsaved from the form."""
    client = locked(erasure.client)
    refuse_while(client)
    if client.erasure():
        raise ValidationError("This was begun already. Look at the client's page.")
    erasure.save(force_insert=True)


def locked(client):
    return Client.objects.select_for_update().get(pk=client.pk)


def refuse_while(client):
    reasons = what_stands_in_the_way(client)
    if reasons:
        raise ValidationError(reasons)


@transaction.atomic
def take_back(erasure, account, reason):
    locked(erasure.client)
    erasure.refresh_from_db()
    if not erasure.waits:
        raise ValidationError("This does not wait any more. Look at the client's page.")
    erasure.declined_by, erasure.declined_at, erasure.declined_reason = account, timezone.now(), reason
    erasure.save(update_fields=["declined_by", "declined_at", "declined_reason"])


@transaction.atomic
def confirm(erasure, account):
    """Erase. Done twice, it deletes only the files that the first time left."""
    client = locked(erasure.client)
    erasure.refresh_from_db()
    if erasure.confirmed_at is None:
        if erasure.declined_at is not None:
            raise ValidationError("This was taken back. Look at the client's page.")
        if erasure.begun_by_id == account.pk:
            raise ValidationError(ANOTHER)
        refuse_while(client)
        erasure.files_left = erase(client, account)
        erasure.confirmed_by, erasure.confirmed_at = account, timezone.now()
        erasure.save(update_fields=["confirmed_by", "confirmed_at", "files_left"])
    transaction.on_commit(lambda: delete_files(erasure.pk))


def erase(client, account):
    """All of it, inside the transaction of the caller; returns the names of the files to delete afterwards."""
    names = Identity(client, [name for ask in hooks.names_elsewhere for name in ask(client)])
    client.erased_at = timezone.now()  # first: from now on no release of this client's builds is judged again
    client.save(update_fields=["erased_at"])
    files = [name for act in hooks.erase_elsewhere for name in act(client, names, account)]
    for model, path in records():
        rows = model._default_manager.filter(**{path: client})
        if model in WORDS:
            for field in WORDS[model]:
                rows.exclude(**{field: ""}).update(**{field: ERASED})
        elif model is not Erasure:
            rows.delete()
    empty_trail(client)
    return files


def empty_trail(client):
    """Who, when and which kind of record stay."""
    of_erasure = ContentType.objects.get_for_model(Erasure)
    entries = LogEntry.objects.filter(additional_data__client=client.pk).exclude(content_type=of_erasure)
    entries.update(object_repr=ERASED, changes={}, changes_text="", serialized_data=None)


def delete_files(pk):
    """After the commit. What cannot be deleted is kept in mind, so that somebody can try again."""
    erasure = Erasure.objects.get(pk=pk)
    left = [name for name in erasure.files_left if not is_deleted(name)]
    if left != erasure.files_left:
        erasure.files_left = left
        erasure.save(update_fields=["files_left"])
    empty_the_log()


def is_deleted(name):
    try:
        default_storage.delete(name)
    except OSError:
        return False
    return not default_storage.exists(name)


def empty_the_log():
    """SQLite keeps what was written in a log beside the database; the old pages in it are to go too."""
    if connection.vendor == "sqlite" and not connection.in_atomic_block:
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
