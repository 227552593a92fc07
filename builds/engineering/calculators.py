"""The calculators by name, as the shell and the calculators page offer them.

The defaults here serve trying numbers. A case never uses them: it calls the functions with what its record says.
"""

from dataclasses import dataclass, field

from builds.engineering import inputs as kinds
from builds.engineering.arm import arm
from builds.engineering.battery import charge_time, runtime, standby_drain
from builds.engineering.capture import USUAL_BITS, capture_from
from builds.engineering.drive_map import drive_output
from builds.engineering.finding import EngineeringError
from builds.engineering.fuse import fuse
from builds.engineering.goals import goal_score
from builds.engineering.growth import SEXES, growth
from builds.engineering.load import load
from builds.engineering.reach import SIDES, reach
from builds.engineering.reading import LANGUAGES, LONGEST_TEXT, reading_grade, text_of
from builds.engineering.speed import SLOWEST_ADULT_WALK_M_S, drive_speed, timed_runs
from builds.engineering.stability import LAYOUTS, balance
from builds.engineering.stick_fit import fit_stick
from builds.engineering.typed import QuantityError, quoted
from builds.engineering.wheel_faults import BEHAVIOURS, RAW, WHEELS, wheel_faults
from builds.engineering.wiring import DROP_LIMITS_PERCENT, wire_run

SIDE_HELP = "The occupant's own left or right"
PLACE_HELP = "x forward, y to the occupant's left, z up, in metres"
ALONE_HELP = "Which wheel turns, and which way, with only this channel driven forward"
RAW_HELP = "Which raw value moves, and which way"


class InputError(ValueError):
    """The wrong set of inputs: a name nobody knows, one twice, one missing; one line."""


@dataclass(frozen=True)
class Calculator:
    """`fixed` are keywords of the function that trying numbers does not ask for; of `one_of` exactly one is given."""

    name: str
    title: str
    function: callable
    inputs: tuple
    results: tuple
    fixed: dict = field(default_factory=dict)
    one_of: tuple = ()

    def read(self, given):
        """Values by input name, from text by input name; QuantityError for the first that cannot be read."""
        known = [entry.name for entry in self.inputs]
        strange = [name for name in given if name not in known]
        if strange:
            raise InputError(f"{self.name} has no input {quoted(strange[0])}. Enter {', '.join(known)}.")
        missing = [entry.name for entry in self.inputs if entry.required and entry.name not in given]
        if missing:
            raise InputError(f"{self.name} needs {', '.join(missing)}. Enter {missing[0]}=\u2026")
        if self.one_of and len([name for name in self.one_of if name in given]) != 1:
            raise InputError(f"{self.name} needs {' or '.join(self.one_of)}. Enter one of them.")
        texts = {entry.name: given.get(entry.name, entry.default) for entry in self.inputs}
        return {e.name: None if texts[e.name] is None else e.value(texts[e.name]) for e in self.inputs}

    def compute(self, values):
        """The result of the function, from values by input name."""
        keywords = {entry.argument: values[entry.name] for entry in self.inputs}
        return self.function(**keywords, **self.fixed)


def _goal_score(*, scores, weights, rho):
    return goal_score(scores=scores, weights=[1.0] * len(scores) if weights is None else weights, rho=rho)


def _stick_fit(*, file, adc_bits):
    return fit_stick(capture_from(file, adc_bits))


def _reading_grade(*, file, text, language):
    return reading_grade(text=text if file is None else text_of(file), language=language)


_ALL = (
    Calculator(
        "wire-run",
        "Wire run: drop, loss and ampacity",
        wire_run,
        (
            kinds.gauge("gauge", "gauge", "Gauge", help="Like 14 AWG or 2.5 mm\u00b2"),
            kinds.quantity("length", "length_m", "Length", "length", help="One way; the way back is added"),
            kinds.quantity("current", "current_a", "Current", "current"),
            kinds.quantity("supply", "supply_v", "Supply", "voltage", default="12 V"),
            kinds.quantity(
                "conductor_temperature", "conductor_c", "Conductor temperature", "temperature", default="20 \u00b0C"
            ),
            kinds.quantity("insulation", "insulation_c", "Insulation rating", "temperature", default="105 \u00b0C"),
            kinds.quantity("bundle", "bundle", "Loaded conductors in the bundle", "number", default="1"),
            kinds.choice("role", "role", "Role", tuple(DROP_LIMITS_PERCENT), default="power"),
        ),
        ("resistance_ohm", "drop_v", "drop_percent", "loss_w", "ampacity_a"),
    ),
    Calculator(
        "fuse",
        "Fuse for a load and its wire",
        fuse,
        (
            kinds.quantity("continuous", "continuous_a", "Continuous load", "current"),
            kinds.quantity("ampacity", "ampacity_a", "Ampacity", "current", help="Of the thinnest wire downstream"),
            kinds.quantity("peak", "peak_a", "Peak load", "current", optional=True),
        ),
        ("rating_a", "colour"),
    ),
    Calculator(
        "runtime",
        "Run time of a battery",
        runtime,
        (
            kinds.quantity("capacity", "capacity_ah", "Capacity", "capacity", help="At the hours rate"),
            kinds.quantity("load", "load_a", "Load", "current"),
            kinds.quantity("peukert", "peukert", "Peukert exponent", "number", default="1.2"),
            kinds.quantity("usable", "usable", "Usable share", "fraction", default="0.5"),
            kinds.quantity("hours_rate", "hours_rate", "Hours rate", "hours", default="20"),
        ),
        ("hours",),
    ),
    Calculator(
        "charge-time",
        "Charge time",
        charge_time,
        (
            kinds.quantity("capacity", "capacity_ah", "Capacity", "capacity"),
            kinds.quantity("discharged", "discharged", "Discharged share", "fraction", help="0 full, 1 empty"),
            kinds.quantity("charger", "charger_a", "Charger current", "current"),
            kinds.quantity("factor", "factor", "Charge factor", "number", default="1.2"),
        ),
        ("hours", "hours_rounded", "c_rate"),
    ),
    Calculator(
        "standby-drain",
        "Battery in storage",
        standby_drain,
        (
            kinds.quantity("capacity", "capacity_ah", "Capacity", "capacity"),
            kinds.quantity("drain", "drain_a", "Drain", "current"),
            kinds.quantity(
                "self_discharge", "self_discharge_percent", "Self-discharge", "percent", default="3 %", help="A month"
            ),
        ),
        ("days_to_half", "days_to_empty"),
    ),
    Calculator(
        "drive-speed",
        "Speed and way to stop",
        drive_speed,
        (
            kinds.quantity("wheel_diameter", "wheel_diameter_m", "Wheel diameter", "length"),
            kinds.quantity("wheel_rpm", "wheel_rpm", "Wheel speed", "rotation"),
            kinds.quantity("command", "command", "Command", "fraction", default="1"),
            kinds.quantity("deceleration", "deceleration_m_s2", "Deceleration", "acceleration"),
            kinds.quantity("reaction", "reaction_s", "Reaction", "time", default="1 s"),
            kinds.quantity("mass", "mass_kg", "Mass", "mass", optional=True),
        ),
        ("speed_m_s", "speed_km_h", "stopping_m", "braking_m", "energy_j"),
        {"walking_pace_m_s": SLOWEST_ADULT_WALK_M_S},
    ),
    Calculator(
        "timed-runs",
        "Speed from timed runs",
        timed_runs,
        (
            kinds.quantity("distance", "distance_m", "Distance", "length", help="Between the marks"),
            kinds.quantities("times", "times_s", "Times", "time", help="Like 3.1 3.0 3.2"),
        ),
        ("speed_m_s", "speed_km_h", "spread_m_s"),
        {"walking_pace_m_s": SLOWEST_ADULT_WALK_M_S},
    ),
    Calculator(
        "drive-output",
        "Drive map: from a push to two pulses",
        drive_output,
        (
            kinds.quantity("x", "x", "Push to the right", "number", help="-1 to 1; to the left is negative"),
            kinds.quantity("y", "y", "Push forward", "number", help="-1 to 1; back is negative"),
            kinds.quantity("ceiling", "ceiling", "Ceiling", "fraction", default="1"),
            kinds.quantity("turn_gain", "turn_gain", "Turn gain", "number", default="1"),
            kinds.quantity("reverse_gain", "reverse_gain", "Reverse gain", "fraction", default="1"),
            kinds.quantity("neutral_us", "neutral_us", "Neutral pulse", "pulse", default="1500 us"),
            kinds.quantity("span_us", "span_us", "Span of the pulse", "pulse", default="500 us"),
        ),
        ("left", "right", "left_us", "right_us"),
    ),
    Calculator(
        "wheel-faults",
        "Drives wrong: what is crossed",
        wheel_faults,
        (
            kinds.choice("forward", "forward", "Push forward", tuple(BEHAVIOURS), help="What the cart does"),
            kinds.choice("right", "right", "Push right", tuple(BEHAVIOURS), help="What the cart does"),
            kinds.choice(
                "push_forward", "push_forward", "Raw value on a push forward", tuple(RAW), optional=True, help=RAW_HELP
            ),
            kinds.choice(
                "push_right", "push_right", "Raw value on a push right", tuple(RAW), optional=True, help=RAW_HELP
            ),
            kinds.choice(
                "left_channel", "left_channel", "Left channel alone", tuple(WHEELS), optional=True, help=ALONE_HELP
            ),
            kinds.choice(
                "right_channel", "right_channel", "Right channel alone", tuple(WHEELS), optional=True, help=ALONE_HELP
            ),
        ),
        ("kind", "explanations"),
    ),
    Calculator(
        "stick-fit",
        "Stick fit from a capture",
        _stick_fit,
        (
            kinds.file("file", "file", "Capture", help="A log of x,y or ms,x,y with marks, as text"),
            kinds.quantity("adc_bits", "adc_bits", "Bits of the converter", "number", default=str(USUAL_BITS)),
        ),
        (
            "centre_x", "centre_y", "noise", "rotation_deg", "mirrored", "deadband", "throw_forward", "throw_back",
            "throw_left", "throw_right", "tremor_hz", "cutoff_hz", "lag_ms",
        ),  # fmt: skip
    ),
    Calculator(
        "reach",
        "Reach to the control",
        reach,
        (
            kinds.choice("side", "side", "Side", SIDES, help=SIDE_HELP),
            kinds.place("shoulder", "shoulder_m", "Shoulder", help=PLACE_HELP),
            kinds.place("control", "control_m", "Control", help=PLACE_HELP),
            kinds.quantity("reach", "reach_m", "Reach", "length"),
            kinds.quantity("comfortable", "comfortable", "Comfortable share", "fraction", default="0.7"),
        ),
        ("distance_mm", "fraction"),
    ),
    Calculator(
        "arm",
        "Arm that carries the control",
        arm,
        (
            kinds.quantity("path_length", "path_length_m", "Path length", "length"),
            kinds.quantity("pitch", "pitch_m", "Pitch", "length", help="Length that one piece adds"),
            kinds.quantity("piece_mass", "piece_mass_kg", "Mass of a piece", "mass"),
            kinds.quantity("control_mass", "control_mass_kg", "Mass of the control", "mass"),
            kinds.quantity("hand_force", "hand_force_n", "Hand force", "force"),
            kinds.quantity("horizontal", "horizontal_m", "Horizontal distance", "length"),
            kinds.quantity("holding_moment", "holding_moment_nm", "Holding moment", "moment"),
        ),
        ("pieces", "moment_nm", "margin"),
    ),
    Calculator(
        "load",
        "Load against the rating",
        load,
        (
            kinds.masses("masses", "masses", "Masses", help="Like rider=16 kg seat=2.1 kg"),
            kinds.quantity("rated", "rated_kg", "Rated load", "mass"),
        ),
        ("total_kg", "margin_kg", "fraction"),
    ),
    Calculator(
        "balance",
        "Balance on a slope",
        balance,
        (
            kinds.choice("layout", "layout", "Wheel layout", LAYOUTS, default="four"),
            kinds.masses("masses", "masses", "Masses", with_places=True, help=f"rider=18 kg@0.35,0,0.55: {PLACE_HELP}"),
            kinds.quantity("track", "track_m", "Track", "length"),
            kinds.quantity("wheelbase", "wheelbase_m", "Wheelbase", "length"),
        ),
        ("cg_x", "cg_y", "cg_z", "left_deg", "right_deg", "front_deg", "rear_deg"),
        {"steepest_slope_deg": 0.0},
    ),
    Calculator(
        "growth",
        "Growth: centile and when a limit is passed",
        growth,
        (
            kinds.choice("sex", "sex", "Sex", SEXES, help="Of the growth chart"),
            kinds.day("birth_date", "birth_date", "Birth date", help="Like 2019-03-31"),
            kinds.quantity("weight", "weight_kg", "Weight", "mass"),
            kinds.day("on", "on", "Day of weighing", help="Like 2024-03-31"),
            kinds.quantity("limit", "limit_kg", "Limit", "mass", help="For example, the heaviest rider of a unit"),
        ),
        ("age_months", "z", "centile", "outgrown_on"),
    ),
    Calculator(
        "goal-score",
        "Goal attainment score",
        _goal_score,
        (
            kinds.quantities("scores", "scores", "Scores", "number", help="-2 to 2 each"),
            kinds.quantities("weights", "weights", "Weights", "number", optional=True, help="1 each when left out"),
            kinds.quantity("rho", "rho", "Rho", "number", default="0.3"),
        ),
        ("t",),
    ),
    Calculator(
        "reading-grade",
        "Reading grade of a text",
        _reading_grade,
        (
            kinds.file("file", "file", "File", optional=True),
            kinds.prose("text", "text", "Text", LONGEST_TEXT, optional=True, help="Headings do not count"),
            kinds.choice("language", "language", "Language", LANGUAGES, default="en"),
        ),
        ("grade", "ease"),
        one_of=("file", "text"),
    ),
)
CALCULATORS = {calculator.name: calculator for calculator in _ALL}


def calculate(name, given):
    """The JSON-ready answer of a calculator.

    Parameters: name: a key of `CALCULATORS`; given: text by input name. Returns calculator, inputs, results,
    findings and sources. Raises InputError, QuantityError or EngineeringError, one line each.

    >>> calculate("fuse", {"continuous": "12 A", "ampacity": "20 A"})["results"]
    {'rating_a': 15.0, 'colour': 'blue'}
    """
    if name not in CALCULATORS:
        raise InputError(f"No calculator is named {quoted(name)}. Enter one of {', '.join(CALCULATORS)}.")
    calculator = CALCULATORS[name]
    values = calculator.read(given)
    result = calculator.compute(values)
    return {
        "calculator": name,
        "inputs": {entry.name: _told(entry, given, values) for entry in calculator.inputs},
        "results": {key: kinds.as_json(getattr(result, key)) for key in calculator.results},
        "findings": [finding.as_dict() for finding in result.findings],
        "sources": list(dict.fromkeys(finding.source for finding in result.findings)),
    }


def _told(entry, given, values):
    return {
        "typed": given.get(entry.name),
        "read_as": kinds.as_json(values[entry.name]),
        "unit": entry.unit,
        "is_default": entry.name not in given and entry.default is not None,
    }


INPUT_ERRORS = (InputError, QuantityError, EngineeringError)
