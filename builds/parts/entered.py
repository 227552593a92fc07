"""Facts that a build takes from rows it shares with others: unit, type of unit, battery, charger.

Whoever entered one releases no hold point that judges it. Which do, the table of what voids what says.
"""

from builds.parts.power import battery_of, charger_of
from builds.record.holds import Hold
from builds.record.registry import Fact
from builds.record.voids import judged_by

# Column -> kind of evidence and its field, in the table of what voids what; two pairs where it is read twice.
OF_UNIT = {"recall": ("unit", "recall"), "type": ("unit", "type")}
OF_TYPE = {"battery_voltage_v": ("unit", "battery_voltage")}
OF_RIDE_ON = {
    "rated_load_kg": ("unit", "rated_load", "printed", "rider_limit"),
    "own_mass_kg": ("unit-geometry", "own_mass", "printed", "lifting"),
    "own_place": ("unit-geometry", "own_place"),
    "track_m": ("unit-geometry", "track"),
    "wheelbase_m": ("unit-geometry", "wheelbase"),
    "layout": ("unit-geometry", "layout"),
}
# Copied into the harness when the build starts, where the plan leaves the current to the unit.
OF_MOTORS = {"motor_running_a": ("wire-run", "running"), "motor_stall_a": ("wire-run", "stall")}
OF_BATTERY = {
    "chemistry": ("battery", "chemistry"),
    "voltage_v": ("battery", "voltage"),
    "capacity_ah": ("battery", "capacity"),
    "hours_rate": ("battery", "hours_rate"),
}
OF_CHARGER = {
    "chemistry": ("charger", "chemistry"),
    "voltage_v": ("charger", "voltage"),
    "current_a": ("charger", "current"),
    "stops_by_itself": ("charger", "stops_by_itself"),
    "light_charging": ("printed", "lights"),
    "light_full": ("printed", "lights"),
}
# Sound unit asks that the chemistry is known.
ASKED_BY = {"chemistry": frozenset([Hold.SOUND_UNIT])}


def facts(build):
    kind, configuration = build.unit.type, build.configuration()
    yield from facts_of(build.unit, OF_UNIT)
    yield from facts_of(kind, {**OF_TYPE, **(OF_RIDE_ON if build.rides else {})})
    yield from facts_of(kind, motor_facts(build), build.made_at)
    for row, columns in ((battery_of(configuration), OF_BATTERY), (charger_of(configuration), OF_CHARGER)):
        if row:
            yield from facts_of(row, columns)


def facts_of(row, columns, copied_at=None):
    for column, read_as in columns.items():
        judged = (judged_by(*pair) for pair in zip(read_as[::2], read_as[1::2], strict=True))
        yield Fact(row, column, ASKED_BY.get(column, frozenset()).union(*judged), copied_at)


def motor_facts(build):
    content = build.plan_revision.content
    taken = {row["amperes_from"] for row in (*content["wire_runs"], *content["switching_parts"])} - {None}
    counted = {"motors": OF_MOTORS["motor_stall_a"]} if "all_motors" in taken else {}
    return {**OF_MOTORS, **counted} if taken else {}
