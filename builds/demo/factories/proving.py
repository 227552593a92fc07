"""Settings of the drive, measured stops and proving runs through the rules that a person uses. All of it invented."""

from builds.drive import proving, stops
from builds.drive.rules import record_timed_runs
from builds.engineering.proving import LINES, expected_wheels, raw_values
from builds.record.registry import forget_prefetched
from builds.record.voiding import at_the_end

DRIVE = {
    "selector": "yes",
    "ceilings": [
        {"position": "slow", "share": 0.4, "ceiling_m_s": 0.7},
        {"position": "medium", "share": 0.5, "ceiling_m_s": 0.85},
    ],
    "slew_up": 1.0, "slew_down": 4.0, "reverse_gain": 0.5, "turn_gain": 0.7, "expo": 0.3, "at_signal_end": "brake",
    "neutral_left_us": 1500, "neutral_right_us": 1500, "span_us": 400, "left_inverted": False, "right_inverted": True,
    "band_low": 40, "band_high": 983,
}  # fmt: skip
# What a cart shows with the right motor's two wires exchanged, where turns and reverse are slower than full.
RIGHT_MOTOR_CROSSED = {
    "right-channel": {"seen": "right-"},
    "forward": {"left": "forward", "right": "backward"},
    "forward-right": {"left": "forward", "right": "backward"},
    "right": {"left": "forward", "right": "forward"},
    "backward-right": {"left": "forward", "right": "forward"},
    "backward": {"left": "backward", "right": "forward"},
    "backward-left": {"left": "backward", "right": "backward"},
    "left": {"left": "backward", "right": "backward"},
    "forward-left": {"left": "forward", "right": "backward"},
}
SUPPLY = "Bench supply, 12 V, limited to 2 A"
MEDIUM_TIMES_S = [6.3, 6.2, 6.3]  # over 5 m
FLOOR = {
    "place": "floor", "speed_m_s": 0.66, "stopped": True, "distance_m": 0.2, "did": "brake", "ballast_kg": 20.0,
}  # fmt: skip


def drive_of(build):
    """What is set of the drive; nothing for a build without a stick."""
    return DRIVE if build.has_stick else {}


def time_other_ceilings(build, account, ballast_kg=20.0):
    """Runs at the positions of the selector that are not in use."""
    configuration = build.configuration()
    for row in configuration.ceiling_rows():
        if row["position"] != configuration.ceiling_position:
            record_timed_runs(
                build, account, position=row["position"], is_ceiling_in_use=False, distance_m=5.0,
                times_s=MEDIUM_TIMES_S, ballast_kg=ballast_kg, surface="Lab floor, level",
            )  # fmt: skip


def make_stop(build, account, **measurement):
    """Let go at the ceiling in use, on the floor."""
    return stops.record_stop(build, account, **{**FLOOR, **measurement})


def make_stops(build, account, ballast_kg=20.0):
    """On the floor, and down the steepest slope of the client's places where there is one."""
    make_stop(build, account, ballast_kg=ballast_kg)
    steepest, _ = build.client.steepest_slope()
    if steepest:
        make_stop(build, account, place="slope", slope_deg=steepest, distance_m=0.28, ballast_kg=ballast_kg)
    forget_prefetched(build)


def good_showing(line, configuration):
    """What a line of the proving run shows on a drive that is as it should be."""
    if line.kind == "wheels":
        gains = {"turn_gain": configuration.turn_gain, "reverse_gain": configuration.reverse_gain}
        left, right = expected_wheels(push=line.push, **gains)
        return {"left": left[0], "right": right[0]}
    if line.kind == "stop":
        return {"stopped": True, "seconds": 0.3 if line.timed else None}
    if line.kind == "stick":
        push = line.code.removeprefix("stick-")
        return {"seen": raw_values(**proving.how_it_sits(configuration))[push][0]}
    return {"seen": line.wanted}


def start_proving(build, account):
    return proving.start_run(build, account, SUPPLY)


def record_lines(run, account, until=None, showed=None):
    """The lines in their order, up to the one before `until`; `showed` changes what a line shows, by its code."""
    with at_the_end():
        for line in LINES:
            if line.code == until:
                break
            shows = (showed or {}).get(line.code) or good_showing(line, run.configuration)
            proving.record_line(run, account, line.code, **shows)
    forget_prefetched(run.build)
    run.refresh_from_db()
    return run


def make_proving_run(build, account, showed=None):
    """A whole run, passed unless a line shows something else."""
    return record_lines(start_proving(build, account), account, showed=showed)


def prove_drive(build, account, ballast_kg=20.0):
    """All that First ride asks of a drive with a stick beside its calibration and the runs at the ceiling in use."""
    if build.has_stick:
        make_proving_run(build, account)
        time_other_ceilings(build, account, ballast_kg)
        make_stops(build, account, ballast_kg)
