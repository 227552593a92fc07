"""Readings as a sound unit would give them, for steps whose own limits say too little."""

BALLAST_OVER_CLIENT_KG = 2.0  # growing by this much voids nothing
BALLAST_FOR_NOBODY_KG = 20.0

# Where a plan sets no limit, or only one that a real reading is far from.
TYPED = {
    "Open-circuit voltage": "12.9 V",
    "Voltage under load": "11.6 V",
    "Charger voltage": "14.4 V",
    "Distance to stop as bought": "1.4 m",
    "Current without load": "1.6 A",
    "Current loaded": "4.8 A",
    "Wire from post to fuse": "120 mm",
    "Wire from contact to fuse": "60 mm",
    "Greatest resistance of a run": "0.2 ohm",
    "Resistance from plus to minus": "4700 ohm",
    "Stall current of one motor": "27 A",
    "Voltage at which it stops": "9.4 V",
    "Force to start rolling": "38 N",
    "Slope reached": "18 deg",
}
TYPED_ON_TOYS = {
    "Voltage under load": "2.8 V",
    "Running current": "0.3 A",
    "Stall current": "1.4 A",
    "Supply current at rest": "4 mA",
}
TYPED_ON_ONE_MOTOR = {"Stall current": "31 A"}


def typed_for(step, build):
    """What to type for this step beyond what its limits suggest."""
    found = {}
    if step.tests == "ballast":
        found["reading_typed"] = f"{ballast_kg(build):g} kg"
    elif step.reading_label in table_of(build):
        found["reading_typed"] = table_of(build)[step.reading_label]
    if "note says none" in step.must_see:
        found["note"] = "None"
    return found


def table_of(build):
    if build.plan_revision.plan.equipment == "toy":
        return {**TYPED_ON_TOYS}
    return {**TYPED, **TYPED_ON_ONE_MOTOR}


def ballast_kg(build):
    mass = build.client.latest_mass_kg()
    return BALLAST_FOR_NOBODY_KG if mass is None else mass + BALLAST_OVER_CLIENT_KG
