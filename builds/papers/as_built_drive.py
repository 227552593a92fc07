"""The drive in the as-built record: what is inverted, how the stick was fitted, how it was proved and how it stops."""

from builds.papers.tables import Table, known, measure, who_when
from builds.record.models import Configuration


def tables(facts):
    """Nothing for a build without a stick: it has one motor, or none, and no drive settings."""
    build = facts.build
    if not build.has_stick:
        return []
    fits = list(build.stick_fits.select_related("capture", "decided_by"))
    return [controller(facts, fits), stick_fits(fits), proving_runs(build), stops(build)]


def accepted(fits, side):
    """The newest accepted fit of this side, or None."""
    found = [
        one for one in fits if one.decision == "accepted" and one.capture.side == side and not one.capture.is_struck
    ]
    return max(found, key=lambda one: one.pk, default=None)


def controller(facts, fits):
    configuration = facts.configuration
    if configuration is None:
        return Table.of_facts("Nothing is set for the drive yet")
    row = accepted(fits, configuration.side)
    turned = row.results if row else {}
    return Table.of_facts(
        "Inversions",
        ("Left motor controller inverted", configuration.drive_setting_in_words("left_inverted")),
        ("Right motor controller inverted", configuration.drive_setting_in_words("right_inverted")),
        ("Base of the stick turned", known(turned.get("rotation_deg"), "°")),
        ("Stick mirrored: crossed wires or swapped marks", mirrored(turned)),
        ("Settings that nobody has said yet", ", ".join(map(label, configuration.unknown_drive_settings()))),
    )


def label(name):
    return str(Configuration._meta.get_field(name).verbose_name)


def mirrored(results):
    return {True: "yes: find the crossing, do not drive", False: "no"}.get(results.get("mirrored"), "unknown")


def stick_fits(fits):
    rows = [
        (
            str(one.capture.get_when_display()),
            one.capture.get_side_display(),
            f"{known(one.results.get('centre_x'))}, {known(one.results.get('centre_y'))}",
            f"{known(one.results.get('rotation_deg'), '°')}, {mirrored(one.results)}",
            known(one.results.get("deadband")),
            ", ".join(known(one.results.get(f"throw_{way}")) for way in ("forward", "back", "left", "right")),
            f"Struck: {one.capture.struck_reason}" if one.capture.is_struck else one.get_decision_display(),
            who_when(one.decided_by, one.decided_at) if one.decided_at else "",
        )
        for one in fits
    ]
    columns = (
        "When", "Side", "Rest", "Turned, mirrored", "Deadband", "Throw forward, back, left, right", "Decision", "Who",
    )  # fmt: skip
    return Table("Stick captures and their fits (counts)", columns, rows, weights=(4, 5, 5, 6, 4, 7, 5, 6))


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
    yield from (one.struck_reason for one in build.captures.all())
