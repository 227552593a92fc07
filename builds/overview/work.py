"""The sections of the ticket in the order of the path: where each piece of work is done, and how far it is."""

from dataclasses import dataclass

from django.urls import reverse

from builds.engineering.finding import CHECK, STOP, UNKNOWN


@dataclass(frozen=True)
class WorkLine:
    label: str
    url: str
    says: str = ""
    state: str = ""


# (label, name of the address, further arguments, whether its page shows who the client is)
PLACES = [
    ("Configuration", "configurations", (), False),
    ("Incoming test", "bench_section", ("incoming_test",), False),
    ("Teardown", "bench_section", ("teardown",), False),
    ("Restore kit", "restore_kit", (), False),
    ("Adaptation", "bench_section", ("adaptation",), False),
    ("Parts used (BOM)", "build_parts", (), False),
    ("Wire runs and fuses", "harness", (), False),
    ("Wire checks", "wire_checks", (), False),
    ("Second-person check", "second_check", (), False),
    ("Stick captures", "captures", (), False),
    ("Stick calibration", "calibrations", (), False),
    ("Drive map", "drive_map", (), False),
    ("Controller", "controller", (), False),
    ("Proving run", "proving_runs", (), False),
    ("Timed runs", "timed_runs", (), False),
    ("Fault finding", "fault_finding", (), False),
    ("Commissioning", "bench_section", ("commissioning",), False),
    ("Fitting", "bench_section", ("fitting",), False),
    ("Photos", "build_photos", (), False),
    ("Papers", "papers", (), False),
    ("Teach-back", "teach_back", (), True),
    ("Hand-off", "hand_off", (), True),
    ("Contacts with the family", "contacts", (), True),
]
OF_A_STICK = ("captures", "calibrations", "drive_map", "controller", "proving_runs", "fault_finding")
PROVED = {"passed": "passed for what is set now", "failed": "failed", "open": "not finished"}


def work_lines(build, reports, account):
    lines = []
    for label, name, more, identifies in PLACES:
        if identifies and not account.sees_identity:
            continue
        if (name in OF_A_STICK and not build.has_stick) or (name == "timed_runs" and not build.rides):
            continue
        says, state = how_far(reports, name, more)
        lines.append(WorkLine(label, reverse(name, args=[build.number, *more]), says, state))
    return lines


def how_far(reports, name, more):
    """What the room says of its own progress, where it says it."""
    if name == "bench_section":
        counts = reports["bench"].section.get("sections", {}).get(more[0])
        if not counts:
            return "no steps", ""
        says = f"{counts['done']} of {counts['total']} steps"
        if counts["failed"]:
            return f"{says}, {counts['failed']} failed", "failed"
        return says, "done" if counts["done"] == counts["total"] else ""
    if name == "proving_runs":
        state = reports["drive"].section["proving"]
        return PROVED.get(state, "none stands"), state
    if name == "controller":
        state, says = reports["drive"].section["controller"]
        return says, state
    if name == "harness":
        verdicts = [finding.verdict for _, finding in reports["wiring"].findings]
        for verdict in (STOP, UNKNOWN, CHECK):
            if verdict in verdicts:
                return f"{verdicts.count(verdict)} findings", verdict
    return "", ""
