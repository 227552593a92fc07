"""Teach-back: each supervising adult shows or says each item; the newest try counts, and no longer than it is true."""

from dataclasses import dataclass, field

from django.db import transaction
from django.utils import timezone

from builds.papers.models import TeachBack
from builds.record import voiding, voids
from builds.record.rules import Refused


@dataclass
class Cell:
    """One adult and one item: every try, the newest last."""

    adult: object
    item: dict
    tries: list = field(default_factory=list)  # those that nobody has struck
    struck: list = field(default_factory=list)

    @property
    def newest(self):
        return self.tries[-1] if self.tries else None

    @property
    def state(self):
        if self.newest is None:
            return "open"
        if self.newest.stale_at is not None:
            return "stale"
        return "passed" if self.newest.right else "again"

    @property
    def is_passed(self):
        return self.state == "passed"


def supervising_adults(build):
    """In the order in which they were written down, so that builders may read "adult 2" and learn no name."""
    adults = [one for one in build.client.caregivers.all() if one.supervises]
    return sorted(adults, key=lambda one: one.pk)


def items(build):
    return build.plan_revision.content.get("teach_back", [])


def cells_of(build, adult):
    tries = [one for one in build.teach_backs.all() if one.adult_id == adult.pk]
    return [
        Cell(
            adult,
            item,
            [one for one in tries if one.item == item["code"] and not one.is_struck],
            [one for one in tries if one.item == item["code"] and one.is_struck],
        )
        for item in items(build)
    ]


def grid(build):
    """(item, its cell for each adult) pairs; the adults in the order of `supervising_adults`."""
    columns = [cells_of(build, adult) for adult in supervising_adults(build)]
    return [(item, [column[row] for column in columns]) for row, item in enumerate(items(build))]


def is_passed(build, adult):
    return all(cell.is_passed for cell in cells_of(build, adult))


def teachers(build, adult):
    """Who taught this adult what still counts, each once, in the order of the first try."""
    tries = [one for cell in cells_of(build, adult) for one in cell.tries if one.stale_at is None]
    return list(dict.fromkeys(one.teacher for one in tries))


def what_is_missing(build):
    """What keeps the teach-back from being passed, without a name; empty when every adult has passed."""
    adults = supervising_adults(build)
    if not adults:
        return "No supervising adult is named yet."
    missing = []
    for number, adult in enumerate(adults, 1):
        left = sum(not cell.is_passed for cell in cells_of(build, adult))
        if left:
            missing.append(f"adult {number} of {len(adults)}: {left} of {len(items(build))} items")
    return f"Still to show or say: {'; '.join(missing)}." if missing else ""


@transaction.atomic
def record_try(build, account, *, adult, item, how, right, note="", taught_by=""):
    """One try of one adult at one item, true for the record as it is now."""
    configuration = build.configuration()
    if configuration is None:
        raise Refused("There is no configuration yet. Set it before you teach.")
    if item not in {one["code"] for one in items(build)}:
        raise Refused("This item is not in the plan of this build. Choose an item of the list.")
    if adult.client_id != build.client_id or not adult.supervises:
        raise Refused("This adult is not marked as supervising. Mark that on the client's page first.")
    return TeachBack.objects.create(
        build=build,
        configuration=configuration,
        adult=adult,
        item=item,
        how=how,
        right=right,
        note=note,
        taught_by=taught_by,
        evidence=voiding.snapshot(voids.TEACH_BACK, voiding.all_evidence(build)),
        made_by=account,
    )


def standing(build):
    """Tries that still speak for the record as it is."""
    return list(build.teach_backs.filter(struck_at__isnull=True, stale_at__isnull=True))


def make_stale(row, changes, account=None):
    row.stale_at = timezone.now()
    row.stale_changes = changes
    row.save(update_fields=["stale_at", "stale_changes"])


def why_stale(build):
    """The changes that made teach-back stale, once each, the newest first."""
    lines = []
    for one in sorted(build.teach_backs.all(), key=lambda row: -row.pk):
        if one.stale_at is not None and not one.is_struck:
            lines += [line for line in one.stale_changes if line not in lines]
    return lines
