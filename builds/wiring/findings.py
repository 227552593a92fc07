"""What is computed of the harness. Everything the record does not know stays unknown here.

The running current is judged in full. The stall current lasts moments: its drop beyond the limit asks for a look,
and the table current, which is for continuous load, is not held against it; the fuse is what protects the wire then.
"""

from dataclasses import dataclass, field, replace

from builds.engineering import fuse as fuses
from builds.engineering import wiring
from builds.engineering.finding import CHECK, STOP, EngineeringError, Finding, plain, shown_inputs, unknown, worst
from builds.engineering.gauges import parse_gauge
from builds.engineering.limits import FUSE_SHARE, source_of, tightened
from builds.engineering.quantities import QuantityError
from builds.engineering.smallest_wire import smallest_wire
from builds.wiring.models import SwitchingPart, WireRun
from labsite.models import Lab


@dataclass
class RunFindings:
    run: WireRun
    ampacity_a: float | None
    findings: list

    @property
    def verdict(self):
        return worst(self.findings)


@dataclass
class Harness:
    """All findings of one build's harness, by the row they belong to."""

    runs: list = field(default_factory=list)
    fuses: list = field(default_factory=list)  # (fuse, its runs' findings, findings)
    parts: list = field(default_factory=list)  # (part, findings)

    def of_power(self):
        """Findings that First power stands on: (name of the row, finding)."""
        for row in self.runs:
            if carries_power(row.run):
                yield from ((f"Wire run {row.run.code}", finding) for finding in row.findings)
        for fuse, _, findings in self.fuses:
            yield from ((f"Fuse {fuse.code}", finding) for finding in findings)
        for part, findings in self.parts:
            yield from ((f"{part.name} {part.code}", finding) for finding in findings)

    def of_control(self):
        """Findings of thin signal wires: a stop holds them too, but a table that ends above them does not."""
        for row in self.runs:
            if not carries_power(row.run):
                yield from ((f"Wire run {row.run.code}", finding) for finding in row.findings)


def carries_power(run):
    """Unknown counts as carrying motor current."""
    return run.role == WireRun.Role.POWER or run.motor_circuit != "no"


def harness(build):
    """Findings of the rows that stand, from rows already fetched."""
    supply, lab = supply_voltage(build), Lab.current()
    runs = [run for run in build.wire_runs.all() if not run.is_struck]
    of_runs = [run_findings(run, supply, lab) for run in runs]
    protected = {}
    for row in of_runs:
        if row.run.fuse_id and not row.run.fuse.is_struck:
            protected.setdefault(row.run.fuse_id, (row.run.fuse, []))[1].append(row)
    parts = [part for part in build.switching_parts.all() if not part.is_struck]
    return Harness(
        of_runs,
        [(fuse, rows, fuse_findings(fuse, rows, lab)) for fuse, rows in protected.values()],
        [(part, part_findings(part)) for part in parts],
    )


def supply_voltage(build):
    """The voltage of the battery that is set for this client; None while it is not known."""
    configuration = build.configuration()
    battery = configuration.battery if configuration else None
    return battery.voltage_v if battery else None


def gauge_of(run):
    try:
        return parse_gauge(run.gauge)
    except QuantityError:
        return None


def run_findings(run, supply_v, lab):
    """Findings of one wire run: running current, stall current, thickness, splice, ends, fuse."""
    gauge = gauge_of(run)
    try:
        running = wire(run, gauge, run.running_a, supply_v, lab)
    except EngineeringError as error:
        return RunFindings(run, None, [unknown("wire run", str(error))])
    found = [*running.findings, *stall_findings(run, gauge, supply_v, lab), smallest_wire(gauge)]
    found.append(wiring.splice_in_flex(run.spliced, run.in_arm))
    for end, kind in (("start", run.termination_start), ("end", run.termination_end)):
        found.append(named(wiring.termination(kind), f"termination at the {end}"))
    if carries_power(run):
        found.append(fused(run))
    return RunFindings(run, running.ampacity_a, found)


def wire(run, gauge, current_a, supply_v, lab):
    return wiring.wire_run(
        gauge=gauge,
        length_m=run.length_m,
        current_a=current_a or None,
        supply_v=supply_v,
        conductor_c=run.conductor_c,
        insulation_c=run.insulation_c,
        bundle=run.bundle,
        role=run.role,
        drop_limit_percent=asked_drop_percent(lab, run.role),
    )


def asked_drop_percent(lab, role):
    """What the lab asks for instead of the usual greatest drop; None where it asks for nothing."""
    asked = {WireRun.Role.POWER: lab.most_power_drop_percent, WireRun.Role.CONTROL: lab.most_control_drop_percent}
    return asked.get(role)


def named(finding, name):
    return replace(finding, name=name)


def stall_findings(run, gauge, supply_v, lab):
    """The drop while a motor is stalled: only a motor circuit has one."""
    if run.motor_circuit == "no":
        return []
    drop = wire(run, gauge, run.stall_a, supply_v, lab).findings[0]
    formula = f"{drop.formula}; at stall, for a moment, more than the limit asks for a look"
    return [replace(drop, name="voltage drop at stall", formula=formula)]


def fused(run):
    name, formula = "fuse of a power wire", "a wire that carries power, or may carry motor current, lies behind a fuse"
    if run.fuse_id and not run.fuse.is_struck:
        return Finding(name, run.fuse.code, "", None, "fits", formula, fuses.PLACE_SOURCE)
    return Finding(name, "none", "", None, STOP, formula, fuses.PLACE_SOURCE)


def fuse_findings(fuse, rows, lab):
    """Findings of one fuse against the wires behind it."""
    ampacities = [row.ampacity_a for row in rows]
    return [
        fuses.fuse_position(fuse.distance_m, fuse.sheathed),
        fuses.fuse_protects(fuse.rating_a, ampacities),
        *sizing(fuse, rows, ampacities, lab.most_fuse_share),
    ]


def sizing(fuse, rows, ampacities, asked_share):
    """The rating that the continuous load asks for, beside the rating fitted.

    The wire nearest the battery carries the whole load, so the load is the greatest running current among the
    runs: adding them up would count the way out and the way back, and a trunk and its branches, twice.
    """
    currents = [row.run.running_a or None for row in rows]
    load = None if None in currents else max(currents)
    thinnest = None if None in ampacities else min(ampacities)
    try:
        wanted = fuses.fuse(continuous_a=load, ampacity_a=thinnest, continuous_share=asked_share)
    except EngineeringError as error:
        return [unknown("fuse rating", str(error), source=fuses.SIZING_SOURCE)]
    found = list(wanted.findings[:1])
    if wanted.rating_a is not None:
        found.append(load_on(fuse, load, asked_share))
    return found


def load_on(fuse, load, asked_share):
    share = tightened(FUSE_SHARE, asked_share)
    name, source = "continuous load on the fuse", source_of(FUSE_SHARE, asked_share)
    formula = f"greatest running current behind the fuse, no more than {plain(share * 100)} % of its rating"
    inputs = shown_inputs(running_current=(load, "A"), rating=(fuse.rating_a, "A"))
    if fuse.rating_a is None:
        return unknown(name, "rating of the fuse", unit="A", formula=formula, source=source, inputs=inputs)
    most = share * fuse.rating_a
    verdict = "fits" if load <= most * (1 + fuses.ROUNDING) else CHECK
    return Finding(name, load, "A", most, verdict, formula, source, inputs)


def in_motor_circuit(part):
    """True, False or None: a part in a run of a motor circuit is in it, whatever is said of the part."""
    answers = [part.motor_circuit, *(run.motor_circuit for run in part.runs.all() if not run.is_struck)]
    if "yes" in answers:
        return True
    return None if "unknown" in answers else False


def stall_through(part):
    """The greatest stall current of the part and of the motor runs it sits in; None where that cannot be known."""
    of_runs = [run.stall_a for run in part.runs.all() if not run.is_struck and run.motor_circuit != "no"]
    known = [one for one in [part.stall_a, *of_runs] if one]
    if part.stall_a is None and (not of_runs or None in of_runs):
        return None
    return max(known, default=None)


def part_findings(part):
    """Whether its contacts bear the stalled motor, and that a plug carries none of it."""
    motor = in_motor_circuit(part)
    is_plug = part.kind == SwitchingPart.Kind.PLUG
    if motor is False:
        return []
    if motor is None:
        missing = "whether it carries motor current"
        return [unknown("contact in a motor circuit", missing, source=wiring.COMMON_PRACTICE)]
    return [wiring.contact_rating(part.rating_dc_a, stall_through(part), is_plug)]


def those_with(pairs, verdict):
    """Names of the rows with a finding of this verdict, each once, with what it is about."""
    return list(dict.fromkeys(f"{name}: {finding.name}" for name, finding in pairs if finding.verdict == verdict))


