"""What the builds hold of a family, model by model: it is told to them on asking, and goes with their file.

Every model with a way to a client stands here, either in `HELD` or in `DEVICE` with the reason why it stays; a test
fails when one is missing. What stays is swept for names all the same (see `erasing`).
"""

from dataclasses import dataclass, field

from django.db.models import Q

from builds.bench.models import BuildStep, StepResult
from builds.drive.capture_models import Capture, FittedStick
from builds.drive.controller_models import ToldDigest
from builds.drive.models import Calibration, TimedRuns
from builds.drive.proving_models import ProvingLine, ProvingRun, StopMeasurement
from builds.followup.models import PlannedContact
from builds.papers.family.models import DiaryLine, FamilyLink, FamilyReport
from builds.papers.kinds import FOR_FAMILIES
from builds.papers.models import DrawnSignature, HandOff, IssuedPaper, PaperKind, TeachBack
from builds.papers.translations import Translation
from builds.parts.models import BuildPart, RestoreItem, RestoreKit
from builds.record.models import (
    Build,
    Configuration,
    HoldDecision,
    HoldRequest,
    Nonconformance,
    Photo,
    Problem,
    StageMove,
    Task,
)
from builds.wiring.models import SwitchingPart, WireCheck, WireFuse, WireRun
from clients.naming import ERASED

REPLACED = ("evidence", "superseded_changes", "superseded_kinds")
OF_THE_FAMILY = (*FOR_FAMILIES, PaperKind.CLINICIAN_SUMMARY)


@dataclass(frozen=True)
class Held:
    """Rows that are personal. Without `words` the row goes; with them it stays, and these fields say so instead."""

    model: type
    path: str  # from a row to its client
    says: str  # what it is, on the page before an erasure
    words: dict = field(default_factory=dict)
    secret: tuple = ()  # fields that are told to nobody
    file: str = ""  # the field with a file
    only: Q = field(default_factory=Q)

    def rows(self, client):
        return self.model._default_manager.filter(self.only, **{self.path: client}).order_by("pk")


HELD = (
    Held(
        FamilyReport, "link__build__client", "reports of the family: their words and photos",
        words={"text": ERASED, "photo": ""}, file="photo",
    ),
    Held(DiaryLine, "link__build__client", "lines of the use diary"),
    Held(
        FamilyLink, "build__client", "family links: each is revoked",
        words={"word_hash": ""}, secret=("key_digest", "word_hash"),
    ),
    Held(DrawnSignature, "paper__build__client", "signatures drawn on the screen", file="image"),
    Held(
        HandOff, "build__client", "hand-offs: the signed sheet, who signed and who interpreted",
        words={"signed_by": ERASED, "interpreted_by": ERASED, "signed_sheet": "", "signed_sheet_type": ""},
        file="signed_sheet",
    ),
    Held(
        TeachBack, "build__client", "tries of the teach-back: which adult, and the note",
        words={"note": ""}, secret=("evidence", "stale_changes"),
    ),
    Held(
        IssuedPaper, "build__client", "papers for the family as issued: the file, and whom it was given to",
        words={"given_to": ERASED, "file": ""}, secret=REPLACED, file="file",
        only=Q(kind__in=OF_THE_FAMILY),
    ),
    Held(
        IssuedPaper, "build__client", "papers of the workshop: whom they were given to",
        words={"given_to": ERASED}, secret=(*REPLACED, "file"), only=~Q(kind__in=OF_THE_FAMILY),
    ),
    Held(PlannedContact, "build__client", "calls and visits: what came of them", words={"outcome": ERASED}),
    Held(
        Photo, "build__client", "photos that show the client",
        words={"caption": "", "file": ""}, file="file", only=Q(shows_client=True),
    ),
)  # fmt: skip

# Translations belong to sentences and not to builds; those of a client's own sentences are found by their place.
BY_PLACE = Translation

# What stays with the unit, by case code and without the person, and why.
DEVICE = {
    "The work on the unit and what was found: a recall or a repair needs it": (
        Build, StageMove, BuildStep, StepResult, BuildPart, RestoreItem,
        RestoreKit, WireFuse, WireRun, SwitchingPart, WireCheck, Nonconformance,
    ),
    "Problems and tasks of the unit and what was done, without the words of the family": (
        Problem, Task,
    ),
    "Settings of the control and readings of the stick and the drive": (
        Configuration, Capture, FittedStick, Calibration, TimedRuns, ToldDigest,
        ProvingRun, ProvingLine, StopMeasurement,
    ),
    "Who let the build go on, and on which evidence: mass, side, reach, supports and the clinician who cleared it": (
        HoldRequest, HoldDecision,
    ),
}  # fmt: skip


def device_models():
    return [model for models in DEVICE.values() for model in models]


def held_models():
    return list(dict.fromkeys(one.model for one in HELD))
