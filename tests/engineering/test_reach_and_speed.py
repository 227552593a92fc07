"""Reach to the control, speed over the ground, and the arm that carries the control."""

from math import hypot
from statistics import fmean

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builds.engineering.arm import arm
from builds.engineering.finding import CHECK, FITS, STOP, UNKNOWN, EngineeringError, worst
from builds.engineering.reach import reach
from builds.engineering.speed import (
    SLOWEST_ADULT_WALK_M_S,
    ceiling_against_clearance,
    drive_speed,
    timed_runs,
)

ARM = {"side": "left", "shoulder_m": (0, 0.15, 0.6), "control_m": (0.2, 0.15, 0.45), "reach_m": 0.4, "comfortable": 0.7}
coordinate = st.floats(-1, 1)
spot = st.tuples(coordinate, coordinate, coordinate)


@given(spot, spot, st.floats(0.05, 1))
def test_distance_is_the_straight_line(shoulder, control, length):
    found = reach(side="left", shoulder_m=shoulder, control_m=control, reach_m=length, comfortable=0.7)
    straight = hypot(*(a - b for a, b in zip(shoulder, control, strict=True)))
    assert found.distance_mm == pytest.approx(straight * 1000, abs=1e-9)
    assert found.fraction == pytest.approx(straight / length)


@pytest.mark.parametrize(
    ("length", "verdict"), [(0.5, FITS), (0.358, FITS), (0.357, CHECK), (0.251, CHECK), (0.249, STOP)]
)
def test_comfortable_stretched_and_out_of_reach(length, verdict):
    assert reach(**{**ARM, "reach_m": length}).findings[0].verdict == verdict


@pytest.mark.parametrize("name", list(ARM))
def test_an_unknown_makes_reach_unknown(name):
    assert worst(reach(**{**ARM, name: None}).findings) == UNKNOWN


def test_out_of_reach_is_a_stop_whatever_counts_as_comfortable():
    assert reach(**{**ARM, "reach_m": 0.2, "comfortable": None}).findings[0].verdict == STOP


def test_a_shoulder_on_the_other_side_is_told():
    assert [f.verdict for f in reach(**{**ARM, "side": "right"}).findings] == [FITS, CHECK]
    assert len(reach(**ARM).findings) == 1


@pytest.mark.parametrize("wrong", [{"side": "nearside"}, {"shoulder_m": (0, 0)}, {"reach_m": 0}, {"comfortable": 1.1}])
def test_nonsense_reach_is_refused(wrong):
    with pytest.raises(EngineeringError):
        reach(**{**ARM, **wrong})


@given(st.floats(1, 20), st.lists(st.floats(2, 60), min_size=1, max_size=9))
def test_runs_agree_with_the_statistics_library(distance, times):
    runs = timed_runs(distance_m=distance, times_s=times)
    speeds = [distance / time for time in times]
    assert runs.speed_m_s == pytest.approx(fmean(speeds))
    assert runs.speed_km_h == pytest.approx(fmean(speeds) * 3.6)
    assert runs.spread_m_s == pytest.approx(max(speeds) - min(speeds))
    assert runs.fastest_m_s == max(speeds)


def test_the_verdict_uses_the_fastest_run():
    runs = timed_runs(distance_m=3, times_s=[3.3, 3.3, 2.9], walking_pace_m_s=1.0)
    assert runs.speed_m_s < 1.0 < runs.fastest_m_s
    assert runs.findings[0].verdict == CHECK


def test_without_a_limit_the_fastest_run_is_not_judged():
    found = timed_runs(distance_m=3, times_s=[3.1, 3.0, 3.2]).findings[0]
    assert (found.value, found.verdict) == (1.0, UNKNOWN)


def test_few_or_scattered_runs_are_a_check():
    few = timed_runs(distance_m=3, times_s=[3.0, 3.0], walking_pace_m_s=2)
    scattered = timed_runs(distance_m=3, times_s=[3.0, 3.4, 3.0], walking_pace_m_s=2)
    assert [f.verdict for f in few.findings] == [FITS, CHECK, FITS]
    assert [f.verdict for f in scattered.findings] == [FITS, FITS, CHECK]


def test_no_runs_or_no_distance_is_unknown():
    assert timed_runs(distance_m=3, times_s=[]).findings[0].verdict == UNKNOWN
    assert timed_runs(distance_m=None, times_s=[3]).speed_m_s is None


@pytest.mark.parametrize("times", [[0], [-1], [float("nan")], [3, None], [0.1]])
def test_impossible_times_are_refused(times):
    with pytest.raises(EngineeringError):
        timed_runs(distance_m=3, times_s=times)


SPEEDS = {"fastest_m_s": 0.9, "ceiling_m_s": 0.9, "clearance_m_s": 1.0, "walking_pace_m_s": 1.2}


@pytest.mark.parametrize(
    ("changed", "verdicts"),
    [
        ({}, [FITS, FITS, FITS, FITS]),
        ({"fastest_m_s": 1.1}, [STOP, FITS, CHECK, FITS]),
        ({"ceiling_m_s": 1.1}, [FITS, STOP, FITS, FITS]),
        ({"walking_pace_m_s": 0.8}, [FITS, FITS, FITS, CHECK]),
        ({"clearance_m_s": None}, [UNKNOWN, UNKNOWN, FITS, FITS]),
        ({"fastest_m_s": None}, [UNKNOWN, FITS, UNKNOWN, UNKNOWN]),
        ({"walking_pace_m_s": None}, [FITS, FITS, FITS, UNKNOWN]),
    ],
)
def test_the_ceiling_stands_against_the_clearance(changed, verdicts):
    assert [f.verdict for f in ceiling_against_clearance(**{**SPEEDS, **changed})] == verdicts


WHEEL = {"wheel_diameter_m": 0.25, "wheel_rpm": 120, "command": 1, "deceleration_m_s2": 1.5, "reaction_s": 1}


def test_stopping_adds_the_way_of_the_reaction():
    drive = drive_speed(**WHEEL)
    assert drive.stopping_m == pytest.approx(drive.braking_m + drive.speed_m_s * 1)
    assert drive_speed(**{**WHEEL, "command": 0.5}).braking_m == pytest.approx(drive.braking_m / 4)
    assert drive.energy_j is None


@pytest.mark.parametrize(
    ("unknown", "nothing"),
    [
        ("wheel_rpm", ("speed_m_s", "braking_m", "stopping_m")),
        ("deceleration_m_s2", ("braking_m", "stopping_m")),
        ("reaction_s", ("stopping_m",)),
    ],
)
def test_an_unknown_reaction_or_deceleration_is_not_assumed(unknown, nothing):
    drive = drive_speed(**{**WHEEL, unknown: None})
    assert [getattr(drive, name) for name in nothing] == [None] * len(nothing)
    assert worst(drive.findings) == UNKNOWN


def test_faster_than_an_adult_walks_is_a_check():
    for rpm, verdict in ((120, CHECK), (90, FITS)):
        drive = drive_speed(**{**WHEEL, "wheel_rpm": rpm}, walking_pace_m_s=SLOWEST_ADULT_WALK_M_S)
        assert drive.findings[0].verdict == verdict


HELD = {
    "path_length_m": 0.5, "pitch_m": 0.04, "piece_mass_kg": 0.02, "control_mass_kg": 0.2, "hand_force_n": 10,
    "horizontal_m": 0.4, "holding_moment_nm": 12,
}  # fmt: skip


def test_the_arm_agrees_with_adding_piece_by_piece():
    found = arm(**HELD)
    assert found.pieces == 13
    each = [0.02 * 9.81 * 0.4 * (at + 0.5) / 13 for at in range(13)]
    assert found.moment_nm == pytest.approx(sum(each) + (0.2 * 9.81 + 10) * 0.4)
    assert found.margin == pytest.approx(12 / found.moment_nm)


@pytest.mark.parametrize(("holding", "verdict"), [(11, FITS), (10, CHECK), (5.3, CHECK), (5.2, STOP), (None, UNKNOWN)])
def test_the_margin_of_the_arm(holding, verdict):
    assert arm(**{**HELD, "holding_moment_nm": holding}).findings[0].verdict == verdict


def test_an_exact_number_of_pieces_does_not_cost_one_more():
    assert arm(**{**HELD, "path_length_m": 0.3, "pitch_m": 0.1}).pieces == 3


def test_nothing_to_hold_has_no_margin():
    found = arm(**{**HELD, "horizontal_m": 0})
    assert (found.margin, found.findings[0].verdict) == (None, UNKNOWN)
