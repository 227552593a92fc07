"""Photos in which the client may be seen are kept only as far as the family says yes."""

from django.core.files.storage import default_storage
from django.db import transaction

from builds.papers.family.models import FamilyReport
from builds.record.models import Photo
from labsite.marks import YesNoUnknown


@transaction.atomic
def let_go(client):
    """Delete the pictures; the rows stay, so that a result that stood on one says so. Returns how many went."""
    ours = Photo.objects.filter(build__client=client, shows_client=True).exclude(file="")
    theirs = FamilyReport.objects.filter(link__build__client=client).exclude(shows_client=YesNoUnknown.NO)
    theirs = theirs.exclude(photo="")
    names = [*ours.values_list("file", flat=True), *theirs.values_list("photo", flat=True)]
    ours.update(file="")
    theirs.update(photo="", photo_refused=True)
    transaction.on_commit(lambda: [default_storage.delete(name) for name in names])
    return len(names)
