"""The pick list: what to fetch, how many, from where; the lot is written down as it is taken."""

from collections import defaultdict

from builds.papers.labels import standing_runs
from builds.papers.tables import Table, known, measure


def page(facts):
    build = facts.build
    return {"rows": rows(build), "tables": [wire(build), fuses(build), switching(build)]}


def rows(build):
    allowed = {row["find_number"]: row["substitute_allowed"] for row in build.plan_revision.content["bom"]}
    return [
        {
            "find_number": part.find_number,
            "name": part.name,
            "quantity": f"{part.quantity:g}",
            "used": "" if part.quantity_used is None else f"{part.quantity_used:g}",
            "where": part.source,
            "lot": part.lot,
            "instead": part.substitute or allowed.get(part.find_number, ""),
            "is_chosen": bool(part.substitute),
        }
        for part in build.parts.all()
        if not part.is_struck and not part.removed
    ]


def wire(build):
    """How much wire of each gauge and colour; one run without a length leaves its sum unknown."""
    runs = defaultdict(list)
    for run in standing_runs(build):
        runs[run.gauge, run.colour].append(run)
    lines = [
        (
            known(gauge),
            known(colour),
            measure(total([run.length_m for run in of_kind]), "length"),
            ", ".join(run.code for run in of_kind),
        )
        for (gauge, colour), of_kind in sorted(runs.items())
    ]
    columns = ("Gauge", "Colour", "Length in all, before trimming", "For the runs")
    return Table("Wire to cut", columns, lines, weights=(3, 6, 5, 8))


def total(lengths):
    return None if None in lengths else sum(lengths)


def fuses(build):
    lines = [(one.code, known(one.rating_a, "A")) for one in build.fuses.all() if not one.is_struck]
    return Table("Fuses", ("Fuse", "Rating"), lines)


def switching(build):
    lines = [
        (one.code, one.name, one.get_motor_circuit_display(), known(one.rating_dc_a, "A"), known(one.stall_a, "A"))
        for one in build.switching_parts.all()
        if not one.is_struck
    ]
    columns = ("Part", "What", "Motor current", "Rating in direct current, at least", "Stall current through it")
    return Table("Switches, relays and connectors", columns, lines, weights=(2, 8, 3, 5, 5))
