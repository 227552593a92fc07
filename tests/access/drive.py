"""The drive and the configuration: read by everybody on the build, set by its builders and the coordinator."""

from builds.demo.factories.drive import (
    RUNS,
    STICK,
    make_accepted_fit,
    make_calibration,
    make_capture,
    make_ride_settings,
)
from builds.demo.factories.proving import DRIVE, FLOOR
from builds.models import StopMeasurement, TimedRuns, ToldDigest
from builds.record.rules import configure
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
    row("captures", **READS),
    row("capture_new", **BENCH),
    row("capture_new", "POST", **refused(BENCH)),
    row("capture", **READS),
    row("capture_log", page=False, **READS),
    row("capture_compare", **READS),
    row("capture_accept", **BENCH),
    row("capture_accept", "POST", **refused(BENCH)),
    row("capture_refuse", **BENCH),
    row("capture_refuse", "POST", data={"reason": "The stick was held crooked"}, **done(BENCH)),
    row("capture_strike", **BENCH),
    row("capture_strike", "POST", data={"reason": "The log is of another stick"}, **done(BENCH)),
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
    row("controller", **READS),
    row("controller_archive", page=False, **READS),
    row("controller_told", **BENCH),
    row("controller_told", "POST", **refused(BENCH)),
    row("controller_strike", **BENCH),
    row("controller_strike", "POST", data={"reason": "Read from another unit"}, **done(BENCH)),
    row("fault_finding", query="forward=spins-left&right=forward", **READS),
    row("fault_record", "POST", data={"forward": "spins-left", "right": "forward"}, **done(CHECK)),
    row("fault_symptoms", **READS),
]


def arguments(world):
    build = world.build
    make_ride_settings(build, world.coordinator)
    configure(build, world.coordinator, "Settings of the drive", **DRIVE)
    make_accepted_fit(build, world.builder)
    make_calibration(build, world.builder, when="as_found", x_rest=530.0)
    calibration = make_calibration(build, world.builder)
    # Written at once: before First power, and with a nonconformance open as here, the rules refuse them.
    by = {"build": build, "configuration": build.configuration(), "made_by": world.builder}
    runs = TimedRuns.objects.create(position="slow", **RUNS, **by)
    stop = StopMeasurement.objects.create(**FLOOR, **by)
    told = ToldDigest.objects.create(told="4F3A-9C21", recorded="0123-ABCD", **by)
    mirrored = make_capture(build, world.builder, STICK.but(mirrored=True))
    other = make_capture(build, world.builder, when="as_found")
    number = {"number": build.number}
    of_capture = ("capture", "capture_log", "capture_accept", "capture_refuse", "capture_strike")
    of_build = ("configurations", "configuration_edit", "calibrations", "calibration_new")
    return {
        **dict.fromkeys(("captures", "capture_new"), number),
        **dict.fromkeys(of_capture, {**number, "pk": mirrored.pk}),
        "capture_compare": {**number, "pk": mirrored.pk, "other": other.pk},
        **dict.fromkeys((*of_build, "timed_runs", "timed_runs_new"), number),
        **dict.fromkeys(("fault_finding", "fault_record", "fault_symptoms", "drive_map", "stop_new"), number),
        "stop_strike": {**number, "pk": stop.pk},
        **dict.fromkeys(("calibration_accept", "calibration_strike"), {**number, "pk": calibration.pk}),
        "timed_runs_strike": {**number, "pk": runs.pk},
        **dict.fromkeys(("controller", "controller_archive", "controller_told"), number),
        "controller_strike": {**number, "pk": told.pk},
    }
