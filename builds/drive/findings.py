"""What is computed of the drive: rest, speed against the clearance, and reach, on both sides where the arm swaps."""

from dataclasses import dataclass, field, replace

from builds.drive.arm_findings import OTHER, arms
from builds.drive.captures import fit_in_use
from builds.drive.ceilings import greatest_ballast, share_in_use, volts
from builds.drive.rules import neutral_at_rest
from builds.engineering.finding import EngineeringError, unknown
from builds.engineering.reach import reach
from builds.engineering.speed import ceiling_against_clearance, timed_runs
from labsite.marks import Side
from labsite.models import Lab

COMFORTABLE_SHARE = 0.7  # of the measured reach; common practice, no source


@dataclass
class Drive:
    """What is known of one build's drive under its configuration of now."""

    configuration: object
    calibration: object = None
    is_neutral: bool = False
    runs: list = field(default_factory=list)  # timed runs that count
    fastest_m_s: float | None = None
    ballast_kg: float | None = None
    mass_kg: float | None = None
    ceiling: list = field(default_factory=list)  # run and ceiling against clearance, ceiling, walking pace
    of_runs: list = field(default_factory=list)  # findings on the runs themselves
    reaches: list = field(default_factory=list)  # (side, findings)
    arms: list = field(default_factory=list)  # (side, findings)
    fit: object = None  # of a capture, where one is accepted instead of a calibration
    ceilings: list = field(default_factory=list)  # every position of the selector, with its timed runs
    stops: object = None  # how it was measured to come to stand


def drive(build):
    """Everything about the drive, from rows already fetched."""
    configuration = build.configuration()
    if configuration is None:
        return Drive(None)
    calibration = calibration_in_use(build, configuration)
    runs = counting_runs(build, configuration)
    measured = [timed_runs(distance_m=one.distance_m, times_s=one.times_s) for one in runs]
    fastest = max((one.fastest_m_s for one in measured), default=None)
    clearance = build.client.clearance()
    return Drive(
        configuration,
        calibration,
        calibration is not None and neutral_at_rest(calibration),
        runs,
        fastest,
        greatest_ballast(runs),
        build.client.latest_mass_kg(),
        list(
            ceiling_against_clearance(
                fastest_m_s=fastest,
                ceiling_m_s=configuration.ceiling_m_s,
                clearance_m_s=clearance.greatest_speed_m_s if clearance else None,
                walking_pace_m_s=Lab.current().walking_pace_m_s,
            )
        ),
        [finding for one in measured for finding in one.findings[1:]],
        list(reaches(build, configuration)),
        arms=list(arms(build, configuration)),
        fit=fit_in_use(build, configuration),
    )


def calibration_in_use(build, configuration):
    """The accepted calibration, unless it was struck or is of another side."""
    found = next((one for one in build.calibrations.all() if one.pk == configuration.calibration_id), None)
    if found is None or found.is_struck or found.side != configuration.side:
        return None
    return found


def counting_runs(build, configuration):
    """Runs at the ceiling in use: made under the same ceiling, position and battery voltage as now."""
    ceilings = {one.pk: driven_by(one) for one in build.configurations.all()}
    now = driven_by(configuration)
    return [
        one
        for one in build.timed_runs.all()
        if not one.is_struck
        and one.is_ceiling_in_use
        and one.position == configuration.ceiling_position
        and configuration.ceiling_m_s is not None
        and ceilings.get(one.configuration_id) == now
    ]


def driven_by(configuration):
    """What makes it as fast as it is. Runs timed before the battery was named do not count once it is."""
    pushed = share_in_use(configuration), configuration.span_us, volts(configuration)
    return configuration.ceiling_m_s, configuration.ceiling_position, *pushed


def reaches(build, configuration):
    """(side, findings) of the side in use, and of the other one where the arm swaps sides."""
    side = configuration.side
    if side not in OTHER:
        missing = "side of the control"
        yield side, [unknown("reach to the control", missing, formula="needs the side", source="common practice")]
        return
    yield side, reach_findings(build, side, configuration.shoulder_place, configuration.control_place)
    if configuration.arm == configuration.Reversible.SWAPS:
        shoulder, control = mirrored(configuration)
        found = reach_findings(build, OTHER[side], shoulder, control)
        yield OTHER[side], [in_mirror(one) for one in found]


def reach_findings(build, side, shoulder, control):
    measured = build.client.latest("reach", side=side, compensation="without")
    try:
        found = reach(
            side=side,
            shoulder_m=shoulder,
            control_m=control,
            reach_m=measured.value_si if measured else None,
            comfortable=COMFORTABLE_SHARE,
        )
    except EngineeringError as error:
        return [unknown("reach to the control", str(error), source="common practice")]
    return list(found.findings)


def mirrored(configuration):
    """Shoulder and control on the other side: the shoulder about the client's middle, the control about the unit's."""
    rider, shoulder, control = configuration.rider_place, configuration.shoulder_place, configuration.control_place
    about = rider[1] if rider else None
    if shoulder is not None:
        shoulder = None if about is None else [shoulder[0], 2 * about - shoulder[1], shoulder[2]]
    return shoulder, None if control is None else [control[0], -control[1], control[2]]


def in_mirror(finding):
    text = "places on this side are taken as the mirror image of the other side"
    return replace(finding, formula=f"{finding.formula}; {text}")


def headed(found):
    """(heading, finding) pairs for the ticket."""
    for finding in [*found.ceiling, *found.of_runs, *(one.finding for one in found.ceilings)]:
        yield "Speed", finding
    for place, finding in found.stops.findings if found.stops else []:
        yield f"Stopping, {place.lower()}", finding
    for heading, sides in (("Reach", found.reaches), ("Arm", found.arms)):
        for side, findings in sides:
            label = Side(side).label if side in Side.values else "Unknown side"
            yield from ((f"{heading}, {label.lower()}", finding) for finding in findings)
