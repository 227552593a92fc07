"""What the builds show on a client's page and keep about a family, without this app knowing them."""

from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field

from django.db.models import Q

around_many_saves = []  # callables () -> context manager: what follows from each row is done once, at the end
growth_outlooks = []  # callables (client, builds, identified) -> one outlook for each build that a rider outgrows


@dataclass
class Kept:
    """What another app keeps about a client, for the copy that a family asks for."""

    records: dict = field(default_factory=dict)  # kind of record -> rows as a person reads them
    files: list = field(default_factory=list)  # (its name in the copy, the kept file) pairs
    trail: Q = field(default_factory=lambda: Q(pk__in=[]))  # which entries of the trail of changes belong to it


kept_elsewhere = []  # callables (client) -> Kept
in_the_way = []  # callables (client) -> sentences: why the file may not be erased yet
goes_with_the_file = []  # callables (client) -> (what goes, how many) pairs, for the page before an erasure
stays_without_the_file = []  # callables (client) -> sentences: what stays of the client, and why
names_elsewhere = []  # callables (client) -> names of the family that are kept outside this app
photos_refused = []  # callables (client) -> how many photos that may show the client were let go
erase_elsewhere = []  # callables (client, names, account) -> names of the files that go with it


@contextmanager
def saved_together():
    """One form saves many rows of a client; whatever stands on them is looked at once, when all are saved."""
    with ExitStack() as stack:
        for around in around_many_saves:
            stack.enter_context(around())
        yield
