"""What the harness offers to the hold points: each run, fuse, switching part and check, and what First power asks."""

from django.db.models import Prefetch

from builds.engineering.finding import STOP
from builds.engineering.quantities import format_quantity
from builds.record.holds import Hold
from builds.record.registry import Evidence, Report, Room
from builds.wiring.checks import TICK_LABELS, checked_runs, say
from builds.wiring.conditions import first_power
from builds.wiring.findings import harness, those_with
from builds.wiring.models import SwitchingPart, WireCheck, WireFuse, WireRun

# What a report reads, in four queries.
TICKET_PREFETCH = [
    Prefetch("wire_runs", WireRun.objects.select_related("fuse")),
    "wire_runs__checks",
    "switching_parts__runs",
]


def register(registry):
    of_build = lambda row: [row.build_id]  # noqa: E731
    registry.add(
        Room(
            name="wiring",
            report=report,
            prefetch=TICKET_PREFETCH,
            watches=[
                (WireRun, of_build),
                (WireFuse, of_build),
                (SwitchingPart, of_build),
                (WireCheck, lambda row: [row.run.build_id]),
            ],
            m2m=[(SwitchingPart.runs.through, of_build)],
            work=("wire_runs", "fuses", "switching_parts"),
        )
    )


def report(build):
    rows, found = checked_runs(build), harness(build)
    return Report(
        evidence=[
            *(run_evidence(row.run) for row in rows),
            *(fuse_evidence(fuse) for fuse, _, _ in found.fuses),
            *(part_evidence(part) for part, _ in found.parts),
            *(check_evidence(row) for row in rows),
            *judged_evidence(found),
        ],
        conditions=list(first_power(build, rows, found)),
        workers=workers(build),
        second_persons={Hold.FIRST_POWER: {row.second.made_by_id for row in rows if row.second}},
        findings=[*found.of_power(), *found.of_control()],
        section={"runs": len(rows), "checked": sum(row.has_both for row in rows), "harness": found},
    )


def workers(build):
    """Who departed from the plan, and who made the first check. The second person judges, and is none of them."""
    runs, parts = list(build.wire_runs.all()), list(build.switching_parts.all())
    rows = [*runs, *parts, *(run.fuse for run in runs if run.fuse_id)]
    found = {one for row in rows for one in (row.deviation_by_id, row.struck_by_id)}
    found |= {check.made_by_id for run in runs for check in run.checks.all() if check.round == WireCheck.Round.FIRST}
    return found - {None}


def said(value, dimension):
    return None if value is None else format_quantity(value, dimension, figures=6)


def known(row, name):
    """The word of a choice, or None where it is unknown."""
    return None if getattr(row, name) == "unknown" else getattr(row, f"get_{name}_display")()


def run_evidence(run):
    return Evidence(
        "wire-run",
        f"wire-run:{run.pk}",
        f"Wire run {run.code}",
        {
            "start": run.start,
            "end": run.end,
            "gauge": run.gauge or None,
            "insulation": said(run.insulation_c, "temperature"),
            "bundle": run.bundle,
            "temperature": said(run.conductor_c, "temperature"),
            "length": said(run.length_m, "length"),
            "running": said(run.running_a, "current"),
            "stall": said(run.stall_a, "current"),
            "role": known(run, "role"),
            "motor_circuit": known(run, "motor_circuit"),
            "side": known(run, "side"),
            "in_arm": known(run, "in_arm"),
            "spliced": known(run, "spliced"),
            "fuse": run.fuse.code if run.fuse_id else None,
            "labels": [run.label_start or None, run.label_end or None],
            "terminations": [known(run, "termination_start"), known(run, "termination_end")],
        },
    )


def fuse_evidence(fuse):
    return Evidence(
        "fuse",
        f"fuse:{fuse.pk}",
        f"Fuse {fuse.code}",
        {
            "rating": said(fuse.rating_a, "current"),
            "distance": said(fuse.distance_m, "length"),
            "sheathed": known(fuse, "sheathed"),
        },
    )


def part_evidence(part):
    return Evidence(
        "switching-part",
        f"switching-part:{part.pk}",
        f"{part.get_kind_display()} {part.code}",
        {
            "what": f"{part.name} ({part.get_kind_display()})",
            "motor_circuit": known(part, "motor_circuit"),
            "rating": said(part.rating_dc_a, "current"),
            "stall": said(part.stall_a, "current"),
            "runs": sorted(run.code for run in part.runs.all() if not run.is_struck),
        },
    )


def judged_evidence(found):
    """Only what says stop: whatever makes it say so voids, a tightened limit of the lab among it."""
    if found.runs:
        stops = those_with([*found.of_power(), *found.of_control()], STOP)
        yield Evidence("harness", "harness", "Wiring findings", {"stops": stops})


def check_evidence(row):
    """The ticks of a run stand in it once both persons have checked it, so that nothing tells the second the first."""
    return Evidence(
        "wire-check",
        f"wire-check:{row.run.pk}",
        f"Checks of wire run {row.run.code}",
        {"first": ticks(row.first, row.has_both), "second": ticks(row.second, row.has_both)},
    )


def ticks(check, is_open):
    if check is None:
        return None
    if not is_open:
        return "done, not shown before both persons have checked the run"
    return {"by person": check.made_by_id, **{label: say(check, name) for name, label in TICK_LABELS.items()}}
