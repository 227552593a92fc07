"""The drive in the as-built record: what is inverted, what the controller runs, how it was proved and how it stops."""

from builds.drive.captures import fit_in_use
from builds.drive.controller import controller_of
from builds.drive.controller_rules import last_told, runs, state_of
from builds.papers.tables import Table, known, measure, who_when


def tables(facts):
    """Nothing for a build without a stick: it has one motor, or none, and no drive settings."""
    build = facts.build
    if not build.has_stick:
        return []
    return [controller(facts), proving_runs(build), stops(build)]


def controller(facts):
    configuration = facts.configuration
    if configuration is None:
        return Table.of_facts("Nothing is set for the drive yet")
    fit = fit_in_use(facts.build, configuration)
    turned = fit.results if fit else {}
    made, told = controller_of(configuration, fit), last_told(facts.build)
    return Table.of_facts(
        "Inversions, and what the controller runs",
        ("Left motor controller inverted", configuration.drive_setting_in_words("left_inverted")),
        ("Right motor controller inverted", configuration.drive_setting_in_words("right_inverted")),
        ("Base of the stick turned", known(turned.get("rotation_deg"), "°")),
        ("Stick mirrored: crossed wires or swapped marks", mirrored(turned)),
        ("Digest of the settings on record", made.digest or "unknown"),
        ("What the controller told at its start", told_in_words(told)),
        ("Does it run the settings on record", state_of(runs(facts.build, made))[1]),
        ("Not known yet", ", ".join(made.missing)),
        ("Does not go together", made.problem),
    )


def told_in_words(row):
    return f"{row.told}, {who_when(row.made_by, row.made_at)}" if row else "unknown"


def mirrored(results):
    return {True: "yes: find the crossing, do not drive", False: "no"}.get(results.get("mirrored"), "unknown")


def proving_runs(build):
    rows = [
        (
            str(one.configuration.number),
            one.get_state_display(),
            one.supply,
            who_when(one.made_by, one.made_at),
            f"Struck: {one.struck_reason}" if one.is_struck else "; ".join(one.void_changes),
        )
        for one in build.proving_runs.select_related("configuration", "made_by")
    ]
    columns = ("Config.", "Result", "Supply", "Who and when", "Void since")
    return Table("Proving runs, wheels up", columns, rows, weights=(3, 5, 7, 7, 9))


def stops(build):
    rows = [
        (
            str(one.configuration.number),
            f"{one.get_place_display()}{f', {known(one.slope_deg)}°' if one.place == 'slope' else ''}",
            measure(one.speed_m_s, "speed"),
            measure(one.distance_m, "length") if one.stopped else "did not come to stand",
            one.get_did_display(),
            known(one.ballast_kg, "kg"),
            f"Struck: {one.struck_reason}" if one.is_struck else who_when(one.made_by, one.made_at),
        )
        for one in build.stop_measurements.select_related("configuration", "made_by")
    ]
    columns = ("Config.", "Where", "Speed at letting go", "Way to stand still", "The controllers", "Ballast", "Who")
    return Table("Measured stops", columns, rows, weights=(3, 5, 5, 5, 6, 4, 7))


def free_texts(build):
    """What people wrote freely and these tables print."""
    yield from (f"{one.supply} {one.struck_reason}" for one in build.proving_runs.all())
    yield from (one.struck_reason for one in build.stop_measurements.all())
