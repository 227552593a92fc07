"""The proving run: what may be recorded, in which order, and how it stands. Lines are struck, never edited."""

from django.db import transaction
from django.utils import timezone

from builds.drive.proving_models import ProvingLine, ProvingRun
from builds.engineering.finding import FITS, STOP
from builds.engineering.proving import (
    BY_CODE,
    LINES,
    STICK,
    STOPPING,
    WHEELS_UP,
    as_commanded,
    judge_line,
    pushes_seen,
)
from builds.engineering.wheel_faults import RAW
from builds.record import voids
from builds.record.models import Build
from builds.record.nonconformances import open_nonconformance
from builds.record.powering import why_not_powered
from builds.record.registry import forget_prefetched
from builds.record.rules import Refused
from builds.record.voiding import all_evidence, snapshot
from labsite.marks import Side

State = ProvingRun.State
LONGEST_NONCONFORMANCE = 500
# A run is judged by its configuration, and by how the stick sits under it.
SET = ("configuration__fit", "configuration__calibration")


def run_of(build):
    """The newest run that is neither struck nor void, from rows already fetched; None where there is none."""
    return max((one for one in build.proving_runs.all() if one.counts), key=lambda one: one.pk, default=None)


def passed_run(build):
    run = run_of(build)
    return run if run and run.state == State.PASSED else None


def state_in_use(build):
    """passed, failed or open of the run that counts; empty where none does."""
    run = run_of(build)
    return run.state if run else ""


def lines_of(run, rows=None):
    """Code -> the standing line, from rows of the build that are already fetched."""
    rows = run.build.proving_lines.all() if rows is None else rows
    return {one.code: one for one in rows if one.run_id == run.pk and not one.is_struck}


def finding_of(line, configuration):
    """What the line showed, against the drive map of the configuration that the run is about."""
    return judge_line(
        code=line.code,
        left=line.left or None,
        right=line.right or None,
        seen=line.seen or None,
        stopped=line.stopped,
        seconds=line.seconds,
        turn_gain=configuration.turn_gain,
        reverse_gain=configuration.reverse_gain,
        **how_it_sits(configuration),
    )


def how_it_sits(configuration):
    """How far the stick is turned, and whether it is mirrored, as its fit or its calibration says."""
    if configuration.fit:
        return {name: configuration.fit.results[name] for name in ("rotation_deg", "mirrored")}
    kept = configuration.calibration.fit if configuration.calibration else {}
    sideways, forward = (kept.get(axis, {}).get("results", {}).get("reversed", False) for axis in "xy")
    return {"rotation_deg": 180.0 if forward else 0.0, "mirrored": sideways != forward}


def next_line(run, lines=None):
    """The first line that nobody has recorded yet; None when all are."""
    lines = lines_of(run) if lines is None else lines
    return next((one for one in LINES if one.code not in lines), None)


def state_of(lines, configuration):
    verdicts = {code: finding_of(line, configuration).verdict for code, line in lines.items()}
    if STOP in verdicts.values():
        return State.FAILED
    is_done = all(verdicts.get(line.code) == FITS for line in LINES)
    return State.PASSED if is_done else State.OPEN


def seen_on(lines, configuration):
    """What the fault finding may be asked about these lines; raw values as the drive takes them."""
    sits, seen = how_it_sits(configuration), {}
    for code, line in lines.items():
        kind = BY_CODE[code].kind
        if kind == WHEELS_UP:
            seen[code] = (line.left, line.right)
        elif kind != STOPPING:
            is_raw = kind == STICK and line.seen in RAW
            seen[code] = as_commanded(line.seen, **sits) if is_raw else line.seen
    return pushes_seen(seen)


def why_not_started(build):
    """Why no run may begin now, in words; empty when one may."""
    configuration = build.configuration()
    if not build.has_stick:
        return "The plan of this build has no stick."
    why = why_not_powered(build)
    if why:
        return why
    if configuration is None or configuration.side == Side.UNKNOWN:
        return "The side of the control is unknown. Set the configuration first."
    if None in (configuration.turn_gain, configuration.reverse_gain):
        return "Turn gain or reverse gain is unknown, so nothing says what the wheels must do. Set them first."
    run = run_of(build)
    if run and run.state == State.OPEN:
        return "A run is not finished yet. Finish it, or strike it with the reason."
    return ""


def locked(build):
    return Build.objects.select_for_update(of=("self",)).select_related("unit", "plan_revision__plan").get(pk=build.pk)


@transaction.atomic
def start_run(build, account, supply):
    """Begin a run on the drive as it is now: side, calibration, settings and wiring are kept with it."""
    build = locked(build)
    why = why_not_started(build)
    if why:
        raise Refused(why)
    run = ProvingRun.objects.create(
        build=build,
        configuration=build.configuration(),
        supply=supply,
        evidence=snapshot(voids.PROVING, all_evidence(build)),
        made_by=account,
    )
    forget_prefetched(build)
    return run


@transaction.atomic
def record_line(run, account, code, **showed):
    """What the next line showed. One that is not as it must be opens a nonconformance that holds the build."""
    build = locked(run.build)
    run = ProvingRun.objects.select_related(*SET).get(pk=run.pk)
    run.build = build
    if not run.counts:
        raise Refused("This run is void or struck. Begin another one.")
    why = why_not_powered(build)
    if why:
        raise Refused(why)
    due = next_line(run)
    if due is None or due.code != code:
        expected = f"{due.title} comes next." if due else "Every line of this run is recorded."
        raise Refused(f"The lines of a run go in order. {expected}")
    line = ProvingLine.objects.create(build=build, run=run, code=code, made_by=account, **showed)
    finding = finding_of(line, run.configuration)
    if finding.verdict == STOP:
        text = f"Proving run, {finding.name}: {finding.shown}, and must be {finding.limit} {finding.unit}".strip()
        if line.note:
            text = f"{text}. {line.note}"
        open_nonconformance(build, account, text[:LONGEST_NONCONFORMANCE], source=source_of(run))
    keep_state(run)
    forget_prefetched(build)
    return line


def source_of(run):
    return f"proving-run:{run.pk}"


def keep_state(run):
    run.state = state_of(lines_of(run, run.lines.all()), run.configuration)
    run.save(update_fields=["state"])


@transaction.atomic
def strike_line(line, account, reason):
    """A line that was written down wrongly is struck, and asked for again."""
    locked(line.build)
    line = ProvingLine.objects.select_related(*(f"run__{name}" for name in SET)).get(pk=line.pk)
    if line.is_struck:
        raise Refused("This line is struck already.")
    if not line.run.counts:
        raise Refused("This run is void or struck. Begin another one.")
    line.strike(account, reason)
    keep_state(line.run)


@transaction.atomic
def strike_run(run, account, reason):
    locked(run.build)
    run = ProvingRun.objects.get(pk=run.pk)
    if run.is_struck:
        raise Refused("This run is struck already.")
    run.strike(account, reason)


def standing(build):
    """Runs that may go void: those that count."""
    return list(build.proving_runs.filter(struck_at__isnull=True, voided_at__isnull=True))


def void(run, changes, account=None):
    run.voided_at = timezone.now()
    run.voided_by = account
    run.void_changes = changes
    run.save(update_fields=["voided_at", "voided_by", "void_changes"])
