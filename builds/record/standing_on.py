"""What a release stands on, as a person reads it before and after it is given, and what of it a page showed.

The page of a hold point shows the very snapshot that a release would keep. It carries a mark of each item, so that
nobody releases evidence that changed after it was looked at.
"""

from dataclasses import dataclass

from django.utils.text import capfirst

from builds.record import voiding, voids
from labsite import seen

MARK = 12  # letters of an item's digest: enough to tell a change, short enough for a page
MOST_TOLD = 6
MOST_COLUMNS = 4
# Kind of evidence -> heading, in the order of the page.
HEADINGS = {
    "plan": "Plan",
    "incoming-step": "Incoming tests",
    "adaptation-step": "Teardown and adaptation",
    "commissioning-step": "Commissioning",
    "fitting-step": "Fitting",
    "proving-run": "Proving run",
    "timed-runs": "Timed runs",
    "stop-measurement": "Coming to stand",
    "carrying": "Load and balance",
    "harness": "Wiring findings",
    "wire-check": "Checks of wire runs",
    "wire-run": "Wire runs",
    "fuse": "Fuses",
    "switching-part": "Switches, relays and connectors",
    "calibration": "Calibration",
    "stick-fit": "Stick fit",
    "drive-settings": "Drive settings",
    "controller": "Controller",
    "configuration": "Configuration",
    "unit": "Unit",
    "unit-geometry": "Mass and wheels",
    "battery": "Battery",
    "charger": "Charger",
    "part": "Parts",
    "clearance": "Clearance",
    "client-mass": "The client's mass",
    "client-access": "Access profile",
    "client-supports": "Supports needed",
    "client-cautions": "Cautions",
    "client-places": "Places",
    "client-hours": "Hours at home",
    "paper": "Papers",
    "printed": "What papers print",
    "teach-back": "Teach-back",
    "consent": "Consents",
    "family-answer": "The family's answers",
    "kept": "What is kept",
    "restore-kit": "Restore kit",
    "hand-off": "Terms and understanding",
    "contacts": "First contacts",
    "lab": "The lab's name, phone and hours",
    "hold-before": "Earlier hold points",
}


def of_hold(build, hold, reports):
    """The snapshot that a release of this hold point would keep now."""
    decisions = list(build.hold_decisions.all())
    return voiding.snapshot(hold, voiding.hold_evidence(build, hold, voiding.all_evidence(build, reports), decisions))


@dataclass
class Item:
    """One thing that a release stands on: its name, what it asks for, its note, and (what, value) of each field."""

    label: str
    about: str
    note: str
    fields: list


@dataclass
class Group:
    heading: str
    items: list

    @property
    def columns(self):
        """What a table of these is headed with; nothing where it would be too wide, or is about one thing only."""
        names = [name for name, _ in self.items[0].fields]
        alike = all([name for name, _ in one.fields] == names for one in self.items)
        return names if alike and len(self.items) > 1 and len(names) <= MOST_COLUMNS else []


def in_words(kept):
    """The Groups of a snapshot, in the order of the headings."""
    groups = {kind: Group(heading, []) for kind, heading in HEADINGS.items()}
    for key, item in kept.items():
        groups[voiding.kind_of(key)].items.append(item_in_words(item))
    return [group for group in groups.values() if group.items]


def item_in_words(item):
    """A step tells below its name what it asks for; a step that took no reading says so."""
    label, fields = item["label"], dict(item["fields"])
    about, note = str(fields.pop("step", "")), fields.pop("note", None)
    if about and fields.get("reading", "") is None:
        fields["reading"] = "none recorded"
    said = [(capfirst(voids.name_of(name)), voiding.said(value)) for name, value in fields.items()]
    return Item(label, beyond(label, about), str(note or ""), said)


def beyond(label, text):
    """What the text says beyond the name that it begins with, which the label ends with."""
    words = text.split(" ")
    most = next((n for n in range(len(words), 0, -1) if label.endswith(" ".join(words[:n]))), 0)
    return " ".join(words[most:])


# What a page showed


PHOTOS = "photos"  # no evidence of a release, since a family may ask for one to be deleted, but looked at before one


def token(build, kept, photos=()):
    """What the page carries: a short mark of each item and the photos it showed, signed for this build."""
    return seen.seal({**marks(kept), PHOTOS: sorted(photos)}, build)


def marks(kept):
    return {key: voiding.digest(item)[:MARK] for key, item in kept.items()}


def changed_since(build, kept, sent, photos=()):
    """Labels of what is not as the page showed it; None where the page showed nothing."""
    shown = seen.unseal(sent, build)
    if shown is None:
        return None
    now, shown_photos = marks(kept), shown.pop(PHOTOS, [])
    changed = [item["label"] for key, item in kept.items() if shown.get(key) != now[key]]
    gone = len(shown.keys() - now.keys())
    more = [f"{len(changed) - MOST_TOLD} more"] if len(changed) > MOST_TOLD else []
    taken = [f"{gone} taken away"] if gone else []
    pictures = ["the photos"] if shown_photos != sorted(photos) else []
    return changed[:MOST_TOLD] + more + taken + pictures


def photos_of(build):
    """Keys of the photos that nobody struck."""
    return list(build.photos.standing().values_list("pk", flat=True))
