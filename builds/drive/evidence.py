"""What the drive offers to the hold points: the calibration in use, the timed runs that count, what First ride asks."""

from django.db.models import Prefetch
from django.urls import reverse

from builds.drive import proving
from builds.drive.capture_evidence import calibrated, fit_evidence, fit_workers, neutral
from builds.drive.capture_models import Capture, FittedStick
from builds.drive.ceilings import carried, proved_since
from builds.drive.controller_evidence import (
    controller_condition,
    controller_evidence,
    controller_finding,
    controller_now,
    controller_state,
    controller_workers,
)
from builds.drive.controller_models import ToldDigest
from builds.drive.controller_rules import known_since, runs
from builds.drive.drive_evidence import drive_conditions, drive_evidence, drive_facts, drive_workers
from builds.drive.findings import calibration_in_use, drive, headed
from builds.drive.models import Calibration, TimedRuns
from builds.drive.proving_models import ProvingLine, ProvingRun, StopMeasurement
from builds.engineering.finding import STOP, UNKNOWN, plain
from builds.record import voids
from builds.record.holds import Hold
from builds.record.registry import Condition, Dependant, Evidence, Report, Room
from labsite.marks import Side

# The evidence that a proving run keeps is large and no report reads it.
RUNS = Prefetch("proving_runs", ProvingRun.objects.defer("evidence"))
TICKET_PREFETCH = ["calibrations", "timed_runs", RUNS, "proving_lines", "stop_measurements", "captures", "stick_fits",
                   "told_digests"]
WATCHED = (Calibration, TimedRuns, Capture, FittedStick, ProvingRun, ProvingLine, StopMeasurement, ToldDigest)
AXES = {"x": "sideways", "y": "forward"}


def register(registry):
    of_build = lambda row: [row.build_id]  # noqa: E731
    registry.add(
        Room(
            name="drive",
            report=report,
            prefetch=TICKET_PREFETCH,
            watches=[(model, of_build) for model in WATCHED],
            work=("calibrations", "timed_runs", "proving_runs", "proving_lines", "stop_measurements", "captures",
                  "stick_fits", "told_digests"),
        )
    )
    registry.add_dependant(Dependant(voids.PROVING, proving.standing, proving.void))


def report(build):
    found = drive(build)
    found.ceilings, found.stops = drive_facts(build, found.configuration)
    controller = controller_now(build, found)
    answer = runs(build, controller)  # asks every configuration since it was told, so it is asked once
    since = known_since(build, controller) if found.fit and answer else None
    if since:
        proved_since(found, since)
    return Report(
        evidence=[
            *calibration_evidence(build, found), *fit_evidence(found), *timed_runs_evidence(found),
            *drive_evidence(build, found), *controller_evidence(build, controller, answer),
        ],
        conditions=list(first_ride(build, found, controller, answer, since)),
        workers=workers(build),
        findings=findings(build, found, controller, answer),
        section={"drive": found, "proving": proving.state_in_use(build),
                 "controller": controller_state(build, answer)},
    )


def findings(build, found, controller, answer):
    if not build.rides or not found.configuration:
        return []
    return [*headed(found), *controller_finding(build, controller, answer)]


def workers(build):
    rows = [*build.calibrations.all(), *build.timed_runs.all()]
    own = {one for row in rows for one in (row.made_by_id, row.struck_by_id)} - {None}
    return own | drive_workers(build) | fit_workers(build) | controller_workers(build)


def calibration_evidence(build, found):
    calibration = found.configuration and calibration_in_use(build, found.configuration)
    if calibration:
        yield Evidence(
            "calibration",
            "calibration",
            "Calibration of the stick",
            {"fit": {name: axis_in_words(calibration, axis) for axis, name in AXES.items()},
             "side": calibration.get_side_display()},
        )  # fmt: skip


def axis_in_words(calibration, axis):
    kept = calibration.fit[axis]["results"]
    ends = plain(kept["centre"] - kept["span_low"]), plain(kept["centre"] + kept["span_high"])
    way = "falls" if kept["reversed"] else "rises"
    return (
        f"rest {plain(kept['centre'])}, from {ends[0]} to {ends[1]} of {kept['full_scale']}, "
        f"deadband {plain(kept['deadband'])}, {way} when pushed"
    )


def timed_runs_evidence(found):
    if found.runs:
        yield Evidence(
            "timed-runs",
            "timed-runs",
            "Timed runs at the ceiling in use",
            {
                "position": found.configuration.ceiling_position,
                "speed": f"{found.fastest_m_s:.4g} m/s",
                "ballast": None if found.ballast_kg is None else f"{found.ballast_kg:.4g} kg",
                "carries_client": carries_client(found),
            },
        )


def carries_client(found):
    return carried(found.mass_kg, found.ballast_kg)


def first_ride(build, found, controller, answer, since=None):
    if Hold.FIRST_RIDE not in build.holds() or not build.rides:
        return
    place = {name: reverse(name, args=[build.number]) for name in ("calibrations", "timed_runs", "configuration_edit")}
    if found.configuration is None:
        yield condition("The configuration is set", None, "There is no configuration yet.", place["configuration_edit"])
        return
    if build.has_stick:
        yield condition(*calibrated(found), place["calibrations"])
        yield condition(*neutral(found), place["calibrations"])
    yield condition(*ceiling_known(found), place["configuration_edit"])
    yield condition(*ballasted(found), place["timed_runs"])
    yield condition(*within(found), place["timed_runs"])
    yield condition(*reached(found), place["configuration_edit"])
    if found.arms:
        yield condition(*held(found), place["configuration_edit"])
    yield condition(*disconnect(found), place["configuration_edit"])
    if build.has_stick:
        yield from drive_conditions(build, found)
        yield from controller_condition(build, found, controller, answer, since)


def condition(text, met, why, url):
    return Condition(Hold.FIRST_RIDE, text, met, why, url)


def ceiling_known(found):
    text = "The speed ceiling and the position of the selector are known"
    lacking = []
    if found.configuration.ceiling_m_s is None:
        lacking.append("the speed ceiling")
    if not found.configuration.ceiling_position:
        lacking.append("the position of the selector")
    return text, None if lacking else True, f"Unknown: {', '.join(lacking)}." if lacking else ""


def ballasted(found):
    text = "The ceiling in use is measured by timed runs with at least the client's mass as ballast"
    if not found.runs:
        return text, None, "No timed runs stand for this ceiling and this position of the selector."
    if found.mass_kg is None or found.ballast_kg is None:
        return text, None, "The client's mass is unknown." if found.mass_kg is None else "The ballast is unknown."
    enough = carries_client(found)
    why = f"The ballast was {plain(found.ballast_kg)} kg and the client's mass is {plain(found.mass_kg)} kg."
    return text, enough, "" if enough else why


def within(found):
    """Close to a limit is not beyond it. The pace of the supervisor, the last finding, holds nothing."""
    text = "The fastest timed run is no faster than the ceiling, and the ceiling no faster than the clearance"
    judged = found.ceiling[:3]
    beyond = [one.name for one in judged if one.verdict != UNKNOWN and one.value > one.limit]
    doubtful = [one.name for one in judged if one.verdict == UNKNOWN]
    if beyond:
        return text, False, f"Beyond the limit: {', '.join(beyond)}."
    return text, None if doubtful else True, f"Unknown: {', '.join(doubtful)}." if doubtful else ""


def reached(found):
    return on_each_side(
        "The client reaches the control, on both sides where the arm swaps", found.reaches, "Out of reach"
    )


def held(found):
    text = "The foot of the arm holds the control and the hand, on both sides where the arm swaps"
    return on_each_side(text, found.arms, "It does not hold")


def on_each_side(text, sides, stopped):
    """Met where no side says stop and none is unknown; `stopped` is what a stop means."""
    told = [
        (f"{Side(side).label.lower()}: {one.missing or one.name}", one.verdict)
        for side, findings in sides for one in findings
    ]  # fmt: skip
    stops = [words for words, verdict in told if verdict == STOP]
    doubts = [words for words, verdict in told if verdict == UNKNOWN]
    if stops:
        return text, False, f"{stopped}, {'; '.join(stops)}."
    return text, None if doubts else True, f"Unknown, {'; '.join(doubts)}." if doubts else ""


def disconnect(found):
    text = "A battery disconnect within the supervising adult's reach is recorded"
    known = bool(found.configuration.disconnect)
    return text, True if known else None, "" if known else "It is not recorded."
