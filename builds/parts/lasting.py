"""How long the battery carries the drive, keeps when it is forgotten in the unit, and whether it charges by day.

Nothing is filled in: capacity and its hours rate, usable share, Peukert exponent and self-discharge are the battery's,
the driving current is the configuration's, the current at rest is what the bench measured.
"""

from math import ceil

from builds.engineering.battery import runtime, standby_drain
from builds.engineering.charging import home_charge
from builds.engineering.finding import EngineeringError, unknown
from builds.parts.power import battery_of, charger_of, needs_no_charger
from builds.record import hooks

LASTING = "How long the battery lasts"
CHARGING = "Charging at home"
THOUSAND = 1000  # a session in hours, to three decimals and never shorter than it is
AT_REST = "quiescent"  # what the step tests that measures the current while switched off


def lasting_findings(build, configuration):
    """(heading, finding) pairs for a ride-on: drive time, days in storage, and charging inside waking hours."""
    battery = battery_of(configuration)
    if battery is None:
        return [(LASTING, unknown("run time", "the battery", unit="h", source="record of the configuration"))]
    found = [(LASTING, one) for one in (*driving(build, configuration, battery), *forgotten(build, battery))]
    if not needs_no_charger(battery):
        found += [(CHARGING, one) for one in charging(build, battery, charger_of(configuration))]
    return found


def driving(build, configuration, battery):
    clearance = build.client.clearance()
    session_min = clearance.session_min if clearance else None
    return refused_in_words(
        "run time",
        lambda: runtime(
            capacity_ah=battery.capacity_ah,
            load_a=configuration.driving_current_a,
            peukert=battery.peukert,
            usable=battery.usable_share,
            hours_rate=battery.hours_rate,
            needed_h=ceil(session_min / 60 * THOUSAND) / THOUSAND if session_min else None,
        ),
    )


def forgotten(build, battery):
    """Full, off the charger, left plugged into the unit that is switched off."""
    return refused_in_words(
        "days in storage until half",
        lambda: standby_drain(
            capacity_ah=battery.capacity_ah,
            drain_a=measured(build, AT_REST, "A"),
            self_discharge_percent=battery.self_discharge_percent,
        ),
    )


def charging(build, battery, charger):
    """Empty, the longest charge there is, as the charging guide tells it."""
    home = getattr(build.client, "household", None)
    return refused_in_words(
        "charge within waking hours",
        lambda: home_charge(
            capacity_ah=battery.capacity_ah,
            charger_a=charger.current_a if charger else None,
            plug_in=home.plug_in_time if home else None,
            wake=home.wake_time if home else None,
            sleep=home.sleep_time if home else None,
        ),
    )


def refused_in_words(name, compute):
    try:
        return compute().findings
    except EngineeringError as error:
        return (unknown(name, str(error), source="record of the build"),)


def measured(build, code, unit):
    """What the bench measured, by what the step tests; None while nobody has."""
    known = [value for value in (ask(build, code, unit) for ask in hooks.measured) if value is not None]
    return max(known, default=None)
