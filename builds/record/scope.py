"""Whether a configuration stays inside a clearance. Only what falls outside its scope voids a clearance."""

from clients.models import Clearance


def outside_equipment(clearance, equipment):
    """What the clearance says against this kind of equipment, in words, before anything is configured."""
    if clearance.equipment in (Clearance.Equipment.ANY, equipment):
        return []
    return [f"It clears: {clearance.get_equipment_display().lower()}."]


def outside(clearance, configuration, equipment):
    """What of this configuration the clearance does not cover, in words; an empty list means all of it is covered."""
    found = outside_equipment(clearance, equipment)
    if equipment != Clearance.Equipment.RIDE_ON:
        return found
    if configuration is None:
        return [*found, "There is no configuration yet."]
    if not clearance.covers_side(configuration.side):
        found.append(
            f"It clears: {clearance.get_scope_display().lower()}. "
            f"The configuration says: {configuration.get_side_display().lower()}."
        )
    found.extend(_speed(clearance, configuration))
    lacking = [code for code in clearance.supports if code not in configuration.supports]
    if lacking:
        found.append(f"It asks for supports that are not fitted: {', '.join(lacking)}.")
    return found


def _speed(clearance, configuration):
    if clearance.greatest_speed_m_s is None:
        yield "Its greatest speed is unknown."
    elif configuration.ceiling_m_s is None:
        yield "The speed ceiling of the configuration is unknown."
    elif configuration.ceiling_m_s > clearance.greatest_speed_m_s:
        yield (
            f"It clears up to {clearance.greatest_speed_m_s:g} m/s. The ceiling is {configuration.ceiling_m_s:g} m/s."
        )
