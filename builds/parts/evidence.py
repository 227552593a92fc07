"""What this room offers to the hold points: unit, geometry, parts, battery, charger and restore kit."""

from builds.parts.carrying import LOAD, balance_by_side, load_findings, met
from builds.parts.conditions import every_hold, first_power, first_ride, hand_off, kit_of, sound_unit
from builds.parts.entered import facts
from builds.parts.lasting import lasting_findings
from builds.parts.models import BaseUnit, BaseUnitType, Battery, BuildPart, Charger, RestoreItem, RestoreKit
from builds.parts.power import CHEMISTRY, battery_of, charger_of, chemistry_finding
from builds.record.models import Build
from builds.record.registry import Evidence, Report, Room
from labsite.place_field import place_in_words

# What `report` reads of a build beside its unit, plan and configurations.
TICKET_PREFETCH = ["parts", "restore_items", "restore_kit"]
WORK = ("parts", "restore_items", "restore_kit")
FIT = {True: "fits", False: "does not fit", None: None}


def register(registry):
    registry.add(Room(name="parts", report=report, watches=watches(), prefetch=TICKET_PREFETCH, work=WORK, facts=facts))


def watches():
    return [
        (BaseUnit, lambda row: Build.objects.filter(unit=row).values_list("pk", flat=True)),
        (BaseUnitType, lambda row: Build.objects.filter(unit__type=row).values_list("pk", flat=True)),
        (Battery, lambda row: row.configurations.values_list("build", flat=True)),
        (Charger, lambda row: row.configurations.values_list("build", flat=True)),
        (BuildPart, lambda row: [row.build_id]),
        (RestoreItem, lambda row: [row.build_id]),
        (RestoreKit, lambda row: [row.build_id]),
    ]


def report(build):
    configuration = build.configuration()
    margin, carried = load_findings(build) if build.rides else (None, ())
    tips = balance_by_side(build, configuration) if build.rides else []
    chemistry = chemistry_finding(build, configuration)
    return Report(
        evidence=[
            *unit_evidence(build.unit),
            *part_evidence(build),
            *power_evidence(configuration),
            kit_evidence(build),
            *carrying_evidence(carried, tips, build.rides),
        ],
        conditions=[
            *every_hold(build),
            *sound_unit(build, configuration, build.rides),
            *first_power(build, configuration, chemistry),
            *first_ride(build, carried, tips),
            *hand_off(build),
        ],
        workers=workers(build),
        findings=[
            *((LOAD, finding) for finding in carried),
            *((heading, finding) for heading, findings in tips for finding in findings),
            (CHEMISTRY, chemistry),
            *(lasting_findings(build, configuration) if build.rides else ()),
        ],
        section={"margin_kg": margin, "kit": kit_of(build)},
    )


def unit_evidence(unit):
    kind = unit.type
    yield Evidence(
        "unit",
        "unit",
        f"Unit {unit.number}",
        {
            "recall": unit.get_recall_display(),
            "rated_load": in_unit(kind.rated_load_kg, "kg"),
            "type": kind.name,
            "battery_voltage": in_unit(kind.battery_voltage_v, "V"),
        },
    )
    yield Evidence(
        "unit-geometry",
        "unit-geometry",
        f"Mass and wheels of unit {unit.number}",
        {
            "own_mass": in_unit(kind.own_mass_kg, "kg"),
            "own_place": place_in_words(kind.own_place),
            "track": in_unit(kind.track_m, "m"),
            "wheelbase": in_unit(kind.wheelbase_m, "m"),
            "layout": kind.get_layout_display(),
        },
    )


def carrying_evidence(carried, tips, rides):
    """Only whether it fits: whatever makes it fit no longer voids, and growing within the limits voids nothing."""
    if rides:
        balance = [finding for _, findings in tips for finding in findings]
        fits = {"load": FIT[met(carried)], "balance": FIT[met(balance)]}
        yield Evidence("carrying", "carrying", "Load and balance", fits)


def part_evidence(build):
    for part in build.parts.all():
        if not part.is_struck:
            place = place_in_words(part.place)
            yield Evidence(
                "part",
                f"part:{part.pk}",
                f"Part {part.find_number}, {part.name}",
                {
                    "quantity": f"{part.count:g}",
                    "mass": in_unit(part.mass_kg, "kg"),
                    "place": f"{place}, moves with the arm" if place and part.in_arm else place,
                    "stays_on": part.stays_on,
                    "removed": part.removed,
                },
            )


def power_evidence(configuration):
    battery, charger = battery_of(configuration), charger_of(configuration)
    if battery:
        yield Evidence(
            "battery",
            "battery",
            "Battery",
            {
                "chemistry": f"{battery.number}: {battery.get_chemistry_display()}",
                "voltage": in_unit(battery.voltage_v, "V"),
                "capacity": in_unit(battery.capacity_ah, "Ah"),
                "hours_rate": in_unit(battery.hours_rate, "h"),
            },
        )
    if charger:
        yield Evidence(
            "charger",
            "charger",
            "Charger",
            {
                "chemistry": f"{charger.number}: {charger.get_chemistry_display()}",
                "voltage": in_unit(charger.voltage_v, "V"),
                "current": in_unit(charger.current_a, "A"),
                "stops_by_itself": charger.get_stops_by_itself_display(),
            },
        )


def kit_evidence(build):
    kit = kit_of(build)
    complete, location = (kit.get_complete_display(), kit.location or None) if kit else (None, None)
    return Evidence("restore-kit", "restore-kit", "Restore kit", {"complete": complete, "location": location})


def in_unit(value, unit):
    return None if value is None else f"{value:.6g} {unit}"


def workers(build):
    """Those whose work in this room a release judges."""
    made = {item.made_by_id for item in build.restore_items.all()}
    made |= {part.deviation_by_id for part in build.parts.all()}
    made |= {row.struck_by_id for row in [*build.restore_items.all(), *build.parts.all()]}
    kit = kit_of(build)
    if kit:
        made.add(kit.checked_by_id)
    return made - {None}
