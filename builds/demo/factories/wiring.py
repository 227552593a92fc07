"""A harness as a build has it once it is made and checked. Checks go through the same rule as those of a person."""

import factory
from factory.django import DjangoModelFactory

from builds.wiring.checks import checked_runs, run_digest
from builds.wiring.models import SwitchingPart, WireCheck, WireFuse, WireRun
from builds.wiring.rules import record_check

ALL_RIGHT = dict.fromkeys(WireCheck.TICKS, WireCheck.Tick.RIGHT)


class WireFuseFactory(DjangoModelFactory):
    """A fuse added at the bench; it needs `build`."""

    class Meta:
        model = WireFuse

    code = factory.Sequence(lambda n: f"F{n + 50}")
    rating_a = 15.0
    distance_m = 0.12
    sheathed = "no"
    deviation_reason = "One more circuit"


class WireRunFactory(DjangoModelFactory):
    """A run added at the bench, everything of it known; it needs `build`."""

    class Meta:
        model = WireRun

    code = factory.Sequence(lambda n: f"W{n + 50}")
    order = factory.Sequence(lambda n: 1000 + n * 10)
    start = "Controller board, lamp output"
    end = "Lamp"
    gauge = "14 AWG"
    insulation_c = 105.0
    bundle = 2
    conductor_c = 60.0
    colour = "red"
    length_m = 0.6
    running_a = 8.0
    stall_a = 20.0
    role = WireRun.Role.POWER
    motor_circuit = "yes"
    in_arm = "no"
    spliced = "no"
    label_start = factory.LazyAttribute(lambda run: f"{run.code} A")
    label_end = factory.LazyAttribute(lambda run: f"{run.code} B")
    termination_start = WireRun.Termination.CRIMP
    termination_end = WireRun.Termination.CRIMP
    deviation_reason = "One more circuit"


class SwitchingPartFactory(DjangoModelFactory):
    """A switch added at the bench; it needs `build`."""

    class Meta:
        model = SwitchingPart

    code = factory.Sequence(lambda n: f"S{n + 50}")
    name = "Key switch"
    kind = SwitchingPart.Kind.SWITCH
    motor_circuit = "yes"
    rating_dc_a = 60.0
    stall_a = 20.0
    deviation_reason = "One more switch"


def measure_harness(build, distance_m=0.12):
    """Fill in what the plan left to be measured at the bench: where the fuses sit, and currents of motors."""
    for place, fuse in enumerate(build.fuses.order_by("pk")):
        fuse.distance_m = distance_m if place == 0 else 0.0  # the later ones lie behind the first
        fuse.sheathed = "no"
        fuse.save(update_fields=["distance_m", "sheathed"])
    for run in build.wire_runs.all():
        run.length_m = run.length_m or 0.5
        run.spliced = "no" if run.spliced == "unknown" else run.spliced
        run.save(update_fields=["length_m", "spliced"])


def check_runs(build, account, round=WireCheck.Round.FIRST, **ticks):
    """Tick every run that waits in this round; `ticks` differ from all right."""
    rows = checked_runs(type(build).objects.get(pk=build.pk))
    waiting = [row.run for row in rows if (row.first if round == WireCheck.Round.FIRST else row.second) is None]
    for run in waiting:
        record_check(run, account, round, {**ALL_RIGHT, **ticks}, seen_digest=run_digest(run))
