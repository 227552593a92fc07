"""The harness of a demo build: what the plan left to be measured, and the two rounds of checks."""

from builds.demo.factories.wiring import check_runs
from builds.record.rules import forget_prefetched

MAIN_FUSE_M = 0.12


def measure(build, builder):
    """Write down where the fuses sit: the first at the battery, further ones at the end of the wire behind it."""
    behind_m = 0.0
    for fuse in build.fuses.order_by("pk"):
        fuse.distance_m = MAIN_FUSE_M if not behind_m else behind_m
        fuse.sheathed = "yes" if behind_m else "no"
        fuse.deviation_by = builder
        fuse.save(update_fields=["distance_m", "sheathed", "deviation_by"])
        behind_m = behind_m or wire_to_branch_m(build)
    forget_prefetched(build)


def wire_to_branch_m(build):
    """From the battery's post over the first two runs to where a second fuse branches off."""
    return MAIN_FUSE_M + sum(run.length_m for run in build.wire_runs.order_by("order")[1:2])


def check_all(build, account, round):
    """Every run that waits in this round is looked at and found right."""
    check_runs(build, account, round)
    forget_prefetched(build)
