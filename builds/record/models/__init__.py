"""The register of the record's models, every class by name."""

from builds.record.models.build import Build, StageMove
from builds.record.models.configuration import Configuration
from builds.record.models.decisions import HoldDecision, HoldRequest
from builds.record.models.notes import Nonconformance, Photo, Problem, Task

__all__ = [
    "Build",
    "Configuration",
    "HoldDecision",
    "HoldRequest",
    "Nonconformance",
    "Photo",
    "Problem",
    "StageMove",
    "Task",
]
