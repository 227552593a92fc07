"""Calibrations, timed runs and configurations through the rules that a person uses. All readings are invented."""

from builds.demo.factories.proving import drive_of
from builds.drive.rules import accept_calibration, record_calibration, record_timed_runs
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
        "rider_place": [0.28, 0.0, 0.46],
        "shoulder_place": [0.26, 0.13, 0.62],
        "control_place": [0.42, 0.15, 0.50],
        **ARM,
        "driving_current_a": 7.5,
        **drive_of(build),
    }
    return configure(build, account, "Measured on the unit", **{**ridden, **settings})
