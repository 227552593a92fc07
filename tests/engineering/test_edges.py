"""Each number is taken up to its limit and refused just beyond it, by its label, in its unit, with the limit named.

The limits stand here once more as the docstrings tell them, so that moving one is a decision.
"""

import re
from datetime import date, time, timedelta
from math import floor

import pytest

from builds.engineering.ampacity import bundle_factor, table_current
from builds.engineering.arm import arm
from builds.engineering.battery import charge_time, runtime, standby_drain
from builds.engineering.calculators import CALCULATORS, InputError, calculate
from builds.engineering.calibration import command, fit_axis
from builds.engineering.charging import charge_plan
from builds.engineering.copper import (
    awg_diameter_mm,
    awg_from_diameter,
    temperature_factor,
    thinnest_awg_not_thinner_than,
)
from builds.engineering.finding import CHECK, FITS, STOP, UNKNOWN, EngineeringError
from builds.engineering.fuse import fuse, fuse_position, fuse_protects
from builds.engineering.gauges import parse_gauge
from builds.engineering.goals import goal_score
from builds.engineering.growth import growth, weight_along
from builds.engineering.load import Mass, load
from builds.engineering.proportions import proportion_band, proportion_flags
from builds.engineering.quantities import parse_quantity
from builds.engineering.reach import reach
from builds.engineering.seating import suggested_supports
from builds.engineering.speed import ceiling_against_clearance, drive_speed, timed_runs
from builds.engineering.stability import balance
from builds.engineering.typed import QuantityError
from builds.engineering.wiring import contact_rating, wire_run
from tests.engineering.legal import LEGAL


def typed(name):
    """The legal example of a calculator as keywords of its function."""
    calculator = CALCULATORS[name]
    values = calculator.read(LEGAL[name])
    return {entry.argument: values[entry.name] for entry in calculator.inputs} | calculator.fixed


ARM, CHARGE, RUN, DRAIN = typed("arm"), typed("charge-time"), typed("runtime"), typed("standby-drain")
WIRE, FUSE, SPEED, RUNS = typed("wire-run"), typed("fuse"), typed("drive-speed"), typed("timed-runs")
REACH, LOAD, BALANCE, GROWTH = typed("reach"), typed("load"), typed("balance"), typed("growth")
GOALS = {"scores": [0], "weights": [1], "rho": 0.3}
AXIS = {"name": "Forward", "rest": 512, "lowest": 100, "highest": 900, "full_scale": 1023, "spread": 1}
FITTED = fit_axis(**AXIS)
CONTACT = {"rated_dc_a": 20, "stall_current_a": 20, "is_signal_plug": False}
NEAR_THE_AXLE = [Mass("all", 30, (0.02, 0, 0.3))]
CEILING = {"fastest_m_s": 1, "ceiling_m_s": 1, "clearance_m_s": 1, "walking_pace_m_s": 1}

# fmt: off
# (function, its other inputs, input, label, unit, least, most); a least in brackets is itself refused.
EDGES = [
    (bundle_factor, {}, "loaded_conductors", "Loaded conductors in the bundle", "", 1, 500),
    (table_current, {"gauge": parse_gauge("14 AWG")}, "insulation_c", "Insulation rating", "°C", (0,), 300),
    (arm, ARM, "path_length_m", "Path length", "m", (0,), 5),
    (arm, ARM, "pitch_m", "Pitch", "m", 0.001, 1),
    (arm, ARM, "piece_mass_kg", "Mass of a piece", "kg", 0, 10),
    (arm, ARM, "control_mass_kg", "Mass of the control", "kg", 0, 50),
    (arm, ARM, "hand_force_n", "Hand force", "N", 0, 2000),
    (arm, ARM, "horizontal_m", "Horizontal distance", "m", 0, 5),
    (arm, ARM, "holding_moment_nm", "Holding moment", "N·m", 0, 10_000),
    (charge_time, CHARGE, "capacity_ah", "Capacity", "Ah", (0,), 1000),
    (charge_time, CHARGE, "discharged", "Discharged share", "", 0, 1),
    (charge_time, CHARGE, "charger_a", "Charger current", "A", (0,), 1000),
    (charge_time, CHARGE, "factor", "Charge factor", "", 1, 2),
    (runtime, RUN, "capacity_ah", "Capacity", "Ah", (0,), 1000),
    (runtime, RUN, "load_a", "Load", "A", (0,), 1000),
    (runtime, RUN, "peukert", "Peukert exponent", "", 1, 1.6),
    (runtime, RUN, "usable", "Usable share", "", (0,), 1),
    (runtime, RUN, "hours_rate", "Hours rate", "h", 1, 1000),
    (standby_drain, DRAIN, "capacity_ah", "Capacity", "Ah", (0,), 1000),
    (standby_drain, DRAIN, "drain_a", "Drain", "A", 0, 1000),
    (standby_drain, DRAIN, "self_discharge_percent", "Self-discharge", "% a month", 0, 99),
    (fit_axis, AXIS, "full_scale", "Full scale of the converter", "counts", 15, 16_777_215),
    (fit_axis, AXIS, "spread", "Forward: spread at rest", "counts", 0, 1023),
    (command, {"fit": FITTED}, "reading", "Reading", "counts", 0, 1023),
    (awg_diameter_mm, {}, "awg", "Gauge", "AWG", -3, 36),
    (awg_from_diameter, {}, "diameter_mm", "Diameter", "mm", 0.05, 12),
    (temperature_factor, {}, "conductor_c", "Conductor temperature", "°C", -60, 250),
    (thinnest_awg_not_thinner_than, {}, "area_mm2", "Section", "mm²", (0,), None),
    (fuse, FUSE, "continuous_a", "Continuous load", "A", (0,), 10_000),
    (fuse, FUSE, "ampacity_a", "Ampacity", "A", (0,), 10_000),
    (fuse, FUSE, "peak_a", "Peak load", "A", 12, 10_000),
    (fuse_position, {"sheathed": None}, "distance_m", "Wire to the fuse", "m", 0, 100),
    (fuse_protects, {"ampacities": [20]}, "rating_a", "Fuse rating", "A", (0,), 10_000),
    (goal_score, GOALS, "rho", "Rho", "", 0, 1),
    (growth, GROWTH, "weight_kg", "Weight", "kg", (0,), 500),
    (growth, GROWTH, "limit_kg", "Limit", "kg", (0,), 1000),
    (load, LOAD, "rated_kg", "Rated load", "kg", (0,), 1000),
    (proportion_flags, {"measures": {}}, "stature_m", "Stature", "m", 0.4, 2.3),
    (proportion_band, {"name": "reach"}, "stature_m", "Stature", "m", 0.4, 2.3),
    (reach, REACH, "reach_m", "Reach", "m", 0.01, 1.5),
    (reach, REACH, "comfortable", "Comfortable share", "", (0,), 1),
    (suggested_supports, {}, "level", "Level of sitting", "", 1, 8),
    (ceiling_against_clearance, CEILING, "ceiling_m_s", "Ceiling", "m/s", (0,), 20),
    (ceiling_against_clearance, CEILING, "walking_pace_m_s", "Walking pace", "m/s", (0,), 20),
    (drive_speed, SPEED, "wheel_diameter_m", "Wheel diameter", "m", 0.01, 10),
    (drive_speed, {**SPEED, "wheel_diameter_m": 0.1}, "wheel_rpm", "Wheel speed", "rpm", 0, 10_000),
    (drive_speed, SPEED, "command", "Command", "", 0, 1),
    (drive_speed, SPEED, "deceleration_m_s2", "Deceleration", "m/s²", 0.01, 20),
    (drive_speed, SPEED, "reaction_s", "Reaction", "s", 0, 10),
    (drive_speed, SPEED, "mass_kg", "Mass", "kg", (0,), 2000),
    (drive_speed, SPEED, "walking_pace_m_s", "Walking pace", "m/s", (0,), 5),
    (timed_runs, {**RUNS, "times_s": [60]}, "distance_m", "Distance", "m", 0.1, 1000),
    (timed_runs, RUNS, "walking_pace_m_s", "Walking pace", "m/s", (0,), 5),
    (balance, BALANCE, "track_m", "Track", "m", 0.05, 3),
    (balance, {**BALANCE, "masses": NEAR_THE_AXLE}, "wheelbase_m", "Wheelbase", "m", 0.05, 5),
    (balance, BALANCE, "steepest_slope_deg", "Steepest slope", "deg", 0, 45),
    (contact_rating, {**CONTACT, "rated_dc_a": None}, "rated_dc_a", "Rating in direct current", "A", 0, 10_000),
    (contact_rating, CONTACT, "stall_current_a", "Stall current", "A", (0,), 10_000),
    (wire_run, WIRE, "length_m", "Length", "m", (0,), 1000),
    (wire_run, WIRE, "current_a", "Current", "A", (0,), 1000),
    (wire_run, WIRE, "supply_v", "Supply", "V", (0,), 50),
    (wire_run, WIRE, "insulation_c", "Insulation rating", "°C", (0,), 300),
    (wire_run, WIRE, "bundle", "Loaded conductors in the bundle", "", 1, 500),
    (wire_run, WIRE, "conductor_c", "Conductor temperature", "°C", -60, 250),
]
# fmt: on


def refusal(function, inputs):
    try:
        function(**inputs)
    except EngineeringError as error:
        return str(error)
    return ""


@pytest.mark.parametrize(
    ("function", "others", "name", "label", "unit", "least", "most"),
    [pytest.param(*row, id=f"{row[0].__name__}-{row[2]}") for row in EDGES],
)
def test_a_number_is_taken_up_to_its_limit_and_not_beyond(function, others, name, label, unit, least, most):
    def said(value):
        return refusal(function, {**others, name: value})

    step = 1 if name in {"loaded_conductors", "bundle", "level", "full_scale", "awg"} else 1e-6
    excluded = isinstance(least, tuple)
    bottom = least[0] if excluded else least
    below = bottom if excluded else bottom - step
    of_label = rf"{re.escape(label)} must be (more than|a whole number|-?[\d.]+)"
    assert re.match(of_label, said(below)), "refused just below"
    assert said(below).endswith((f"{unit}.", ".")) and unit in said(below)
    assert not re.match(of_label, said(bottom + (step if excluded else 0))), "taken at the least"
    if most is not None:
        assert not re.match(of_label, said(most)), "taken at the most"
        assert re.match(of_label, said(most + step)), "refused just above"


@pytest.mark.parametrize("nothing", [float("nan"), float("inf"), -float("inf"), "twelve", True, [1]])
@pytest.mark.parametrize(
    ("function", "others", "name", "label"), [pytest.param(*row[:4], id=f"{row[0].__name__}-{row[2]}") for row in EDGES]
)
def test_what_is_no_number_is_refused_by_its_label(function, others, name, label, nothing):
    assert refusal(function, {**others, name: nothing}).startswith(f"{label} must be a")


@pytest.mark.parametrize(
    ("function", "others", "name"), [pytest.param(*row[:3], id=f"{row[0].__name__}-{row[2]}") for row in EDGES]
)
def test_a_refusal_is_one_line_that_ends(function, others, name):
    text = refusal(function, {**others, name: -1e308})
    assert text and len(text.splitlines()) == 1 and text.endswith(".")


# Exactly on the line between two verdicts.
QUARTER = {"side": "left", "shoulder_m": (0, 0.25, 0.5), "control_m": (0.25, 0.25, 0.5)}


def test_a_reach_used_up_to_the_last_is_no_stop():
    assert reach(**QUARTER, reach_m=0.25, comfortable=0.7).findings[0].verdict == CHECK
    assert reach(**QUARTER, reach_m=0.2499, comfortable=0.7).findings[0].verdict == STOP


def test_a_reach_at_the_comfortable_share_fits():
    assert reach(**QUARTER, reach_m=0.5, comfortable=0.5).findings[0].verdict == FITS


def test_a_centre_on_the_ground_is_refused():
    flat = [Mass("all", 30, (0.3, 0, 0))]
    assert refusal(balance, {**BALANCE, "masses": flat}) == "Height of the centre must be more than 0 m, not 0 m."


def test_a_fuse_of_just_the_current_that_the_wire_carries_fits():
    found = fuse(continuous_a=12, ampacity_a=15)
    assert (found.rating_a, found.findings[0].verdict) == (15, FITS)


def test_a_child_of_just_the_limit_is_not_over_it():
    at_limit = growth(**{**GROWTH, "sex": None, "weight_kg": 20, "limit_kg": 20})
    assert [found.verdict for found in at_limit.findings] == [UNKNOWN, UNKNOWN]
    over = growth(**{**GROWTH, "sex": None, "weight_kg": 20.001, "limit_kg": 20})
    assert [found.verdict for found in over.findings] == [UNKNOWN, STOP]


def test_a_limit_passed_on_the_last_day_of_the_table_is_told():
    born, last_day = date(2004, 1, 1), floor(240 * 30.4375)
    at_last = weight_along("female", last_day / 30.4375, 0.0)
    young = {"sex": "female", "birth_date": born, "on": date(2006, 7, 1), "today": date(2006, 7, 1)}
    months = (young["on"] - born).days / 30.4375
    found = growth(**young, weight_kg=weight_along("female", months, 0.0), limit_kg=at_last - 1e-7)
    assert found.outgrown_on == born + timedelta(days=last_day)


def test_a_night_over_midnight_is_counted_on():
    late = {"plug_in": time(23), "wake": time(7), "sleep": time(1)}
    plan = charge_plan(capacity_ah=12, discharged=0.1, charger_a=1.2, factor=1.2, **late)
    assert (plan.hours, plan.findings[-1].verdict) == (1.5, FITS)
    assert charge_plan(capacity_ah=12, discharged=0.15, charger_a=1.2, factor=1.2, **late).findings[-1].verdict == FITS
    assert charge_plan(capacity_ah=12, discharged=0.2, charger_a=1.2, factor=1.2, **late).findings[-1].verdict == CHECK


def test_twelve_inches_are_no_part_of_a_foot():
    assert parse_quantity("4 ft 11 in", "length", name="Length").value_si == pytest.approx(59 * 0.0254)
    with pytest.raises(QuantityError):
        parse_quantity("4 ft 12 in", "length", name="Length")


@pytest.mark.parametrize(("typed_mass", "kg"), [("8 OZ", 0.22679618500), ("35 LB", 15.87573295), ("2 KG", 2)])
def test_upper_case_is_forgiven_where_it_means_one_unit(typed_mass, kg):
    """Ounce and pound are exact: NIST SP 811."""
    assert parse_quantity(typed_mass, "mass", name="Mass").value_si == pytest.approx(kg, rel=1e-12)


def test_what_was_typed_is_kept():
    reading = parse_quantity(" 4  ft ", "length", name="Length")
    assert (reading.unit, reading.text, reading.assumed) == ("ft", " 4  ft ", False)


def test_an_axis_gives_its_numbers_by_name():
    names = ["centre", "span_low", "span_high", "gain_low", "gain_high", "deadband", "reversed", "full_scale"]
    told = FITTED.as_dict()
    assert list(told) == names and [told[name] for name in names] == [getattr(FITTED, name) for name in names]


def test_runs_without_times_are_asked_for():
    found = timed_runs(distance_m=3, times_s=[])
    assert [(f.name, f.unit, f.missing) for f in found.findings] == [("fastest run", "m/s", "times of the runs")]


def test_a_run_too_fast_is_refused_by_its_label():
    said = "Speed of a run must be 20 m/s or less, not 60 m/s."
    assert refusal(timed_runs, {"distance_m": 3, "times_s": [0.05]}) == said


def test_a_charge_of_just_the_longest_waking_day_fits():
    at_limit = charge_time(capacity_ah=16, discharged=1, charger_a=1, factor=1)
    assert (at_limit.hours, at_limit.c_rate) == (16, 1 / 16)
    assert at_limit.findings[-1].verdict == FITS
    assert charge_time(capacity_ah=16.1, discharged=1, charger_a=1, factor=1).findings[-1].verdict == CHECK


def test_a_battery_that_lasts_just_as_long_as_needed_fits():
    """Peukert 1 and all of it usable: 12 Ah / 6 A = 2 h."""
    lasts = {"capacity_ah": 12, "load_a": 6, "peukert": 1, "usable": 1, "hours_rate": 20}
    assert [runtime(**lasts, needed_h=hours).findings[0].verdict for hours in (2, 2.001)] == [FITS, CHECK]


def test_an_input_that_nobody_knows_is_named_with_those_that_are():
    with pytest.raises(InputError, match="^load has no input “mass”. Enter masses, rated.$"):
        calculate("load", {"masses": "rider=16 kg", "rated": "25 kg", "mass": "1"})


def test_two_masses_of_one_name_are_refused_by_that_name():
    twice = [Mass("rider", 10.0), Mass("rider", 12.0)]
    said = "Masses must have different names; rider is there more than once."
    assert refusal(load, {**LOAD, "masses": twice}) == said


def test_a_light_part_is_a_mass_too():
    answer = calculate("load", {"masses": "rider=16 kg switch=0.2 kg", "rated": "25 kg"})
    assert answer["results"]["total_kg"] == pytest.approx(16.2)
