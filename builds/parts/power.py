"""Whether battery, charger and plan belong together, as far as the record knows."""

from builds.engineering.battery import chemistry_agrees
from builds.parts.models import Chemistry

CHEMISTRY = "Battery and charger"


def battery_of(configuration):
    return configuration.battery if configuration else None


def charger_of(configuration):
    return configuration.charger if configuration else None


def needs_no_charger(battery):
    """Single-use cells are never charged."""
    return battery is not None and battery.chemistry == Chemistry.PRIMARY


def chemistry_finding(build, configuration):
    battery, charger = battery_of(configuration), charger_of(configuration)
    allowed = build.plan_revision.chemistries()
    of_battery = battery.chemistry if battery else None
    of_charger = charger.chemistry if charger else "none" if needs_no_charger(battery) else None
    of_plan = of_battery if of_battery in allowed else allowed[0]
    return chemistry_agrees(of_battery, of_charger, of_plan)


def voltages(build, configuration):
    """(what, volts or None) of everything that must be of one voltage."""
    battery, charger = battery_of(configuration), charger_of(configuration)
    named = [("unit", build.unit.type.battery_voltage_v), ("battery", battery.voltage_v if battery else None)]
    if charger or not needs_no_charger(battery):
        named.append(("charger", charger.voltage_v if charger else None))
    return named


def one_voltage(build, configuration):
    """(met, why): a battery of more volts than the unit was made for has welded switches shut before now."""
    named = voltages(build, configuration)
    known = {volts for _, volts in named if volts is not None}
    said = ", ".join(f"{what} {'unknown' if volts is None else f'{volts:g} V'}" for what, volts in named)
    if len(known) > 1:
        return False, f"They differ: {said}."
    return (None, f"Unknown: {said}.") if any(volts is None for _, volts in named) else (True, "")


def known_power(configuration):
    """(met, why) whether battery and charger are named and their chemistry is known."""
    battery, charger = battery_of(configuration), charger_of(configuration)
    wanted = [("battery", battery)] if needs_no_charger(battery) else [("battery", battery), ("charger", charger)]
    missing = [name for name, one in wanted if one is None or one.chemistry == Chemistry.UNKNOWN]
    if missing:
        return None, f"Choose the {' and the '.join(missing)} in the configuration, with a known chemistry."
    return True, ""
