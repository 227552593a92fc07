"""A build keeps its own copy of the plan: steps, fuses, wire runs, switching parts and parts.

Each copied row keeps what the plan says in `planned`, so that every deviation can be seen later: a step in the
plan's own form, the other rows under the names of their fields, links by code. What the plan leaves to the unit
(`amperes_from`) is taken from the unit's type, or stays unknown.
"""

from django.db import transaction

from builds.plans.words import SECTIONS

STEP_GAP = 10  # between steps, so that one can be put in between as a deviation


@transaction.atomic
def copy_to_build(build, account=None):
    """Copy the plan revision's content into rows of this build. Returns how many of each kind were made."""
    content = build.plan_revision.content
    fuses = copy_fuses(build, content)
    runs = copy_wire_runs(build, content, fuses)
    return {
        "steps": len(copy_steps(build, content)),
        "fuses": len(fuses),
        "wire_runs": len(runs),
        "switching_parts": len(copy_switching_parts(build, content, runs)),
        "parts": len(copy_parts(build, content)),
    }


def copy_steps(build, content):
    BuildStep = build.steps.model
    return BuildStep.objects.bulk_create(
        BuildStep(
            build=build, section=section, order=base + position * STEP_GAP, planned=step,
            **step_fields(BuildStep, step),
        )  # fmt: skip
        for part, (section, base) in SECTIONS.items()
        for position, step in enumerate(content[part], 1)
    )


NOT_WORDS = ("code", "battery_out", "repeats_per_side", "tests")


def step_fields(model, step):
    return {**model.words_of_plan(step), **{name: step[name] for name in NOT_WORDS}}


def copy_fuses(build, content):
    WireFuse = build.fuses.model
    names = ("code", "rating_a", "distance_m", "sheathed")
    made = WireFuse.objects.bulk_create(
        WireFuse(build=build, planned=fields, **fields) for fields in (pick(row, names) for row in content["fuses"])
    )
    return {fuse.code: fuse for fuse in made}


def pick(row, names):
    return {name: row[name] for name in names}


SAME_IN_RUN = (
    *("code", "gauge", "insulation_c", "conductor_c", "bundle", "colour", "length_m", "role", "motor_circuit"),
    *("side", "in_arm", "spliced", "label_start", "label_end", "termination_start", "termination_end"),
)


def run_fields(build, row):
    return {
        **pick(row, SAME_IN_RUN),
        "start": row["from"],
        "end": row["to"],
        "running_a": amperes(build, row, "running_a"),
        "stall_a": amperes(build, row, "stall_a"),
    }


def copy_wire_runs(build, content, fuses):
    WireRun = build.wire_runs.model
    made = [
        WireRun(
            build=build,
            order=position * STEP_GAP,
            fuse=fuses.get(row["fuse"]),
            planned={**fields, "from": row["from"], "to": row["to"], "fuse": row["fuse"]},
            **fields,
        )
        for position, (row, fields) in enumerate(((row, run_fields(build, row)) for row in content["wire_runs"]), 1)
    ]
    return {run.code: run for run in WireRun.objects.bulk_create(made)}


def copy_switching_parts(build, content, runs):
    SwitchingPart = build.switching_parts.model
    made = []
    for row in content["switching_parts"]:
        fields = pick(row, ("code", "name", "kind", "motor_circuit", "rating_dc_a"))
        fields["stall_a"] = amperes(build, row, "stall_a")
        made.append(SwitchingPart(build=build, planned={**fields, "runs": sorted(row["runs"])}, **fields))
    made = SwitchingPart.objects.bulk_create(made)
    Link = SwitchingPart.runs.through
    Link.objects.bulk_create(
        Link(switchingpart=part, wirerun=runs[code]) for part in made for code in part.planned["runs"]
    )
    return made


def amperes(build, row, name):
    """The plan's current, or that of the motors of the build's own unit; None where neither is known."""
    if row[name] is not None or row["amperes_from"] is None:
        return row[name]
    kind = build.unit.type
    of_one = kind.motor_stall_a if name == "stall_a" else kind.motor_running_a
    if of_one is None:
        return None
    return of_one * kind.motors if row["amperes_from"] == "all_motors" else of_one


def copy_parts(build, content):
    BuildPart = build.parts.model
    names = ("find_number", "name", "quantity", "unit_cost", "mass_kg", "stays_on", "in_arm", "source")
    return BuildPart.objects.bulk_create(
        BuildPart(build=build, planned=fields, **fields) for fields in (pick(row, names) for row in content["bom"])
    )
