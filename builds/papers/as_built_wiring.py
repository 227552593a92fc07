"""The harness in the as-built record. Ticks of the two checks are printed only when every run has both."""

from builds.papers.tables import Table, known, measure
from builds.wiring.checks import TICK_LABELS, checked, may_be_compared, say


def tables(build):
    runs = list(build.wire_runs.select_related("fuse").prefetch_related("checks__made_by").all())
    return [wire_runs(runs), checks(runs), fuses(build), switching_parts(build)]


def wire_runs(runs):
    rows = [
        (
            run.code,
            f"{run.start} to {run.end}",
            f"{known(run.gauge)}, {known(run.insulation_c, '°C')}",
            run.colour,
            measure(run.length_m, "length"),
            f"{known(run.running_a)} / {known(run.stall_a)}",
            f"{run.get_role_display()}; motor circuit: {run.get_motor_circuit_display().lower()}",
            run.get_side_display(),
            f"{run.get_in_arm_display()} / {run.get_spliced_display()}",
            run.fuse.code if run.fuse else "none",
            f"{known(run.label_start)} / {known(run.label_end)}",
            f"{run.get_termination_start_display()} / {run.get_termination_end_display()}",
            f"Struck: {run.struck_reason}" if run.is_struck else run.deviation_reason,
        )
        for run in runs
    ]
    columns = (
        "Run", "From and to", "Gauge, insulation", "Colour", "Length", "Running / stall (A)", "Role", "Side",
        "In arm / spliced", "Fuse", "Labels", "Terminations", "Deviation",
    )  # fmt: skip
    return Table("Wire runs", columns, rows, weights=(3, 11, 7, 5, 5, 6, 8, 7, 6, 4, 7, 8, 7))


def checks(runs):
    rows_checked = [checked(run) for run in runs if not run.is_struck]
    if not may_be_compared(rows_checked):
        return Table.of_facts("Checks of the runs are printed when the second person has checked every run")
    rows = [
        (
            one.run.code,
            *(f"{say(one.first, tick)} / {say(one.second, tick)}" for tick in TICK_LABELS),
            known(one.first.resistance_ohm, "Ω"),
            f"{one.first.made_by} / {one.second.made_by}",
        )
        for one in rows_checked
    ]
    columns = ("Run", *TICK_LABELS.values(), "Resistance", "Who")
    return Table("Checks: first person / second person", columns, rows, weights=(2, 4, 4, 4, 4, 4, 3, 5))


def fuses(build):
    rows = [
        (
            one.code,
            known(one.rating_a, "A"),
            measure(one.distance_m, "length"),
            one.get_sheathed_display(),
            f"Struck: {one.struck_reason}" if one.is_struck else one.deviation_reason,
        )
        for one in build.fuses.all()
    ]
    return Table(
        "Fuses", ("Fuse", "Rating", "Wire from the battery", "Sheathed", "Deviation"), rows, weights=(3, 4, 6, 4, 10)
    )


def switching_parts(build):
    rows = [
        (
            one.code,
            f"{one.name} ({one.get_kind_display().lower()})",
            ", ".join(run.code for run in one.runs.all()),
            one.get_motor_circuit_display(),
            known(one.rating_dc_a, "A"),
            known(one.stall_a, "A"),
            f"Struck: {one.struck_reason}" if one.is_struck else one.deviation_reason,
        )
        for one in build.switching_parts.prefetch_related("runs").all()
    ]
    columns = ("Part", "What", "In the runs", "Motor current", "DC rating", "Stall current", "Deviation")
    return Table("Switches, relays and connectors", columns, rows, weights=(3, 9, 6, 4, 4, 4, 8))
