"""What is set for the client on a demo build, and how the control is tuned to it."""

from builds.demo.factories.controller import make_told_digest
from builds.demo.factories.drive import ARM, STICK, make_accepted_fit, make_capture
from builds.demo.factories.parts import BatteryFactory, ChargerFactory
from builds.demo.factories.proving import drive_of, make_proving_run, make_stops, time_other_ceilings
from builds.demo.factories.switches import OF_A_RIDE_ON, TOY_SWITCH
from builds.demo.readings import ballast_kg
from builds.drive.arm_findings import OTHER
from builds.drive.capture_models import Capture
from builds.drive.capture_rules import refuse_fit
from builds.drive.models import Calibration
from builds.drive.rules import accept_calibration, record_calibration, record_timed_runs
from builds.parts.models import Chemistry
from builds.record import rules

CEILING_M_S = 0.7
HALF_SHOULDERS_M = 0.13
RIDER_PLACE = [0.28, 0.0, 0.46]
DISCONNECT = "the battery plug behind the seat, on the right; pull it out"
# Readings of a ten-bit converter: no two sticks rest alike, and this one was trimmed.
AS_FOUND = {"x_rest": 538, "x_low": 121, "x_high": 902, "y_rest": 489, "y_low": 133, "y_high": 918}
AS_LEFT = {"x_rest": 514, "x_low": 118, "x_high": 905, "y_rest": 509, "y_low": 130, "y_high": 916}
READ_WITH = {
    "full_scale": 1023, "x_spread": 2, "y_spread": 3, "x_reversed": "no", "y_reversed": "no",
    "instrument": "Readout of the controller board", "supply_v": 5.0,
}  # fmt: skip
MADE = "Readings made up by a seeded generator; no stick was logged"
SEATS = {"ride_on": "Bought seat with side supports and a lap belt", "toy": ""}


def set_up(build, account, **settings):
    """Plan the configuration: battery and charger, ceiling, supports, mount, and where the client sits."""
    rides = build.plan_revision.plan.equipment == "ride_on"
    planned = ride_on_settings(build) if rides else toy_settings(build)
    rules.configure(build, account, "Planned for the client", **{**planned, **settings})
    rules.forget_prefetched(build)


def ride_on_settings(build):
    stick = build.plan_revision.content["stick"]
    kind = build.unit.type
    battery = BatteryFactory(chemistry=kind.battery_chemistry, voltage_v=12.0, capacity_ah=kind.battery_capacity_ah)
    charger = ChargerFactory(chemistry=kind.charger_chemistry, current_a=kind.charger_current_a)
    return {
        "ceiling_m_s": CEILING_M_S,
        "ceiling_position": "slow" if stick else "no selector fitted",
        "mount": "Jointed arm on the side rail" if stick else "Tray in front, switch flat on it",
        "seat": SEATS["ride_on"],
        "supports": list(build.client.sitting.supports),
        "battery": battery,
        "charger": charger,
        "disconnect": DISCONNECT,
        **OF_A_RIDE_ON,
        **drive_of(build),
        **places(build),
        **(ARM if stick else {}),
        "driving_current_a": 7.5 if stick else 5.5,
    }


def places(build):
    """Where the client, the shoulder and the control are; y counts to the occupant's left."""
    access = build.client.access
    outward = HALF_SHOULDERS_M if access.side == "left" else -HALF_SHOULDERS_M
    return {
        "rider_place": RIDER_PLACE,
        "shoulder_place": [0.26, outward, 0.62],
        "control_place": [0.40, outward, 0.50],
    }


def toy_settings(build):
    cells = BatteryFactory(chemistry=Chemistry.PRIMARY, voltage_v=3.0, capacity_ah=2.0, hours_rate=20, mass_kg=0.05)
    return {
        "battery": cells,
        "mount": "On the table, socket at the back of the toy",
        "stop_switch": "none",
        "power_switch": TOY_SWITCH,
    }


def calibrate(build, builder):
    """Read the stick as found, trim it, read it again as left, and set that for the client."""
    if not build.plan_revision.content["stick"]:
        return
    side = build.configuration().side
    record_calibration(build, builder, when=Calibration.When.AS_FOUND, side=side, **AS_FOUND, **READ_WITH)
    left = record_calibration(build, builder, when=Calibration.When.AS_LEFT, side=side, **AS_LEFT, **READ_WITH)
    accept_calibration(left, builder)
    capture_stick(build, builder, side)
    rules.forget_prefetched(build)


def capture_stick(build, builder, side):
    """Log the stick as found and as left, on the other side too where the arm swaps, and set what fits this side."""
    found = STICK.but(turn_deg=STICK.turn_deg + 9, centre=(531.0, 496.0), seed=build.pk)
    make_capture(build, builder, found, when=Capture.When.AS_FOUND, side=side, note=MADE)
    if build.configuration().arm == build.configuration().Reversible.SWAPS:
        across = STICK.but(turn_deg=STICK.turn_deg - 180, throws=(0.6, 0.5, 0.44, 0.4), seed=build.pk + 1)
        make_capture(build, builder, across, side=OTHER[side], note=MADE)
    held = STICK.but(order=(*STICK.order, "hold", "rest"), tremor_hz=5.0, tremor=16.0, seed=build.pk + 2)
    make_accepted_fit(build, builder, held, side=side, note=MADE)


def capture_crossed(build, builder):
    """Two stick wires were swapped: the fit comes out mirrored, is refused, and the wires are put right."""
    side = build.configuration().side
    capture = make_capture(build, builder, STICK.but(mirrored=True, seed=build.pk), side=side, note=MADE)
    refuse_fit(capture.fitted, builder, "Two wires were crossed at the stick's plug; put right, and captured again")


def time_runs(build, builder):
    """Three runs over a marked distance at the ceiling in use, with the ballast of the floor run."""
    if build.plan_revision.plan.equipment != "ride_on":
        return
    record_timed_runs(
        build,
        builder,
        position=build.configuration().ceiling_position,
        is_ceiling_in_use=True,
        distance_m=5.0,
        times_s=[7.6, 7.5, 7.7],
        ballast_kg=ballast_kg(build),
        surface="Lab floor, level",
    )
    time_other_ceilings(build, builder, ballast_kg(build))


def prove(build, builder):
    """Every line of the proving run, wheels up, as a sound drive shows it."""
    if build.has_stick:
        make_told_digest(build, builder)
        make_proving_run(build, builder)
        rules.forget_prefetched(build)


def measure_stops(build, builder):
    """Let go with the ballast of the floor run, on the floor and on the steepest slope where the client goes."""
    if build.has_stick:
        make_stops(build, builder, ballast_kg(build))
