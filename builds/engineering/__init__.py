"""All numbers that can hurt someone, as pure functions without Django.

    quantities     parse_quantity, parse_number, format_quantity, QuantityError, Reading
    gauges         parse_gauge, Gauge
    smallest_wire  smallest_wire
    finding        Finding, worst, unknown, EngineeringError, FITS, CHECK, STOP, UNKNOWN
    wiring         wire_run, splice_in_flex, termination, contact_rating
    fuse           fuse, fuse_position, fuse_protects
    battery        charge_time, charger_window, chemistry_agrees, standby_drain, runtime
    charging       charge_plan, home_charge
    load           Mass, load
    rider          greatest_rider
    stability      balance
    reach          reach
    speed          timed_runs, drive_speed, ceiling_against_clearance
    seating        suggested_supports, supports_against_level, chest_strap
    calibration    fit_axis, command, AxisFit
    arm            arm
    goals          goal_score
    growth         growth, weight_along
    reading        reading_grade, count, flesch_kincaid_grade, flesch_ease, perspicuity
    limits         LIMITS, tightened: what a lab may make stricter, never looser
    customary      in_us_units, converted, us_unit: a finding as a lab with US units reads it
    margins        MARGINS, judged: how close to a limit a finding asks for a look
    proportions    proportion_flags, segment_length, segment_mass
    calculators    CALCULATORS, calculate, INPUT_ERRORS
    guards         number, whole, choice, answer, point, day: what cannot be is refused
    instruments    BOUNDS: what can be read at such a bench; bounds_in_words, can_be_read, is_reversed
    units          DIMENSIONS: what a quantity may be, and the unit of its `value_si`

Functions take keyword arguments in SI (Ah, degrees, °C and % where the trade counts so). None is unknown, and
what depends on it comes back as None with a finding whose verdict is `unknown`. Nothing is assumed: the
defaults for trying numbers live in `calculators`. A yes-no answer is True, False, None, or the words yes, no, unknown.
"""
