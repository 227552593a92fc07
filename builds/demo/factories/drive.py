"""Calibrations, timed runs and configurations through the rules that a person uses. All readings are invented."""

from builds.demo.factories.proving import drive_of
from builds.demo.factories.switches import OF_A_RIDE_ON
from builds.demo.sticks import MadeStick, log_of
from builds.drive.capture_rules import accept_fit, record_capture
from builds.drive.rules import accept_calibration, record_calibration, record_timed_runs
from builds.engineering.capture import read_capture
from builds.engineering.stick_fit import fit_stick
from builds.record.rules import configure

READINGS = {
    "when": "as_left",
    "side": "left",
    "full_scale": 1023,
    "x_rest": 508.0, "x_low": 96.0, "x_high": 931.0, "x_spread": 3.0, "x_reversed": "no",
    "y_rest": 517.0, "y_low": 121.0, "y_high": 902.0, "y_spread": 2.0, "y_reversed": "no",
    "instrument": "Bench reader 1",
    "supply_v": 5.0,
    "note": "",
}  # fmt: skip
RUNS = {
    "distance_m": 3.0,
    "times_s": [4.6, 4.5, 4.7],
    "is_ceiling_in_use": True,
    "ballast_kg": 20.0,
    "surface": "Lab floor",
}


# An arm of clicked pieces on a clamp, measured on both sides.
ARM = {
    "arm_left_path_m": 0.42, "arm_left_horizontal_m": 0.30, "arm_right_path_m": 0.44, "arm_right_horizontal_m": 0.31,
    "arm_pitch_m": 0.04, "arm_piece_kg": 0.025, "arm_control_kg": 0.22, "hand_force_n": 12.0, "arm_holding_nm": 11.0,
    "arm_holding_from": "measured",
}  # fmt: skip


def make_calibration(build, account, **readings):
    return record_calibration(build, account, **{**READINGS, **readings})


def make_accepted_calibration(build, account, **readings):
    """Recorded as left and set for the client: the next configuration."""
    calibration = make_calibration(build, account, **readings)
    accept_calibration(calibration, account)
    return calibration


# Small and quick: what a builder logs at 50 readings a second.
STICK = MadeStick(rate_hz=50.0, seconds=1.2, throws=(0.72, 0.66, 0.58, 0.61), turn_deg=12.0)


def make_capture(build, account, stick=STICK, log=None, **facts):
    """A capture of a stick that never was, kept with its fit."""
    log = log_of(stick).encode() if log is None else log
    read = read_capture(log, stick.bits)
    kept = {"when": "as_left", "side": "left", "note": "", **facts}
    return record_capture(build, account, log=log, fit=fit_stick(read), readings=len(read.xy), **kept)


def make_accepted_fit(build, account, stick=STICK, **facts):
    """Kept as left and set for the client: the next configuration."""
    capture = make_capture(build, account, stick, **facts)
    now = build.configuration()
    accept_fit(capture.fitted, account, based_on=now.number if now else 0)
    return capture.fitted


def make_timed_runs(build, account, **runs):
    """Three runs at the position that the configuration names."""
    position = build.configuration().ceiling_position
    return record_timed_runs(build, account, **{**RUNS, "position": position, **runs})


def make_ride_settings(build, account, **settings):
    """What First ride asks of the configuration, beside the calibration."""
    ridden = {
        "ceiling_m_s": 0.7,
        "ceiling_position": "slow",
        "disconnect": "Pull plug behind the seat, at the adult's hand",
        **OF_A_RIDE_ON,
        "rider_place": [0.28, 0.0, 0.46],
        "shoulder_place": [0.26, 0.13, 0.62],
        "control_place": [0.42, 0.15, 0.50],
        **ARM,
        "driving_current_a": 7.5,
        **drive_of(build),
    }
    return configure(build, account, "Measured on the unit", **{**ridden, **settings})
