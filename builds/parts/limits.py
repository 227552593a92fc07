"""How large a figure of a unit, a battery or a charger may sensibly be. Common practice, to catch slips of typing."""

import re

from builds.parts.models import BaseUnitType

HEAVIEST_KG = 100  # of a battery or a part
LIMITS = {  # smallest, largest, in SI (Ah)
    "rated_load_kg": (1, 250),
    "own_mass_kg": (0.5, 250),
    "track_m": (0.1, 2),
    "wheelbase_m": (0.1, 2.5),
    "wheel_diameter_m": (0.02, 1),
    "motor_running_a": (0.01, 200),
    "motor_stall_a": (0.01, 1000),
    "battery_voltage_v": (1, 24),  # 24 V of supply in a toy: ASTM F963 4.25.2 (in translation)
    "voltage_v": (1, 60),
    "battery_capacity_ah": (0.1, 200),
    "capacity_ah": (0.1, 200),
    "charger_current_a": (0.01, 20),
    "mass_kg": (0, HEAVIEST_KG),
    "usable_share": (0.05, 1),
    "self_discharge_percent": (0, 99),
}
NUMBER = re.compile(r"[A-Z0-9]+(?:-[A-Z0-9]+)*")
RIDE_ONS = (BaseUnitType.Kind.TWO_MOTOR, BaseUnitType.Kind.ONE_MOTOR)
