"""The harness: everybody on the build and above reads; who does the work does not check it as the second person."""

from builds.demo.factories.wiring import ALL_RIGHT, WireFuseFactory
from builds.models import WireCheck
from builds.wiring.checks import run_digest
from builds.wiring.rules import record_check
from tests.access.record import BENCH, CHECK, READS, done, refused
from tests.access.rows import row

REASON = {"reason": "Not fitted on this unit"}

ROWS = [
    row("harness", **READS),
    row("wire_run_new", **BENCH),
    row("wire_run_new", "POST", **refused(BENCH)),
    row("wire_run_edit", **BENCH),
    row("wire_run_edit", "POST", **refused(BENCH)),
    row("wire_run_strike", **BENCH),
    row("wire_run_strike", "POST", data=REASON, **done(BENCH)),
    row("wire_fuse_new", **BENCH),
    row("wire_fuse_new", "POST", **refused(BENCH)),
    row("wire_fuse_edit", **BENCH),
    row("wire_fuse_edit", "POST", **refused(BENCH)),
    row("wire_fuse_strike", **BENCH),
    row("wire_fuse_strike", "POST", data=REASON, **done(BENCH)),
    row("switching_part_new", **BENCH),
    row("switching_part_new", "POST", **refused(BENCH)),
    row("switching_part_edit", **BENCH),
    row("switching_part_edit", "POST", **refused(BENCH)),
    row("switching_part_strike", **BENCH),
    row("switching_part_strike", "POST", data=REASON, **done(BENCH)),
    row("wire_checks", **READS),
    row("wire_check", **BENCH),
    row("wire_check", "POST", **refused(BENCH)),
    row("wire_check_strike", **CHECK),
    row("wire_check_strike", "POST", data=REASON, **{**CHECK, "coordinator": 302, "builder": 302, "reviewer": 422}),
    row("second_check", **READS),
    row("second_check_run", **CHECK),
    row("second_check_run", "POST", **refused(CHECK)),
    row("check_differences", **READS),
]


def arguments(world):
    build = world.build
    number = {"number": build.number}
    run, part = build.wire_runs.first(), build.switching_parts.first()
    spare = WireFuseFactory(build=build, deviation_by=world.builder)
    first = WireCheck.Round.FIRST
    check = record_check(run, world.builder, first, ALL_RIGHT, seen_digest=run_digest(run))
    of_build = ("harness", "wire_run_new", "wire_fuse_new", "switching_part_new", "wire_checks", "second_check")
    of_run = ("wire_run_edit", "wire_run_strike", "wire_check", "second_check_run")
    return {
        **dict.fromkeys((*of_build, "check_differences"), number),
        **dict.fromkeys(of_run, {**number, "pk": run.pk}),
        **dict.fromkeys(("wire_fuse_edit", "wire_fuse_strike"), {**number, "pk": spare.pk}),
        **dict.fromkeys(("switching_part_edit", "switching_part_strike"), {**number, "pk": part.pk}),
        "wire_check_strike": {**number, "pk": check.pk},
    }
