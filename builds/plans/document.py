"""What a build plan's document holds, and what makes it one that a lab may work by.

A plan is one TOML file. `read_plan(path)` returns its content as plain data with every field present;
a `PlanError` names the file, the place and what is wrong. What a plan cannot know (a stall current of a unit
not chosen yet, the price of a part) is left out of the file and is None here: unknown, to be found in the build.
"""

import hashlib
import json
import tomllib

from builds.plans import schema
from builds.plans.rules import check_whole
from builds.plans.schema import Field, PlanError
from builds.plans.words import (
    CHEMISTRIES,
    EQUIPMENT,
    HOLDS,
    MARKS,
    PAPERS,
    PROOFS,
    READING_UNITS,
    ROLES,
    SIDES,
    SIGNAL_WORDS,
    SUPPORT_RULES,
    SWITCHING_KINDS,
    TERMINATIONS,
    UNIT_KINDS,
    YES_NO_UNKNOWN,
    test_code,
)


def field(read, default=None):
    return Field(read, default=default)


def must(read):
    return Field(read, required=True)


code = must(schema.text(20))
plain_line = schema.text(200)

READING = {
    "label": must(schema.text(120)),
    "unit": must(schema.one_of(READING_UNITS)),
    "at_least": field(schema.number(-1000, 100_000)),
    "at_most": field(schema.number(-1000, 100_000)),
    "source": field(schema.text(200), ""),
}

STEP = {
    "code": code,
    "title": must(schema.text(200)),
    "detail": field(schema.text(2000), ""),
    "check": field(schema.text(300), ""),
    "reading": field(schema.table(READING)),
    "photo": field(schema.yes_or_no, False),
    "battery_out": field(schema.yes_or_no, False),
    "repeats_per_side": field(schema.yes_or_no, False),
    "tests": field(test_code, ""),
}

AMPERES_FROM = ("one_motor", "all_motors")  # the current is that of the unit's own motors, once the unit is known

WIRE_RUN = {
    "code": code,
    "from": must(schema.text(120)),
    "to": must(schema.text(120)),
    "gauge": field(schema.text(20), ""),
    "insulation_c": field(schema.number(50, 250)),
    "conductor_c": field(schema.number(-20, 250)),
    "bundle": field(schema.whole(1, 100)),
    "colour": field(schema.text(40), ""),
    "length_m": field(schema.number(0.01, 20)),
    "running_a": field(schema.number(0, 500)),
    "stall_a": field(schema.number(0, 2000)),
    "amperes_from": field(schema.one_of(AMPERES_FROM)),
    "role": must(schema.one_of(ROLES)),
    "motor_circuit": must(schema.one_of(YES_NO_UNKNOWN)),
    "side": field(schema.one_of(SIDES), "both"),
    "in_arm": must(schema.one_of(YES_NO_UNKNOWN)),
    "spliced": field(schema.one_of(YES_NO_UNKNOWN), "unknown"),
    "fuse": field(schema.text(20)),
    "label_start": field(schema.text(20), ""),
    "label_end": field(schema.text(20), ""),
    "termination_start": field(schema.one_of(TERMINATIONS), "unknown"),
    "termination_end": field(schema.one_of(TERMINATIONS), "unknown"),
}

FUSE = {
    "code": code,
    "rating_a": field(schema.number(0.1, 100)),
    "distance_m": field(schema.number(0, 5)),
    "sheathed": field(schema.one_of(YES_NO_UNKNOWN), "unknown"),
    "note": field(schema.text(300), ""),
}

SWITCHING_PART = {
    "code": code,
    "name": must(schema.text(160)),
    "kind": must(schema.one_of(SWITCHING_KINDS)),
    "motor_circuit": must(schema.one_of(YES_NO_UNKNOWN)),
    "rating_dc_a": field(schema.number(0, 1000)),
    "stall_a": field(schema.number(0, 2000)),
    "amperes_from": field(schema.one_of(AMPERES_FROM)),
    "runs": must(schema.list_of(schema.text(20), least=1)),
    "note": field(schema.text(300), ""),
}

PART = {
    "find_number": must(schema.whole(1, 999)),
    "name": must(schema.text(160)),
    "quantity": must(schema.number(0.01, 1000)),
    "unit_cost": field(schema.number(0, 100_000)),
    "mass_kg": field(schema.number(0, 100)),
    "stays_on": field(schema.yes_or_no, True),
    "in_arm": field(schema.yes_or_no, False),
    "source": field(schema.text(120), ""),
    "substitute_allowed": field(schema.text(200), ""),
}

RESTORE_ITEM = {"code": code, "name": must(schema.text(160)), "mark": must(schema.one_of(MARKS))}

CAUTION = {
    "code": code,
    "signal": must(schema.one_of(SIGNAL_WORDS)),
    "hazard": must(schema.text(160)),
    "can_happen": must(plain_line),
    "do": must(schema.list_of(plain_line, least=1, most=6)),
}

TEACH_BACK_ITEM = {"code": must(schema.text(40)), "text": must(plain_line), "proof": must(schema.one_of(PROOFS))}

PLAN = {
    "code": must(schema.text(60)),
    "name": must(schema.text(160)),
    "equipment": must(schema.one_of(EQUIPMENT)),
    "revision": must(schema.whole(1, 9999)),
    "note": field(schema.text(300), ""),
    "purpose": must(schema.text(1000)),
    "unit_kinds": must(schema.list_of(schema.one_of(UNIT_KINDS), least=1)),
    "hold_points": must(schema.list_of(schema.one_of(HOLDS), least=1)),
    "chemistry": must(schema.list_of(schema.one_of(CHEMISTRIES), least=1)),
    "stick": field(schema.yes_or_no, False),  # driven with a stick: needs its calibration
    "support_rules": field(schema.list_of(schema.one_of(SUPPORT_RULES)), []),
    "selector_positions": field(schema.list_of(schema.text(40)), []),
    "papers": must(schema.list_of(schema.one_of(PAPERS), least=1)),
    "check_before_use": must(schema.list_of(plain_line, least=5, most=5)),
    "do_not_use_when": must(schema.list_of(plain_line, least=3, most=20)),
    "incoming": must(schema.rows(STEP, least=1)),
    "teardown": must(schema.rows(STEP, least=1)),
    "adaptation": must(schema.rows(STEP, least=1)),
    "commissioning": must(schema.rows(STEP, least=1)),
    "fitting": must(schema.rows(STEP, least=1)),
    "restore_kit": field(schema.rows(RESTORE_ITEM), []),
    "fuses": field(schema.rows(FUSE), []),
    "wire_runs": must(schema.rows(WIRE_RUN, least=1)),
    "switching_parts": field(schema.rows(SWITCHING_PART), []),
    "bom": must(schema.rows(PART, least=1, key="find_number")),
    "cautions": must(schema.rows(CAUTION, least=1)),
    "teach_back": must(schema.rows(TEACH_BACK_ITEM, least=1)),
}

read_content = schema.table(PLAN)


def read_plan(path):
    """The content of a plan file, checked; every refusal begins with the file's name."""
    try:
        return parse_plan(path.read_text(encoding="utf-8"))
    except (PlanError, tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise PlanError(f"{path.name}: {error}") from error


def parse_plan(document):
    content = read_content(tomllib.loads(document), "")
    check_whole(content)
    return content


def digest(content):
    """SHA-256 over the canonical JSON of a plan's content."""
    canonical = json.dumps(content, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(canonical.encode()).hexdigest()
