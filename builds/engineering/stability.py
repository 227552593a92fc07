"""Where the middle of all masses lies, and on which slope the standing unit tips over."""

from dataclasses import dataclass
from math import atan, atan2, degrees, hypot, sqrt

from builds.engineering import guards, limits, margins
from builds.engineering.finding import STOP, EngineeringError, Finding, plain, shown_inputs, unknown
from builds.engineering.load import listed, positive_total

LAYOUTS = ("four", "one-front", "one-rear")
GRAVITY_M_S2 = 9.81
DIRECTIONS = {
    "left": "to the occupant's left",
    "right": "to the occupant's right",
    "front": "forward",
    "rear": "backward",
}


@dataclass(frozen=True)
class Balance:
    cg_x: float | None
    cg_y: float | None
    cg_z: float | None
    left_deg: float | None
    right_deg: float | None
    front_deg: float | None
    rear_deg: float | None
    findings: tuple


def balance(
    *, layout, masses, track_m, wheelbase_m, steepest_slope_deg, least_tip_deg=None, over_slope_deg=None
):
    """The centre of all masses and the slope at which the unit tips each way.

    Four wheels: left = atan((track/2 - y) / z), right with + y, rear = atan(x / z), front = atan((wheelbase - x) / z).
    With one wheel in front or behind, left and right tip over the line from it to that side's wheel of the pair.
    Parameters: layout: four, one-front, one-rear [-]; masses with places, x forward of the rear axle, y to the
    occupant's left, z up from the ground [kg, m]; track, 0.05 to 3, wheelbase, 0.05 to 5 [m]; steepest slope where
    the client goes, 0 to 45 [deg], 0 where none is named; least_tip: smallest tip angle the lab accepts, 15 to 45,
    over_slope: what it asks for over that slope, 10 to 45 [deg]; each may be None. Returns centre [m], tip slopes
    [deg], findings: `stop` below the limit, `check` within 2 degrees of it. Standing still on a firm slope: braking,
    turning, a leaning rider and soft tyres are not in it. Raises EngineeringError. Limit: common practice.

    >>> from builds.engineering.load import Mass
    >>> places = {"unit": (16, (0.30, 0, 0.22)), "rider": (18, (0.35, 0, 0.55)), "seat": (5, (0.10, 0, 0.15))}
    >>> vehicle = [Mass(name, mass, place) for name, (mass, place) in places.items()]
    >>> tips = balance(layout="four", masses=vehicle, track_m=0.44, wheelbase_m=0.62, steepest_slope_deg=5)
    >>> round(tips.cg_x, 5), round(tips.left_deg, 1), round(tips.rear_deg, 1), tips.findings[0].verdict
    (0.29744, 31.2, 39.3, 'fits')
    """
    guards.choice("Wheel layout", layout, LAYOUTS)
    track = guards.number("Track", track_m, "m", minimum=0.05, maximum=3)
    wheelbase = guards.number("Wheelbase", wheelbase_m, "m", minimum=0.05, maximum=5)
    slope = guards.number("Steepest slope", steepest_slope_deg, "deg", minimum=0, maximum=45)
    masses = listed(masses)
    centre, missing = _centre_or_missing(masses)
    geometry = {"wheel layout": layout, "track": track, "wheelbase": wheelbase}
    missing += [label for label, fact in geometry.items() if fact is None]
    angles = dict.fromkeys(DIRECTIONS) if missing else tip_angles(layout, centre, track, wheelbase)
    rule = _TipRule(least_tip_deg, over_slope_deg)
    inputs = shown_inputs(
        track=(track, "m"), wheelbase=(wheelbase, "m"), wheel_layout=(layout, ""), steepest_slope=(slope, "\u00b0")
    ) + tuple((mass.name, _described(mass)) for mass in masses)
    findings = tuple(_tip_finding(way, angle, rule, slope, missing, inputs) for way, angle in angles.items())
    x, y, z = centre or (None, None, None)
    return Balance(x, y, z, angles["left"], angles["right"], angles["front"], angles["rear"], findings)


def centre_of_mass(masses):
    """Centre of masses whose places are known.

    Parameters: masses with places [kg, m]. Returns (x, y, z) [m]. Raises EngineeringError where the sum of
    masses is not above 0. Source: definition.

    >>> from builds.engineering.load import Mass
    >>> centre_of_mass([Mass("a", 1, (0, 0, 0)), Mass("b", 3, (1, 0, 2))])
    (0.75, 0.0, 1.5)
    """
    total = positive_total(masses)
    return tuple(sum(mass.counted_kg * mass.place_m[axis] for mass in masses) / total for axis in range(3))


def tip_angles(layout, centre, track_m, wheelbase_m):
    """Slopes on which a unit tips each way.

    Parameters: layout: four, one-front, one-rear [-]; centre of all masses, its height above 0 [m]; track, wheelbase
    [m]. Returns slopes by direction [deg]; below 0 it tips over on the flat. Raises EngineeringError. Source: statics,
    by definition of the tipping line.

    >>> round(tip_angles("four", (0.3, 0.0, 0.45), 0.50, 0.62)["left"], 3)
    29.055
    """
    x, y, z = centre
    if not z > 0:
        raise EngineeringError(f"Height of the centre must be more than 0 m, not {z:g} m.")
    half = track_m / 2
    left, right = half - y, half + y
    if layout != "four":
        # How far along the unit the tipping line has opened from the single wheel, 0 to 1.
        opened = (wheelbase_m - x) / wheelbase_m if layout == "one-front" else x / wheelbase_m
        across = wheelbase_m / hypot(wheelbase_m, half)
        left, right = (half * opened - y) * across, (half * opened + y) * across
    arms = {"left": left, "right": right, "front": wheelbase_m - x, "rear": x}
    return {way: degrees(atan2(arm, z)) for way, arm in arms.items()}


def static_stability_factor(track_m, height_m):
    """Half the track [m] over the height [m] of the centre [-]. Source: NHTSA definition.

    >>> round(static_stability_factor(0.60, 0.50), 6)
    0.6
    """
    return track_m / 2 / height_m


def turn_tip_speed(radius_m, stability_factor):
    """Speed [m/s] at which a flat turn of this radius [m] tips a unit of this static stability factor [-].

    v = sqrt(g x R x factor), without a leaning rider or soft tyres. Source: definition of the factor.

    >>> round(turn_tip_speed(1.5, 0.60), 3)
    2.971
    """
    return sqrt(GRAVITY_M_S2 * radius_m * stability_factor)


def slope_deg(rise, run):
    """A slope of rise to run [m] in degrees [deg]: 1 to 12 is 4.764. Source: definition.

    >>> round(slope_deg(1, 12), 3)
    4.764
    """
    return degrees(atan(rise / run))


def rear_axle_share(centre_x_m, wheelbase_m):
    """Share of the weight on the rear axle [-]: 1 - x of the centre [m] / wheelbase [m]. Source: definition.

    >>> round(rear_axle_share(0.29744, 0.62), 4)
    0.5203
    """
    return 1 - centre_x_m / wheelbase_m


def _centre_or_missing(masses):
    missing = [f"mass of {mass.name}" for mass in masses if mass.mass_kg is None]
    missing += [f"place of {mass.name}" for mass in masses if mass.place_m is None]
    return (None, missing) if missing else (centre_of_mass(masses), [])


def _described(mass):
    told = "unknown" if mass.mass_kg is None else f"{mass.mass_kg:g} kg{' off' if mass.removed else ''}"
    place = "unknown place" if mass.place_m is None else ", ".join(f"{part:g}" for part in mass.place_m) + " m"
    return f"{told} at {place}"


class _TipRule:
    """The smallest tip angle, the lab's own where it is stricter."""

    def __init__(self, least_tip_deg, over_slope_deg):
        self.least = limits.tightened(limits.TIP_ANGLE, least_tip_deg)
        self.over = limits.tightened(limits.TIP_OVER_SLOPE, over_slope_deg)
        asked = ((limits.TIP_ANGLE, least_tip_deg), (limits.TIP_OVER_SLOPE, over_slope_deg))
        tight = [limits.source_of(limit, own) for limit, own in asked if own not in (None, limit.value)]
        self.source = "; ".join(tight) or limits.TIP_ANGLE.source
        self.formula = margins.TIP.beside(
            "arc tangent of the distance from the centre of all masses to the tipping line over its height; "
            f"at least {plain(self.least)} degrees, and {plain(self.over)} degrees over the steepest known slope"
        )

    def limit(self, slope):
        return self.least if slope is None else max(self.least, slope + self.over)


def _tip_finding(way, angle, rule, slope, missing, inputs):
    name = f"tips {DIRECTIONS[way]}"
    limit, formula, source = rule.limit(slope), rule.formula, rule.source
    if angle is not None and angle < limit:
        return Finding(name, angle, "\u00b0", limit, STOP, formula, source, inputs)
    lacks = missing or (["steepest slope where the client goes"] if slope is None else [])
    if lacks:
        return unknown(name, lacks, unit="\u00b0", limit=limit, formula=formula, source=source, inputs=inputs)
    verdict = margins.judged(angle, limit, margins.TIP, at_least=True)
    return Finding(name, angle, "\u00b0", limit, verdict, formula, source, inputs)
