"""The table of what voids what. It stands here and nowhere else.

A row: kind of evidence, its fields, and what a change of one of them voids. The ticket shows this table,
and a test fails when a room offers evidence that has no row.
"""

from dataclasses import dataclass

from builds.record.holds import Hold

SOUND_UNIT, FIRST_POWER, FIRST_RIDE, HAND_OFF = Hold.SOUND_UNIT, Hold.FIRST_POWER, Hold.FIRST_RIDE, Hold.HAND_OFF
PAPERS = "papers"
TEACH_BACK = "teach_back"
KEEPING = "what_we_keep"  # the paper that tells a family what the lab keeps, and no other
PROVING = "proving"  # the proving run of the drive
CLEARANCE = "clearance"  # a clearance is voided only by what falls outside its scope; see scope.py


@dataclass(frozen=True)
class Row:
    kind: str
    fields: tuple[str, ...]
    voids: tuple[str, ...]
    says: str  # the row in words, for the page that shows the table


def row(kind, fields, *voids, says):
    return Row(kind, tuple(fields.split()), voids, says)


# fmt: off
TABLE = [
    row("unit", "recall rated_load type", SOUND_UNIT, FIRST_RIDE, HAND_OFF, PAPERS,
        says="Recall, rated load or type of the unit"),
    row("unit", "battery_voltage", FIRST_POWER, FIRST_RIDE,
        says="The voltage that the unit was made for"),
    row("unit-geometry", "own_mass own_place track wheelbase layout", FIRST_RIDE,
        says="Mass, track or wheelbase of the unit"),
    row("incoming-step", "outcome reading step limits note", SOUND_UNIT,
        says="An incoming test, its reading, its note or its limits"),
    row("hold-before", "standing", FIRST_POWER, FIRST_RIDE, HAND_OFF,
        says="The release of an earlier hold point"),
    row("plan", "revision", SOUND_UNIT, FIRST_POWER, FIRST_RIDE, HAND_OFF, PAPERS,
        says="The plan revision that the build follows"),
    row("adaptation-step", "outcome reading step limits note", FIRST_POWER,
        says="A teardown or adaptation step"),
    row("wire-run", "gauge insulation bundle temperature length running stall role fuse labels",
        FIRST_POWER, FIRST_RIDE,
        says="A wire run: gauge, length, currents, role, fuse or labels"),
    row("wire-run", "start end motor_circuit side in_arm spliced terminations", FIRST_POWER, FIRST_RIDE, PROVING,
        says="A wire run: ends, side, terminations, or what it belongs to"),
    row("fuse", "rating distance sheathed", FIRST_POWER, FIRST_RIDE,
        says="A fuse, its rating or its distance from the battery"),
    row("switching-part", "rating stall", FIRST_POWER, FIRST_RIDE,
        says="The rating of a switch, relay or connector, and its stall current"),
    row("switching-part", "what motor_circuit runs", FIRST_POWER, FIRST_RIDE, PROVING,
        says="A switch, relay or connector, and what it switches"),
    row("harness", "stops", FIRST_POWER, FIRST_RIDE,
        says="A wiring finding that says stop, whatever the cause"),
    row("wire-check", "first second", FIRST_POWER,
        says="A check of a wire run, by the first or the second person"),
    row("battery", "chemistry voltage capacity hours_rate", FIRST_POWER, FIRST_RIDE, PAPERS, TEACH_BACK,
        says="The battery or what is known of it"),
    row("charger", "chemistry voltage current stops_by_itself", FIRST_POWER, FIRST_RIDE, PAPERS, TEACH_BACK,
        says="The charger or what is known of it"),
    row("calibration", "fit side", FIRST_RIDE, PROVING,
        says="The calibration of the stick"),
    row("stick-fit", "fit side", FIRST_RIDE, PROVING,
        says="The fit of the stick from a capture"),
    row("timed-runs", "position speed ballast carries_client", FIRST_RIDE,
        says="Timed runs, or that their ballast carries the client's mass no longer"),
    row("drive-settings", "selector ceilings slew_up slew_down reverse_gain turn_gain expo at_signal_end "
        "neutral_left_us neutral_right_us span_us left_inverted right_inverted band_low band_high",
        FIRST_RIDE, HAND_OFF, PROVING,
        says="The settings of the drive: selector, ceilings, slew, gains, pulses"),
    row("stop-measurement", "slope speed stopped distance did ballast", FIRST_RIDE,
        says="How it was measured to come to stand, on the floor or down a slope"),
    row("controller", "told", FIRST_RIDE, PROVING,
        says="What the controller told at its start, and whether it is what the record says"),
    row("proving-run", "passed", FIRST_RIDE,
        says="The proving run of the drive"),
    row("carrying", "load balance", FIRST_RIDE,
        says="Load or balance: it fits no longer, whatever the cause"),
    row("commissioning-step", "outcome reading step limits note", FIRST_RIDE, HAND_OFF,
        says="A commissioning test, its reading, its note or its limits"),
    row("part", "quantity mass place stays_on removed", FIRST_RIDE,
        says="A part on the unit, its mass or its place"),
    row("configuration", "side", FIRST_RIDE, HAND_OFF, PAPERS, TEACH_BACK, CLEARANCE, PROVING,
        says="The side of the control"),
    row("configuration", "purpose", FIRST_RIDE, HAND_OFF, PAPERS, TEACH_BACK, CLEARANCE,
        says="The purpose of that side"),
    row("configuration", "ceiling ceiling_position", FIRST_RIDE, HAND_OFF, PAPERS, TEACH_BACK, CLEARANCE,
        says="The speed ceiling and the position of the selector"),
    row("configuration", "supports seat mount arm", FIRST_RIDE, HAND_OFF, PAPERS, CLEARANCE,
        says="Seat, supports and mount"),
    row("configuration", "disconnect stop_switch power_switch stop_reset", FIRST_RIDE, HAND_OFF, PAPERS, TEACH_BACK,
        PROVING, says="The battery disconnect, the stop or the power switch, where one is or how it is set back"),
    row("configuration", "straps_open", FIRST_RIDE, HAND_OFF, PAPERS, TEACH_BACK,
        says="How the straps open"),
    row("configuration", "rider_place shoulder_place control_place", FIRST_RIDE,
        says="Where the client, the shoulder and the control sit"),
    row("configuration", "arm_left_path_m arm_left_horizontal_m arm_right_path_m arm_right_horizontal_m arm_pitch_m "
        "arm_piece_kg arm_control_kg hand_force_n arm_holding_nm arm_holding_from", FIRST_RIDE,
        says="The arm: its pieces, what it carries, the hand on it and what its foot holds"),
    row("client-mass", "mass", FIRST_RIDE, HAND_OFF,
        says="The client's mass, where it passes the ballast the unit was proved with"),
    row("client-access", "side purpose site method reach release", FIRST_RIDE, HAND_OFF,
        says="The client's access profile and reach"),
    row("client-supports", "supports", FIRST_RIDE, HAND_OFF, PAPERS,
        says="The supports that the client needs"),
    row("client-cautions", "answers", FIRST_RIDE, HAND_OFF, PAPERS, TEACH_BACK,
        says="The client's cautions and their plans"),
    row("client-places", "slopes hazards", FIRST_RIDE, PAPERS,
        says="The client's places, their slopes and hazards"),
    row("client-hours", "wake sleep plug_in", PAPERS, TEACH_BACK,
        says="The hours in which the family can charge"),
    row("clearance", "given expires scope equipment speed supports session places conditions", FIRST_RIDE, HAND_OFF,
        PAPERS, says="The clearance, its conditions or its end"),
    row("fitting-step", "outcome reading step limits note", HAND_OFF,
        says="A fitting step"),
    row("paper", "kind configuration current", HAND_OFF,
        says="A paper of the current configuration"),
    row("teach-back", "adult passed", HAND_OFF,
        says="A supervising adult, or an item of teach-back"),
    row("consent", "given", HAND_OFF, KEEPING,
        says="A consent that the hand-off asks for, given or withdrawn"),
    row("family-answer", "answer", KEEPING,
        says="The family's answer to any purpose, photos among them, or its date"),
    row("kept", "kept", KEEPING,
        says="A kind of thing that the lab keeps about the family"),
    row("restore-kit", "complete location", HAND_OFF,
        says="The restore kit"),
    row("hand-off", "terms understood", HAND_OFF,
        says="Loan or gift, or that the family can read the papers no longer"),
    row("contacts", "dates", HAND_OFF,
        says="The dated first contacts"),
    row("printed", "rider_limit lifting", PAPERS,
        says="What a paper prints of the child's greatest mass, or of lifting the unit: only those papers"),
    row("printed", "keeping_up lights photo", PAPERS,
        says="A sentence on walking beside it, the charger's lights or the unit's photo: only the papers that show it"),
    row("printed", "terms handed_on interpreter adults contact", PAPERS,
        says="What the hand-off sheet says: terms, date, interpreter, adults, a contact that moved: only such papers"),
    row("lab", "name phone hours outside_hours emergency_number", PAPERS,
        says="The lab's name, phone or hours, what a family does outside them, or the emergency number"),
]
# fmt: on

# Evidence that changes because other evidence did: causes are told before these.
CONSEQUENCES = ("hold-before", "paper", "teach-back", "wire-check", "proving-run", "controller", "harness", "carrying")

TARGETS = (SOUND_UNIT, FIRST_POWER, FIRST_RIDE, HAND_OFF, PAPERS, TEACH_BACK, PROVING, KEEPING)

LABELS = {
    **{hold: hold.label for hold in Hold},
    PAPERS: "Papers",
    TEACH_BACK: "Teach-back",
    PROVING: "Proving run",
    KEEPING: "What we keep",
    CLEARANCE: "Clearance, where outside its scope",
}


# Fields that became evidence later. What was kept before does not know them, and is not void because they are asked
# for now; whoever releases anew sees them. A new field of an old kind goes here, with its kind.
STEPS = ("incoming-step", "adaptation-step", "commissioning-step", "fitting-step")
LATER = {
    "configuration": {"stop_switch", "power_switch", "stop_reset", "straps_open"},
    **dict.fromkeys(STEPS, {"note"}),
}


# How a person reads a field whose own name says too little.
SAID = {
    "stop_reset": "how the stop switch is set back",
    "straps_open": "how the straps open",
    "own_mass": "mass",
    "own_place": "place of its mass",
    "labels": "labels at both ends",
}


def name_of(field):
    return SAID.get(field) or field.replace("_", " ")


def fields_for(target):
    """Kind of evidence -> the fields of it that matter to this target."""
    wanted = {}
    for line in TABLE:
        if target in line.voids:
            wanted.setdefault(line.kind, set()).update(line.fields)
    return wanted


def judged_by(kind, field):
    """The hold points that judge this: those that a change of it voids. Papers and teaching are the hand-off's."""
    voided = {target for line in TABLE if line.kind == kind and field in line.fields for target in line.voids}
    of_hand_off = {HAND_OFF} if voided & {PAPERS, TEACH_BACK} else set()
    return frozenset(voided & set(Hold) | of_hand_off)


def known_fields():
    """Kind of evidence -> every field that has a row."""
    known = {}
    for line in TABLE:
        known.setdefault(line.kind, set()).update(line.fields)
    return known
