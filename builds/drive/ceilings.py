"""The ceilings of the selector, and which of them is measured by timed runs that stand."""

from dataclasses import dataclass, field

from builds.engineering.finding import CHECK, FITS, STOP, UNKNOWN, Finding, plain, unknown
from builds.engineering.speed import timed_runs

SOURCE = "record of the configuration"
TYPED_M_S = 1e-5  # a ceiling is typed and told to six digits


@dataclass
class Ceiling:
    """One position that the cart can be driven at."""

    position: str
    share: float
    ceiling_m_s: float | None
    is_in_use: bool
    runs: list = field(default_factory=list)  # timed runs that stand for it
    fastest_m_s: float | None = None
    ballast_kg: float | None = None
    finding: Finding | None = None

    @property
    def percent(self):
        return f"{plain(100 * self.share)} %"


def carried(mass_kg, ballast_kg):
    """Whether the ballast was the client's mass of now or more; None while either is unknown."""
    return None if None in (mass_kg, ballast_kg) else ballast_kg >= mass_kg


def volts(configuration):
    return configuration.battery.voltage_v if configuration.battery else None


def share_in_use(configuration):
    row = configuration.slowest() if configuration.selector == "no" else (
        configuration.ceiling_at(configuration.ceiling_position)
    )  # fmt: skip
    return row["share"] if row else None


def rows_of(configuration):
    """What can be driven at; without a selector the slowest, under the name that the configuration gives it."""
    rows = configuration.ceiling_rows()
    if configuration.selector == "no" and rows and configuration.ceiling_position:
        return [{**rows[0], "position": configuration.ceiling_position}]
    return rows


def pushed_by(configuration, position):
    """What makes it as fast as it is at this position: its share of full command, the pulse, the battery."""
    row = next((one for one in rows_of(configuration) if one["position"] == position), None)
    return (row["share"] if row else None), configuration.span_us, volts(configuration)


def ceilings_of(build, configuration):
    if configuration is None:
        return []
    before = {one.pk: one for one in build.configurations.all()}
    found = []
    for row in rows_of(configuration):
        position = row["position"]
        now = pushed_by(configuration, position)
        runs = [
            one for one in build.timed_runs.all()
            if not one.is_struck and one.position == position and one.configuration_id in before
            and pushed_by(before[one.configuration_id], position) == now
        ]  # fmt: skip
        found.append(ceiling_of(row, configuration.ceiling_position == position, runs))
    return found


def ceiling_of(row, is_in_use, runs):
    measured = [timed_runs(distance_m=one.distance_m, times_s=one.times_s) for one in runs]
    fastest = max((one.fastest_m_s for one in measured), default=None)
    made = Ceiling(row["position"], row["share"], row["ceiling_m_s"], is_in_use, runs, fastest, greatest_ballast(runs))
    made.finding = against_ceiling(made)
    return made


def greatest_ballast(runs, since=None):
    """The greatest ballast that these runs proved; of those since a moment only, where one is named."""
    counting = [one.ballast_kg for one in runs if since is None or one.made_at >= since]
    return max((one for one in counting if one is not None), default=None)


def proved_since(found, since):
    """Runs before the controller was known to run the record were on another program: they prove no ballast.

    Their speed is not taken back. It may still be how fast the cart goes, and the fastest of all is judged.
    """
    for one in (found, *found.ceilings):
        one.ballast_kg = greatest_ballast(one.runs, since)


def against_ceiling(one):
    name, formula = f"fastest run at {one.position}", "no more than the ceiling of that position"
    missing = ["timed runs at this position"] if one.fastest_m_s is None else []
    missing += ["its ceiling"] if one.ceiling_m_s is None else []
    if missing:
        return unknown(name, missing, unit="m/s", limit=one.ceiling_m_s, formula=formula, source=SOURCE)
    verdict = FITS if one.fastest_m_s <= one.ceiling_m_s else CHECK
    return Finding(name, one.fastest_m_s, "m/s", one.ceiling_m_s, verdict, formula, SOURCE)


def is_beyond(one, cleared_m_s):
    """Whether a run at this position, or its ceiling, is faster than the clearance; an unknown one is asked for."""
    speeds = [speed for speed in (one.fastest_m_s, one.ceiling_m_s) if speed is not None]
    return cleared_m_s is not None and any(speed - cleared_m_s > TYPED_M_S for speed in speeds)


def what_lacks(found, mass_kg, cleared_m_s):
    """(met, why) of the condition that every ceiling is measured. Whoever turns the selector reads no clearance."""
    if not found:
        return None, "The positions of the speed selector are unknown, or whether one is fitted."
    unmeasured = [one.position for one in found if not one.runs]
    if unmeasured:
        return None, f"No timed runs stand at: {', '.join(unmeasured)}."
    light = [one.position for one in found if None not in (one.ballast_kg, mass_kg) and one.ballast_kg < mass_kg]
    if light:
        return False, f"The ballast was less than the client's mass of {plain(mass_kg)} kg at: {', '.join(light)}."
    if mass_kg is None or any(one.ballast_kg is None for one in found):
        return None, "The client's mass is unknown." if mass_kg is None else "The ballast is unknown."
    fast = [one.position for one in found if one.finding.verdict in (CHECK, STOP)]
    if fast:
        return False, f"Faster than its ceiling: {', '.join(fast)}."
    beyond = [one.position for one in found if is_beyond(one, cleared_m_s)]
    if beyond:
        return False, f"Faster than the clearance of {plain(cleared_m_s)} m/s: {', '.join(beyond)}."
    doubts = [one.position for one in found if one.finding.verdict == UNKNOWN]
    return None if doubts else True, f"The ceiling is unknown at: {', '.join(doubts)}." if doubts else ""
