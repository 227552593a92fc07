"""What the settings of the drive, its ceilings, its stops and its proving run offer to the hold points."""

from django.urls import reverse

from builds.drive import ceilings, proving, stops
from builds.drive.ceilings import carried
from builds.drive.findings import driven_by
from builds.drive.settings_words import label_of
from builds.record.holds import Hold
from builds.record.registry import Condition, Evidence


def drive_facts(build, configuration):
    """(ceilings, stops) of the configuration of now; nothing for a build without a stick."""
    if configuration is None or not build.has_stick:
        return [], None
    return ceilings.ceilings_of(build, configuration), stops.stops_of(build, configuration, driven_by)


def drive_evidence(build, found):
    if found.configuration is None or not build.has_stick:
        return
    yield from settings_evidence(found.configuration)
    yield from ceiling_evidence(found)
    yield from stop_evidence(found)
    yield from proving_evidence(build)


def settings_evidence(configuration):
    """Nothing while nothing is known: a build that was released without these settings stands on none."""
    names = configuration.DRIVE_SETTINGS
    if len(configuration.unknown_drive_settings()) < len(names):
        told = {name: configuration.drive_setting_in_words(name) for name in names}
        yield Evidence("drive-settings", "drive-settings", "Settings of the drive", told)


def ceiling_evidence(found):
    """The ceiling in use has its own evidence; here are the others."""
    for one in found.ceilings:
        if one.runs and not one.is_in_use:
            yield Evidence(
                "timed-runs",
                f"timed-runs:{one.position}",
                f"Timed runs at {one.position}",
                {
                    "position": one.position,
                    "speed": f"{one.fastest_m_s:.4g} m/s",
                    "ballast": None if one.ballast_kg is None else f"{one.ballast_kg:.4g} kg",
                    "carries_client": carried(found.mass_kg, one.ballast_kg),
                },
            )


def stop_evidence(found):
    for row in filter(None, (found.stops.floor, found.stops.slope)):
        yield Evidence(
            "stop-measurement",
            f"stop-measurement:{row.place}",
            f"Stop measured: {row.get_place_display().lower()}",
            {
                "slope": None if row.slope_deg is None else f"{row.slope_deg:.4g}\u00b0",
                "speed": None if row.speed_m_s is None else f"{row.speed_m_s:.4g} m/s",
                "stopped": row.stopped,
                "distance": None if row.distance_m is None else f"{row.distance_m:.4g} m",
                "did": row.get_did_display(),
                "ballast": None if row.ballast_kg is None else f"{row.ballast_kg:.4g} kg",
            },
        )


def proving_evidence(build):
    run = proving.passed_run(build)
    if run:
        number = sorted(one.pk for one in build.proving_runs.all()).index(run.pk) + 1
        yield Evidence("proving-run", "proving-run", "Proving run", {"passed": f"run {number} of this build"})


def drive_conditions(build, found):
    """What First ride asks of a drive with a stick."""
    number = [build.number]
    clearance = build.client.clearance()
    cleared_m_s = clearance.greatest_speed_m_s if clearance else None
    unknown = [label_of(name).lower() for name in found.configuration.unknown_drive_settings()]
    yield Condition(
        Hold.FIRST_RIDE,
        "The settings of the drive are known",
        None if unknown else True,
        f"Unknown: {', '.join(unknown)}." if unknown else "",
        reverse("configuration_edit", args=number),
    )
    yield Condition(
        Hold.FIRST_RIDE,
        "Every ceiling of the selector is measured by timed runs with at least the client's mass as ballast",
        *ceilings.what_lacks(found.ceilings, found.mass_kg, cleared_m_s),
        reverse("timed_runs", args=number),
    )
    yield Condition(
        Hold.FIRST_RIDE,
        "Coast or brake is measured on the floor, and down the steepest slope of the client's places",
        *stops.what_lacks(found.stops, found.mass_kg, found.fastest_m_s),
        reverse("drive_map", args=number),
    )
    yield Condition(
        Hold.FIRST_RIDE,
        "A passed proving run stands for this configuration",
        *proved(build),
        reverse("proving_runs", args=number),
    )


def proved(build):
    run = proving.run_of(build)
    if run is None:
        void = [one for one in build.proving_runs.all() if one.voided_at and not one.is_struck]
        if void:
            return False, f"The last one is void: {'; '.join(void[-1].void_changes[:2])}."
        return None, "None is recorded."
    if run.state == proving.State.PASSED:
        return True, ""
    return False, "It failed." if run.state == proving.State.FAILED else "It is not finished."


def drive_workers(build):
    rows = [*build.proving_runs.all(), *build.proving_lines.all(), *build.stop_measurements.all()]
    return {one for row in rows for one in (row.made_by_id, row.struck_by_id)} - {None}
