"""The words a plan document may use. A test keeps them the same as those of the rooms that read them."""

from builds.plans.schema import refuse
from builds.record.holds import Hold

EQUIPMENT = ("ride_on", "toy")
UNIT_KINDS = ("two_motor", "one_motor", "toy")
HOLDS = tuple(Hold.values)
CHEMISTRIES = ("lead_acid", "li_ion", "lifepo4", "nimh", "primary")
# Those a plan may ask for: the hand-off waits for them. Papers of the bench every build has, asked or not.
PAPERS = (
    *("use_guide", "charging_guide", "supervision_card", "hand_off_sheet", "as_built"),
    *("stop_use_card", "storage_card", "teach_back_sheet", "use_diary", "follow_up_form", "what_we_keep"),
    "picture_page",
)
YES_NO_UNKNOWN = ("yes", "no", "unknown")
ROLES = ("power", "control")
SIDES = ("left", "right", "both")
MARKS = ("left", "right", "middle")
TERMINATIONS = ("crimp", "solder", "crimp_then_solder", "screw", "unknown")
SWITCHING_KINDS = ("switch", "relay", "connector", "plug")
SIGNAL_WORDS = ("DANGER", "WARNING", "CAUTION")  # ANSI Z535.4-2007, 4.14; NOTICE is not about injury
PROOFS = ("shown", "said")
READING_UNITS = ("V", "A", "mA", "Ω", "°C", "m", "mm", "s", "min", "m/s", "kg", "N", "°", "N·m")

# Rules about supports that a plan brings with it, by name; the record enforces them.
SUPPORT_RULES = ("no_chest_without_pelvis",)

SECTIONS = {  # part of the document -> section of the build's steps, and where its numbering begins
    "incoming": ("incoming_test", 1000),
    "teardown": ("teardown", 2000),
    "adaptation": ("adaptation", 3000),
    "commissioning": ("commissioning", 4000),
    "fitting": ("fitting", 5000),
}

# What a room reads from a step. A step without such a code is for people only.
TESTS = {
    "photos": "photos all round the unmodified unit",
    "battery": "the battery holds its charge and carries a load",
    "charger": "the charger's voltage and polarity",
    "continuity": "every circuit conducts, and nothing is short",
    "supply": "first power from a current-limited supply",
    "quiescent": "current while switched off or at rest",
    "proving": "the proving run of a drive with a stick, wheels up, line by line on its page",
    "rest": "no wheel moves with the control at rest",
    "held": "no move when switched on with the control held over",
    "motor": "one motor alone turns the right wheel the right way",
    "stall": "a stalled wheel, and the restart after it",
    "low_battery": "behaviour as the battery becomes empty",
    "charging": "no drive while charging",
    "heat": "temperature of controller, motors and wires after 15 minutes",
    "ballast": "the floor run with ballast; its reading is the ballast in kg",
    "ceiling": "speed at a position of the speed selector",
    "stopping": "stopping distance",
    "stability": "tilted to each side with ballast",
    "push": "pushed by hand with the power off",
    "disconnect": "the battery disconnect is within the supervising adult's reach",
    "straps": "straps looked at: no chest strap without pelvic support",
    "static_fit": "the client seated with the battery out",
}
STOPS = ("release", "unplug", "signal", "cutoff", "power")
DIRECTIONS = (
    "forward", "forward-right", "right", "backward-right", "backward", "backward-left", "left", "forward-left",
)  # fmt: skip
FAMILIES = {"stop": STOPS, "direction": DIRECTIONS}


def test_code(value, place):
    """One of TESTS, or stop:<way> or direction:<where>."""
    kind, colon, detail = value.partition(":") if isinstance(value, str) else ("", "", "")
    known = detail in FAMILIES.get(kind, ()) if colon else kind in TESTS
    if not known:
        ways = [f"{kind}:{one}" for kind, all_of in FAMILIES.items() for one in all_of]
        refuse(place, f"is {value!r}; it must be one of {', '.join([*TESTS, *ways])}")
    return value


test_code.__test__ = False
