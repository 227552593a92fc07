"""Units, batteries and chargers are read by everybody and changed by the coordinator; parts belong to a build."""

from builds.demo.factories.parts import BaseUnitFactory, BatteryFactory, ChargerFactory, RestoreItemFactory
from tests.access.labsite import ANYONE
from tests.access.record import BENCH, READS, done, refused
from tests.access.rows import row

ORDER = 40
EVERYBODY = {**ANYONE, "signed_out": 302}
COORDINATOR = {**dict.fromkeys(ANYONE, 403), "coordinator": 200, "signed_out": 302}
CLEARS = {**COORDINATOR, "reviewer": 200}
REASON = {"reason": "A strap is torn"}
LISTS = ("base_units", "unit_types", "batteries", "chargers")
STORE_FORMS = (
    *("base_unit_new", "base_unit_edit", "unit_type_new", "unit_type_edit"),
    *("battery_new", "battery_edit", "charger_new", "charger_edit"),
)
BENCH_FORMS = ("build_parts_weigh", "build_part_strike", "restore_kit_edit", "restore_item_new", "restore_item_strike")

ROWS = [
    *(row(name, **EVERYBODY) for name in (*LISTS, "base_unit")),
    *(row(name, **COORDINATOR) for name in STORE_FORMS),
    *(row(name, "POST", **refused(COORDINATOR)) for name in STORE_FORMS),
    row("unit_do_not_use", **EVERYBODY),
    row("unit_do_not_use", "POST", **refused(EVERYBODY)),
    row("unit_do_not_use", "POST", data=REASON, **done(EVERYBODY)),
    row("unit_clear", **CLEARS),
    row("unit_clear", "POST", **refused(CLEARS)),
    row("unit_clear", "POST", data=REASON, **done(CLEARS)),
    *(row(name, **READS) for name in ("build_parts", "restore_kit")),
    *(row(name, **BENCH) for name in ("build_part_new", "build_part_edit", *BENCH_FORMS)),
    *(row(name, "POST", **refused(BENCH)) for name in ("build_part_new", "build_part_edit", *BENCH_FORMS)),
]


def arguments(world):
    marked = BaseUnitFactory(number="U-901")
    marked.mark_do_not_use(world.builder, "The seat is cracked")
    build = {"number": world.build.number}
    part = {**build, "pk": world.build.parts.first().pk}
    item = {**build, "pk": RestoreItemFactory(build=world.build, made_by=world.builder).pk}
    unit = {"number": world.unit.number}
    return {
        **dict.fromkeys(("base_unit", "base_unit_edit", "unit_do_not_use"), unit),
        "unit_clear": {"number": marked.number},
        "unit_type_edit": {"pk": world.unit.type_id},
        "battery_edit": {"pk": BatteryFactory().pk},
        "charger_edit": {"pk": ChargerFactory().pk},
        **dict.fromkeys(("build_parts", "build_parts_weigh", "build_part_new"), build),
        **dict.fromkeys(("restore_kit", "restore_kit_edit", "restore_item_new"), build),
        **dict.fromkeys(("build_part_edit", "build_part_strike"), part),
        "restore_item_strike": item,
    }
