"""The harness as one sheet to read: rows with their verdicts, what differs from the plan, what is struck."""

from builds.engineering.finding import worst
from builds.wiring.checks import checked, may_be_compared
from builds.wiring.deviation import differences
from builds.wiring.findings import harness

CHECK_WORDS = {
    (False, False): "Not checked yet",
    (True, False): "First check done",
    (False, True): "Second-person check done",
    (True, True): "Checked by both persons",
}


def harness_sheet(build):
    """What the harness page shows, from rows already fetched."""
    found = harness(build)
    rows = [run_row(row) for row in found.runs]
    protecting = {fuse.pk: (runs, findings) for fuse, runs, findings in found.fuses}
    return {
        "rows": rows,
        "fuses": [
            fuse_row(fuse, *protecting.get(fuse.pk, ([], []))) for fuse in build.fuses.all() if not fuse.is_struck
        ],
        "parts": [part_row(part, findings) for part, findings in found.parts],
        "struck": [
            row
            for rows in (build.wire_runs.all(), build.fuses.all(), build.switching_parts.all())
            for row in rows
            if row.is_struck
        ],
        "may_be_compared": may_be_compared([row["checked"] for row in rows]),
        "waiting": [row["run"].code for row in rows if not row["checked"].has_both],
    }


def run_row(row):
    state = checked(row.run)
    return {
        "run": row.run,
        "findings": row.findings,
        "verdict": row.verdict,
        "differences": differences(row.run),
        "checked": state,
        "check_words": CHECK_WORDS[state.first is not None, state.second is not None],
    }


def fuse_row(fuse, runs, findings):
    return {
        "fuse": fuse,
        "runs": ", ".join(row.run.code for row in runs),
        "findings": findings,
        "verdict": worst(findings),
        "differences": differences(fuse),
    }


def part_row(part, findings):
    return {
        "part": part,
        "runs": ", ".join(sorted(run.code for run in part.runs.all() if not run.is_struck)),
        "findings": findings,
        "verdict": worst(findings) if findings else "",
        "differences": differences(part),
    }
