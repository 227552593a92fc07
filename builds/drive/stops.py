"""How the cart comes to stand: what was measured, on the floor and on the client's steepest slope, and what counts."""

from dataclasses import dataclass, field

from django.db import transaction

from builds.drive.proving_models import StopMeasurement
from builds.engineering.drive_effects import ARMS_LENGTH_M, measured_stop, signal_end
from builds.engineering.finding import CHECK, STOP, UNKNOWN, plain
from builds.engineering.speed import braking_distance
from builds.record.models import Build
from builds.record.models.drive_settings import SignalEnd
from builds.record.powering import why_not_driven
from builds.record.registry import forget_prefetched
from builds.record.rules import Refused

FLOOR, SLOPE = StopMeasurement.Place.FLOOR, StopMeasurement.Place.SLOPE


@dataclass
class Stops:
    """The measurement of now on the floor and on the slope, and what they say."""

    floor: object = None
    slope: object = None
    steepest_deg: float | None = None
    steepest_words: str = ""
    findings: list = field(default_factory=list)  # (place, finding)
    deceleration_m_s2: float | None = None  # on the floor

    @property
    def needs_slope(self):
        return self.steepest_deg is None or self.steepest_deg > 0


def stops_of(build, configuration, driven_by):
    """`driven_by` says of a configuration what makes it as fast as it is: measured under another, it counts no more."""
    steepest, words = build.client.steepest_slope()
    found = Stops(steepest_deg=steepest, steepest_words=words)
    if configuration is None:
        return found
    was = {one.pk: driven_by(one) for one in build.configurations.all()}
    now = driven_by(configuration)
    rows = [
        one for one in build.stop_measurements.all()
        if not one.is_struck and was.get(one.configuration_id) == now
    ]  # fmt: skip
    found.floor = newest(rows, FLOOR)
    found.slope = newest([one for one in rows if is_steep_enough(one, steepest)], SLOPE)
    recorded = known(configuration.at_signal_end)
    for one in filter(None, (found.floor, found.slope)):
        told = [*measured(one).findings, signal_end(recorded=recorded, seen=known(one.did))]
        found.findings += [(one.get_place_display(), finding) for finding in told]
    if found.floor:
        found.deceleration_m_s2 = measured(found.floor).deceleration_m_s2
    return found


def newest(rows, place):
    return max((one for one in rows if one.place == place), key=lambda one: one.pk, default=None)


def is_steep_enough(row, steepest):
    """As steep as the steepest place, or gentler and it rolled on even there."""
    return row.slope_deg is not None and (steepest is None or row.slope_deg >= steepest or not row.stopped)


def known(signal_end_code):
    return None if signal_end_code == SignalEnd.UNKNOWN else signal_end_code


def measured(row):
    return measured_stop(
        speed_m_s=row.speed_m_s, distance_m=row.distance_m, stopped=row.stopped,
        slope_deg=row.slope_deg if row.place == SLOPE else 0.0,
    )  # fmt: skip


def what_lacks(found, mass_kg, fastest_m_s):
    """(met, why) of the condition that coast or brake is measured; None where something is unknown."""
    if found.steepest_deg is None:
        return None, found.steepest_words + "."
    wanted = [("on the floor", found.floor)]
    if found.needs_slope:
        wanted.append((f"down the slope of {plain(found.steepest_deg)}\u00b0", found.slope))
    missing = [where for where, row in wanted if row is None]
    if missing:
        return None, f"Not measured under the ceiling in use: {', '.join(missing)}."
    rows = [row for _, row in wanted]
    light = [row for row in rows if row.ballast_kg is not None and mass_kg is not None and row.ballast_kg < mass_kg]
    if light:
        return False, f"The ballast was {plain(light[0].ballast_kg)} kg and the client's mass is {plain(mass_kg)} kg."
    if mass_kg is None or any(row.ballast_kg is None for row in rows):
        return None, "The client's mass is unknown." if mass_kg is None else "The ballast is unknown."
    met, why = judged(found)
    too_far = from_fastest(found, fastest_m_s)
    return (False, too_far) if met and too_far else (met, why)


def from_fastest(found, fastest_m_s):
    """Let go while it crept, any brake looks short: what the same deceleration takes from the fastest timed run."""
    if None in (found.deceleration_m_s2, fastest_m_s) or fastest_m_s <= found.floor.speed_m_s:
        return ""
    way_m = braking_distance(fastest_m_s, found.deceleration_m_s2)
    if way_m <= ARMS_LENGTH_M:
        return ""
    return (
        f"Let go at {plain(found.floor.speed_m_s)} m/s, braking like that takes {plain(way_m)} m from the fastest "
        f"timed run of {plain(fastest_m_s)} m/s, and {plain(ARMS_LENGTH_M)} m is the most. Let go at full speed."
    )


def judged(found):
    """On a slope a long way is told and holds nothing; on the floor it does."""
    wrong = [
        f"{finding.name}: {finding.shown}" for place, finding in found.findings
        if finding.verdict == STOP or (finding.verdict == CHECK and place == FLOOR.label)
    ]  # fmt: skip
    doubts = [finding.missing for _, finding in found.findings if finding.verdict == UNKNOWN]
    if wrong:
        return False, f"Not as it must be: {'; '.join(wrong)}."
    return None if doubts else True, f"Unknown: {', '.join(dict.fromkeys(doubts))}." if doubts else ""


@transaction.atomic
def record_stop(build, account, **measurement):
    build = Build.objects.select_for_update(of=("self",)).select_related("unit").get(pk=build.pk)
    why = why_not_driven(build)
    if why:
        raise Refused(why)
    configuration = build.configuration()
    if configuration is None or configuration.ceiling_m_s is None:
        raise Refused("The speed ceiling of the configuration is unknown. Set it first.")
    made = StopMeasurement.objects.create(build=build, configuration=configuration, made_by=account, **measurement)
    forget_prefetched(build)
    return made
