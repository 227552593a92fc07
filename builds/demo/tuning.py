"""What is set for the client on a demo build, and how the control is tuned to it."""

from builds.demo.factories.parts import BatteryFactory, ChargerFactory
from builds.parts.models import Chemistry
from builds.record import rules

CEILING_M_S = 0.7
HALF_SHOULDERS_M = 0.13
RIDER_PLACE = [0.28, 0.0, 0.46]
DISCONNECT = "Pull plug behind the seat, on the side where the adult walks"
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
        **places(build),
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
    return {"battery": cells, "mount": "On the table, socket at the back of the toy"}


def calibrate(build, builder):
    """Read the stick as found, trim it, read it again as left, and set that for the client."""


def time_runs(build, builder):
    """Three runs over a marked distance at the ceiling in use, with the ballast of the floor run."""
