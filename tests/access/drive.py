"""The drive and the configuration: read by everybody on the build, set by its builders and the coordinator."""

from builds.demo.factories.drive import make_calibration, make_ride_settings, make_timed_runs
from builds.demo.factories.proving import make_stop
from tests.access.record import BENCH, CHECK, READS, done, refused
from tests.access.rows import row

ROWS = [
    row("configurations", **READS),
    row("configuration_edit", **BENCH),
    row("configuration_edit", "POST", **refused(BENCH)),
    row("calibrations", **READS),
    row("calibration_new", **BENCH),
    row("calibration_new", "POST", **refused(BENCH)),
    row("calibration_accept", "POST", **done(BENCH)),
    row("calibration_strike", **BENCH),
    row("calibration_strike", "POST", data={"reason": "The stick was held"}, **done(BENCH)),
    row("timed_runs", **READS),
    row("timed_runs_new", **BENCH),
    row("timed_runs_new", "POST", **refused(BENCH)),
    row("timed_runs_strike", **BENCH),
    row("timed_runs_strike", "POST", data={"reason": "The marks had moved"}, **done(BENCH)),
    row("drive_map", **READS),
    row("stop_new", **BENCH),
    row("stop_new", "POST", **refused(BENCH)),
    row("stop_strike", **BENCH),
    row("stop_strike", "POST", data={"reason": "The marks had moved"}, **done(BENCH)),
    row("fault_finding", query="forward=spins-left&right=forward", **READS),
    row("fault_record", "POST", data={"forward": "spins-left", "right": "forward"}, **done(CHECK)),
    row("fault_symptoms", **READS),
]


def arguments(world):
    build = world.build
    make_ride_settings(build, world.coordinator)
    make_calibration(build, world.builder, when="as_found", x_rest=530.0)
    calibration = make_calibration(build, world.builder)
    runs = make_timed_runs(build, world.builder)
    number = {"number": build.number}
    of_build = ("configurations", "configuration_edit", "calibrations", "calibration_new")
    return {
        **dict.fromkeys((*of_build, "timed_runs", "timed_runs_new"), number),
        **dict.fromkeys(("fault_finding", "fault_record", "fault_symptoms", "drive_map", "stop_new"), number),
        "stop_strike": {**number, "pk": make_stop(build, world.builder).pk},
        **dict.fromkeys(("calibration_accept", "calibration_strike"), {**number, "pk": calibration.pk}),
        "timed_runs_strike": {**number, "pk": runs.pk},
    }
