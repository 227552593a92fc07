"""The register of models: every class of every room by name. Django finds models through this file only."""

from builds.bench.models import BuildStep, StepResult
from builds.drive.capture_models import Capture, FittedStick
from builds.drive.controller_models import ToldDigest
from builds.drive.models import Calibration, TimedRuns
from builds.drive.proving_models import ProvingLine, ProvingRun, StopMeasurement
from builds.followup.models import PlannedContact
from builds.papers.family.models import DiaryLine, FamilyLink, FamilyReport
from builds.papers.models import DrawnSignature, HandOff, IssuedPaper, TeachBack
from builds.papers.translations import CatalogueReading, Translation
from builds.parts.models import (
    BaseUnit,
    BaseUnitType,
    Battery,
    BuildPart,
    Charger,
    RestoreItem,
    RestoreKit,
    UnitMark,
)
from builds.plans.models import Plan, PlanRevision
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

__all__ = [
    "BaseUnit",
    "BaseUnitType",
    "Battery",
    "Build",
    "BuildPart",
    "BuildStep",
    "Calibration",
    "Capture",
    "CatalogueReading",
    "Charger",
    "Configuration",
    "DiaryLine",
    "DrawnSignature",
    "FamilyLink",
    "FamilyReport",
    "FittedStick",
    "HandOff",
    "HoldDecision",
    "HoldRequest",
    "IssuedPaper",
    "Nonconformance",
    "Photo",
    "Plan",
    "PlanRevision",
    "PlannedContact",
    "Problem",
    "ProvingLine",
    "ProvingRun",
    "RestoreItem",
    "RestoreKit",
    "StageMove",
    "StepResult",
    "StopMeasurement",
    "SwitchingPart",
    "Task",
    "TeachBack",
    "TimedRuns",
    "ToldDigest",
    "Translation",
    "UnitMark",
    "WireCheck",
    "WireFuse",
    "WireRun",
]
