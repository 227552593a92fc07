"""What findings and refusals say, case by case, to be compared with `words.json`.

The numbers are checked elsewhere, against sources outside; here only the words, units and limits that people read are
pinned, so that changing them is a decision. After such a decision, write them anew and read the difference:

    .venv/bin/python -m tests.engineering.words
"""

import json
from datetime import time
from pathlib import Path

from builds.engineering.battery import charger_window, chemistry_agrees, runtime
from builds.engineering.calculators import CALCULATORS, INPUT_ERRORS, calculate
from builds.engineering.calibration import fit_axis
from builds.engineering.charging import charge_plan, home_charge
from builds.engineering.drive_effects import drive_effects, measured_stop, signal_end
from builds.engineering.finding import plain
from builds.engineering.fuse import fuse_position, fuse_protects
from builds.engineering.proportions import proportion_flags
from builds.engineering.proving import LINES, judge_line
from builds.engineering.quantities import parse_gauge
from builds.engineering.seating import chest_strap, suggested_supports, supports_against_level
from builds.engineering.smallest_wire import smallest_wire
from builds.engineering.speed import ceiling_against_clearance
from builds.engineering.wiring import TERMINATIONS, contact_rating, splice_in_flex, termination
from tests.engineering.legal import LEGAL

FILE = Path(__file__).with_name("words.json")
LISTS = {"masses", "scores", "weights", "times_s"}  # an empty list is refused; a missing one is no question
CHANGED = [
    ("wire-run", {"current": "60 A"}), ("wire-run", {"length": "100 m"}), ("wire-run", {"gauge": "13 AWG"}),
    ("wire-run", {"conductor_temperature": "120"}), ("wire-run", {"insulation": "50"}),
    ("wire-run", {"gauge": "2.5 mm^2", "role": "control"}), ("wire-run", {"gauge": "2/0 AWG", "bundle": "8"}),
    ("fuse", {"continuous": "18 A"}), ("fuse", {"continuous": "35 A", "ampacity": "60 A"}),
    ("fuse", {"peak": "20 A"}), ("fuse", {"peak": "14 A"}), ("fuse", {"continuous": "0.5 A"}),
    ("charge-time", {"charger": "10 A"}), ("charge-time", {"charger": "0.2 A"}), ("charge-time", {"charger": "2 A"}),
    ("standby-drain", {"drain": "0", "self_discharge": "0"}), ("standby-drain", {"drain": "0"}),
    ("standby-drain", {"drain": "1 A"}), ("drive-speed", {"wheel_rpm": "60"}), ("drive-speed", {"mass": "55 kg"}),
    ("drive-output", {"x": "0", "y": "0"}), ("drive-output", {"y": "-1"}), ("drive-output", {"y": "0"}),
    ("drive-output", {"neutral_us": "1600"}), ("drive-output", {"x": "2"}), ("drive-output", {"span_us": "1200"}),
    ("drive-output", {"neutral_us": "2200"}), ("timed-runs", {"times": "3.1 2.0"}),
    ("timed-runs", {"times": "2 2 2"}), ("reach", {"side": "right"}),
    ("reach", {"control": "0.6 0.15 0.6"}), ("reach", {"control": "0.35 0.15 0.6"}),
    ("reach", {"shoulder": "0,-0.15,0.6"}),
    ("arm", {"holding_moment": "8"}), ("arm", {"holding_moment": "2"}), ("arm", {"horizontal": "0"}),
    ("load", {"rated": "10"}), ("balance", {"masses": "all=30 kg@0.3,0.1,0.9"}), ("balance", {"layout": "one-front"}),
    ("goal-score", {"scores": "-1 -1"}), ("growth", {"on": "2020-06-01"}), ("growth", {"limit": "10 kg"}),
    ("growth", {"limit": "16 kg"}), ("growth", {"limit": "200 kg"}), ("growth", {"weight": "12 kg"}),
    ("reading-grade", {"text": "Immediately disconnect the electrical installation."}),
    ("reading-grade", {"language": "es"}),
    ("reading-grade", {"language": "es", "text": "Electricidad extraordinaria."}),
]  # fmt: skip
TEXTS = ("-1e9", "0", "1e9", "12 parsec", "x")
DAY = {"plug_in": time(15, 30), "wake": time(7), "sleep": time(22)}
EFFECTS = {
    "ceiling_m_s": 1.0, "slew_up_per_s": 1, "slew_down_per_s": 4, "reverse_gain": 0.5, "turn_gain": 0.7, "expo": 0.5,
    "at_signal_end": "brake", "deceleration_m_s2": 2.0, "reaction_s": 1, "late_ms": 100,
}  # fmt: skip
STOP_OF = {"speed_m_s": 1.0, "distance_m": 0.25, "stopped": True, "slope_deg": 0.0, "most_m": 0.5}
SHOWN = (
    {}, {"left": "forward", "right": "backward"}, {"left": "still", "right": "still"}, {"seen": "left+"},
    {"seen": "y+"}, {"seen": "nothing"}, {"stopped": True}, {"stopped": False}, {"stopped": True, "seconds": 0.4},
    {"stopped": True, "seconds": 4},
)  # fmt: skip
CHARGE = {"capacity_ah": 12, "discharged": 0.5, "charger_a": 1.2, "factor": 1.2}
AXIS = {"name": "Forward", "rest": 512, "lowest": 100, "highest": 900, "full_scale": 1023}
HELPERS = {
    "fuse_position": (fuse_position, [(0.15, None), (0.5, None), (0.5, "yes"), (0.5, "no"), (None, True), (101, None)]),
    "fuse_protects": (fuse_protects, [(15, [20, 35]), (25, [20]), (None, [20]), (15, []), (15, [20, None]), (0, [20])]),
    "contact_rating": (contact_rating, [(30, 22, False), (20, 22, False), (None, 22, False), (30, None, False),
                                        (30, 22, None), (30, 22, True), (-1, 22, False), (30, 0, False)]),
    "splice_in_flex": (splice_in_flex, [(True, True), (False, True), (None, True), (True, None), (None, None)]),
    "termination": (termination, [(kind,) for kind in (*TERMINATIONS, None, "glue")]),
    "chemistry_agrees": (chemistry_agrees, [("lead_acid",) * 3, ("lead_acid", "li_ion", "lead_acid"),
                                            ("primary", "none", "primary"), (None, None, None), ("steam",) * 3,
                                            ("primary",) * 3]),
    "charger_window": (charger_window, [(12, 1.2), (12, 4), (12, None), (None, 1)]),
    "suggested_supports": (suggested_supports, [(level,) for level in (None, 1, 2, 3, 4, 5, 8, 9)]),
    "supports_against_level": (supports_against_level, [(3, ["trunk"]), (5, ["belt"]), (1, ["head"]), (None, []),
                                                        (3, None), (4, ["wings"]), (5, [])]),
    "chest_strap": (chest_strap, [(["trunk"],), (["trunk", "pelvis"],), (None,), ([],)]),
    "smallest_wire": (smallest_wire, [(None,), *((parse_gauge(f"{awg} AWG"),) for awg in (16, 18, 22))]),
}  # fmt: skip
NAMED = {
    "charge_plan": (charge_plan, [{}, {"plug_in": time(21)}, {"plug_in": None}, {"discharged": None}, {"wake": "7"}]),
    "home_charge": (home_charge, [{}, {"charger_a": 2.4}, {"charger_a": 0.5}, {"wake": None}]),
    "fit_axis": (fit_axis, [{}, {"spread": 2}, {"rest": 50}, {"lowest": 0}, {"highest": 1023}, {"lowest": 500},
                            {"spread": 100}, {"spread": -1}, {"full_scale": 3}, {"rest": None}, {"highest": 2000}]),
    "proportion_flags": (proportion_flags, [{}, {"stature_m": None}, {"measures": {"seat_depth": 0.9}}]),
    "runtime": (runtime, [{}, {"needed_h": 1.0}, {"needed_h": 20}, {"needed_h": -1}, {"needed_h": 2000}]),
    "drive_effects": (drive_effects, [{}, *({name: None} for name in EFFECTS), *({name: -1} for name in EFFECTS),
                                      *({name: 1e6} for name in EFFECTS), {"at_signal_end": "coast"},
                                      {"deceleration_m_s2": 0.1}]),
    "measured_stop": (measured_stop, [{}, *({name: None} for name in STOP_OF), *({name: -1} for name in STOP_OF),
                                      {"stopped": False}, {"distance_m": 3}, {"slope_deg": 5}, {"most_m": 200}]),
    "signal_end": (signal_end, [{}, {"seen": "coast"}, {"seen": None}, {"recorded": None},
                                {"seen": None, "recorded": None}, {"seen": "glide"}, {"recorded": "glide"}]),
    "judge_line": (judge_line, [{"code": line.code, **shown} for line in LINES for shown in SHOWN]
                   + [{"code": "hop"}, {"code": "rest", "left": "up"}, {"code": "stop-release", "seconds": -1}]),
    "ceiling_against_clearance": (ceiling_against_clearance, [{}, {"fastest_m_s": 2}, {"clearance_m_s": None},
                                                              {"walking_pace_m_s": None}, {"ceiling_m_s": 0}]),
}  # fmt: skip
DEFAULTS = {
    "runtime": {"capacity_ah": 12, "load_a": 6, "peukert": 1.15, "usable": 1, "hours_rate": 20},
    "drive_effects": EFFECTS,
    "measured_stop": STOP_OF,
    "signal_end": {"recorded": "brake", "seen": "brake"},
    "judge_line": {"turn_gain": 0.7, "reverse_gain": 0.5},
    "charge_plan": CHARGE | DAY,
    "home_charge": {"capacity_ah": 12, "charger_a": 1.5} | DAY,
    "fit_axis": AXIS,
    "proportion_flags": {"stature_m": 1.1, "measures": {"reach": 0.5, "lower_leg": 0.3}},
    "ceiling_against_clearance": {
        "fastest_m_s": 1, "ceiling_m_s": 1.1, "clearance_m_s": 1.2, "walking_pace_m_s": 1.3,
    },
}  # fmt: skip


def said():
    """{case: what is said} of every case."""
    return {**_legal(), **_unknown(), **_refused(), **_helpers()}


def _legal():
    cases = [(name, {}) for name in LEGAL] + CHANGED
    return {
        f"{name} {changed or ''}".strip(): _told(calculate, name, {**LEGAL[name], **changed}) for name, changed in cases
    }


def _unknown():
    """Each function with each of its inputs unknown in turn."""
    found = {}
    for name, calculator in CALCULATORS.items():
        values = calculator.read(LEGAL[name])
        for entry in calculator.inputs:
            if entry.argument not in LISTS and entry.name not in calculator.one_of:
                found[f"{name} without {entry.name}"] = _told(calculator.compute, {**values, entry.name: None})
    return found


def _refused():
    return {
        f"{name} {entry.name}={text}": _told(calculate, name, {**LEGAL[name], entry.name: text})
        for name, calculator in CALCULATORS.items()
        for entry in calculator.inputs
        if entry.kind != "prose"
        for text in TEXTS
    }


def _helpers():
    found = {}
    for name, (function, cases) in HELPERS.items():
        found |= {f"{name}{given}": _told(function, *given) for given in cases}
    for name, (function, cases) in NAMED.items():
        for changed in cases:
            found[f"{name} {changed}"] = _told(lambda f=function, g={**DEFAULTS[name], **changed}: f(**g))
    return found


def _told(function, *given):
    try:
        answer = function(*given)
    except INPUT_ERRORS as refusal:
        return str(refusal)
    if isinstance(answer, dict):
        findings = answer["findings"]
    elif isinstance(answer, tuple):
        findings = [finding.as_dict() for finding in answer]
    else:
        findings = [finding.as_dict() for finding in getattr(answer, "findings", (answer,))]
    return [_words(finding) for finding in findings]


def _words(finding):
    limit = finding["limit"]
    value = finding["value"] if isinstance(finding["value"], str) else finding["value"] is not None
    return {
        **{key: finding[key] for key in ("name", "unit", "verdict", "formula", "source", "missing")},
        "limit": plain(limit, 6) if isinstance(limit, (int, float)) else limit,
        "value": value,
        "inputs": [list(pair) for pair in finding["inputs"]],
    }


def written(cases):
    """One line a case, so that a difference shows the case."""
    lines = (f"{json.dumps(case)}: {json.dumps(told, ensure_ascii=False)}" for case, told in sorted(cases.items()))
    return "{\n" + ",\n".join(lines) + "\n}\n"


if __name__ == "__main__":
    FILE.write_text(written(said()), encoding="utf-8")
