"""The two rounds of checks. A check counts only for the run as it was checked; the second round is blind."""

import hashlib
import json
from dataclasses import dataclass

from builds.wiring.models import WireCheck

ELECTRICAL = (
    "code", "start", "end", "gauge", "insulation_c", "bundle", "conductor_c", "colour", "length_m", "running_a",
    "stall_a", "role", "motor_circuit", "side", "in_arm", "spliced", "fuse_id", "label_start", "label_end",
    "termination_start", "termination_end",
)  # fmt: skip
TICK_LABELS = {name: str(WireCheck._meta.get_field(name).verbose_name) for name in WireCheck.TICKS}
RIGHT, WRONG = WireCheck.Tick.RIGHT, WireCheck.Tick.WRONG


def run_digest(run):
    """SHA-256 over what a check of this run stands on."""
    words = {name: getattr(run, name) for name in ELECTRICAL}
    for name, value in words.items():
        words[name] = float(value) if name.endswith(("_a", "_c", "_m")) and value is not None else value
    text = json.dumps(words, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()


@dataclass(frozen=True)
class Checked:
    """A run with the checks that count for it as it is now."""

    run: object
    first: WireCheck | None
    second: WireCheck | None

    @property
    def has_both(self):
        return self.first is not None and self.second is not None

    @property
    def differing(self):
        """Names of the ticks on which the two persons do not agree."""
        if not self.has_both:
            return []
        return [name for name in WireCheck.TICKS if getattr(self.first, name) != getattr(self.second, name)]

    @property
    def tick_pairs(self):
        """(label, first person's word, second person's word, whether they agree) for each tick."""
        return [
            (label, say(self.first, name), say(self.second, name), name not in self.differing)
            for name, label in TICK_LABELS.items()
        ]

    def is_right(self, tick):
        return self.has_both and getattr(self.first, tick) == getattr(self.second, tick) == RIGHT


def say(check, tick):
    return getattr(check, f"get_{tick}_display")() if check else "not checked yet"


def checked(run):
    """This run and its counting checks, from rows already fetched: the newest of each round that stands."""
    now = run_digest(run)
    found = {}
    for check in sorted(run.checks.all(), key=lambda one: one.pk):
        if not check.is_struck and check.run_digest == now:
            found[check.round] = check
    return Checked(run, found.get(WireCheck.Round.FIRST), found.get(WireCheck.Round.SECOND))


def standing_runs(build):
    return [run for run in build.wire_runs.all() if not run.is_struck]


def checked_runs(build):
    return [checked(run) for run in standing_runs(build)]


def may_be_compared(rows):
    """Ticks of both persons are shown to anybody only when every run has both."""
    return bool(rows) and all(row.has_both for row in rows)
