"""A plan's content as its sheet shows it: codes as words, limits as sentences, nothing computed."""

from builds.plans.words import SECTIONS, SIGNAL_WORDS
from builds.record.holds import Hold

HEADINGS = {
    "incoming": "Incoming test",
    "teardown": "Teardown",
    "adaptation": "Adaptation",
    "commissioning": "Commissioning",
    "fitting": "Fitting",
}
WORDS = {
    "ride_on": "ride-on that the client drives",
    "toy": "toy worked by a switch",
    "two_motor": "ride-on with two drive motors",
    "one_motor": "ride-on with one drive motor",
    "lead_acid": "sealed lead-acid",
    "li_ion": "lithium-ion",
    "lifepo4": "lithium iron phosphate",
    "nimh": "nickel metal hydride",
    "primary": "single-use cells",
    "use_guide": "use guide",
    "charging_guide": "charging guide",
    "supervision_card": "supervision card",
    "hand_off_sheet": "hand-off sheet",
    "as_built": "as-built record",
    "stop_use_card": "stop-use card",
    "storage_card": "storage card",
    "teach_back_sheet": "teach-back sheet",
    "use_diary": "use diary",
    "follow_up_form": "follow-up form",
    "what_we_keep": "what we keep about your child",
    "picture_page": "picture page",
    "one_motor_current": "that of the unit's motor",
    "all_motors_current": "that of all the unit's motors",
}


def sheet_of(content):
    return {
        **content,
        "facts": facts_of(content),
        "sections": [
            {"heading": HEADINGS[part], "anchor": part, "steps": [step_line(step) for step in content[part]]}
            for part in SECTIONS
        ],
        "runs": [run_line(run) for run in content["wire_runs"]],
        "cautions": [caution_box(one) for one in sorted(content["cautions"], key=gravest_first)],
        "switches": [{**part, "amperes": amperes(part, "stall_a")} for part in content["switching_parts"]],
    }


def gravest_first(caution):
    return SIGNAL_WORDS.index(caution["signal"])


def caution_box(caution):
    return {**caution, "lines": [caution["can_happen"], *caution["do"]]}


def facts_of(content):
    return [
        ("Base units", in_words(content["unit_kinds"])),
        ("Battery and charger", in_words(content["chemistry"])),
        ("Hold points", ", ".join(Hold(code).label for code in content["hold_points"])),
        ("Speed selector", ", ".join(content["selector_positions"]) or "none: the slowest ceiling"),
        ("Papers", in_words(content["papers"])),
    ]


def in_words(codes):
    return ", ".join(WORDS[code] for code in codes)


def step_line(step):
    reading = step["reading"]
    return {**step, "reading_line": reading_line(reading) if reading else "", "marks": marks_of(step)}


def reading_line(reading):
    """The reading, its limits and where they come from, in one line."""
    limits = [
        f"{word} {reading[name]:g} {reading['unit']}"
        for name, word in (("at_least", "at least"), ("at_most", "at most"))
        if reading[name] is not None
    ]
    line = f"{reading['label']} in {reading['unit']}"
    if limits:
        line += f": {', '.join(limits)}. Source: {reading['source']}"
    return line


def marks_of(step):
    words = {"photo": "photo", "battery_out": "battery out", "repeats_per_side": "again on the other side"}
    return ", ".join(word for name, word in words.items() if step[name])


def run_line(run):
    return {**run, "running": amperes(run, "running_a"), "stall": amperes(run, "stall_a")}


def amperes(row, name):
    if row[name] is not None:
        return f"{row[name]:g} A"
    return WORDS[f"{row['amperes_from']}_current"] if row["amperes_from"] else "unknown"
