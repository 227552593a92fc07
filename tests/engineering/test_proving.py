"""What a proving run must show, and what it hands to the fault finding."""

import pytest

from builds.engineering.finding import EngineeringError
from builds.engineering.proving import (
    BY_CODE,
    LINES,
    NOTHING,
    POSITIONS,
    as_commanded,
    expected_wheels,
    judge_line,
    pushes_seen,
    raw_values,
)
from builds.engineering.wheel_faults import ALL, shown, wheel_faults

# Worked by hand from left = y + x, right = y - x with full pushes and gains of 1: on a diagonal one wheel gets nothing
# and may turn slowly the way of the push. The words are those of common commissioning sheets: "slower or still".
BY_HAND = {
    "rest": (("still",), ("still",)),
    "forward": (("forward",), ("forward",)),
    "forward-right": (("forward",), ("still", "forward")),
    "right": (("forward",), ("backward",)),
    "backward-right": (("still", "backward"), ("backward",)),
    "backward": (("backward",), ("backward",)),
    "backward-left": (("backward",), ("still", "backward")),
    "left": (("backward",), ("forward",)),
    "forward-left": (("still", "forward"), ("forward",)),
}
GAINS = {"turn_gain": 1, "reverse_gain": 1}


def test_the_eight_directions_and_rest_by_hand():
    found = {code: expected_wheels(push=push, **GAINS) for code, push in POSITIONS.items()}
    assert found == BY_HAND


def test_every_position_is_a_line_of_the_run():
    assert {code: BY_CODE[code].push for code in POSITIONS} == POSITIONS


def test_a_turn_gain_below_one_lets_the_slow_wheel_stand_or_go_along():
    # (1 + 0.7, 1 - 0.7) / 1.7 = 1 and 0.176, below a third.
    assert expected_wheels(push=(1, 1), turn_gain=0.7, reverse_gain=1) == (("forward",), ("forward", "still"))
    # (1 + 0.4, 1 - 0.4) / 1.4 = 1 and 0.43, above a third: it must turn.
    assert expected_wheels(push=(1, 1), turn_gain=0.4, reverse_gain=1) == (("forward",), ("forward",))


def test_a_slow_reverse_turns_one_wheel_the_other_way():
    # back and right with reverse gain 0.3 and turn gain 1: left = -0.3 + 1 = 0.7, right = -0.3 - 1, over 1.3.
    assert expected_wheels(push=(1, -1), turn_gain=1, reverse_gain=0.3) == (("forward",), ("backward",))


def test_without_the_gains_nothing_is_expected():
    assert expected_wheels(push=(0, 1), turn_gain=None, reverse_gain=1) is None
    assert judge_line(code="forward", left="forward", right="forward").verdict == "unknown"
    assert expected_wheels(push=(0, 0), turn_gain=None, reverse_gain=None) == (("still",), ("still",))


@pytest.mark.parametrize("code", [code for code in POSITIONS])
def test_only_what_the_map_says_fits(code):
    words = ("forward", "backward", "still")
    fitting = {
        (left, right) for left in words for right in words
        if judge_line(code=code, left=left, right=right, **GAINS).verdict == "fits"
    }  # fmt: skip
    left, right = BY_HAND[code]
    assert fitting == {(one, other) for one in left for other in right}


def test_wheels_that_nobody_looked_at_are_unknown():
    assert judge_line(code="forward", left="forward", **GAINS).verdict == "unknown"


@pytest.mark.parametrize(
    ("code", "seen", "verdict"),
    [("left-channel", "left+", "fits"), ("left-channel", "right+", "stop"), ("left-channel", NOTHING, "stop"),
     ("right-channel", "right-", "stop"), ("stick-forward", "y+", "fits"), ("stick-right", "y+", "stop"),
     ("stick-right", None, "unknown")],
)  # fmt: skip
def test_bench_tests(code, seen, verdict):
    assert judge_line(code=code, seen=seen).verdict == verdict


@pytest.mark.parametrize(
    ("stopped", "seconds", "verdict"),
    [(True, 1.0, "fits"), (True, 1.01, "stop"), (False, 0.2, "stop"), (True, None, "unknown"), (None, 0.2, "unknown")],
)
def test_a_timed_stop(stopped, seconds, verdict):
    assert judge_line(code="stop-release", stopped=stopped, seconds=seconds).verdict == verdict


def test_a_broken_wire_needs_no_watch():
    assert judge_line(code="stop-forward-wire", stopped=True).verdict == "fits"
    assert judge_line(code="stop-forward-wire", stopped=False).verdict == "stop"
    assert judge_line(code="stop-forward-wire").verdict == "unknown"


@pytest.mark.parametrize(
    "given",
    [{"code": "sideways"}, {"code": "forward", "left": "fast"}, {"code": "left-channel", "seen": "x+"},
     {"code": "stop-release", "stopped": True, "seconds": -1}, {"code": "stop-release", "seconds": float("nan")}],
)  # fmt: skip
def test_nonsense_is_refused(given):
    with pytest.raises(EngineeringError):
        judge_line(**given)


def test_the_order_is_that_of_commissioning():
    """Common practice: rest, switch-on, each motor, the stick, eight directions, release, wires, cut-off, power."""
    codes = [line.code for line in LINES]
    assert codes[:6] == ["rest", "held", "left-channel", "right-channel", "stick-forward", "stick-right"]
    assert set(codes[6:14]) == set(POSITIONS) - {"rest"}
    assert codes[14:] == [
        "stop-release", "stop-unplug", "stop-forward-wire", "stop-sideways-wire", "stop-supply-wire",
        "stop-ground-wire", "stop-cutoff", "stop-power",
    ]  # fmt: skip


WHEELS_OF = {"forward": ("forward", "forward"), "backward": ("backward", "backward"),
             "spins-left": ("backward", "forward"), "spins-right": ("forward", "backward")}  # fmt: skip


@pytest.mark.parametrize("faults", ALL, ids=lambda one: "+".join(one) or "none")
def test_a_whole_run_hands_the_fault_finding_all_that_it_needs(faults):
    truth = shown(faults)
    seen = {
        "forward": WHEELS_OF[truth["forward"]], "right": WHEELS_OF[truth["right"]],
        "left-channel": truth["left_channel"], "right-channel": truth["right_channel"],
        "stick-forward": truth["push_forward"], "stick-right": truth["push_right"],
    }  # fmt: skip
    assert wheel_faults(**pushes_seen(seen)).explanations == (faults,)
    pushed = [judge_line(code=code, left=seen[code][0], right=seen[code][1], **GAINS) for code in ("forward", "right")]
    fails = "stop" in [finding.verdict for finding in pushed]
    assert fails == (wheel_faults(**pushes_seen(seen)).kind != "correct")


def test_a_wheel_that_stood_still_tells_the_fault_finding_nothing():
    assert pushes_seen({"forward": ("forward", "still"), "stick-forward": NOTHING}) == {}


QUARTERS = [(0, "y+", "x+"), (90, "x+", "y-"), (180, "y-", "x-"), (-90, "x-", "y+"), (-168, "y-", "x-")]


@pytest.mark.parametrize(("turn", "forward", "right"), QUARTERS)
def test_a_turned_stick_moves_other_values_and_drives_as_it_should(turn, forward, right):
    assert raw_values(rotation_deg=turn) == {"forward": (forward,), "right": (right,)}
    for code, seen in (("stick-forward", forward), ("stick-right", right)):
        assert judge_line(code=code, seen=seen, rotation_deg=turn).verdict == "fits"
        assert judge_line(code=code, seen=NOTHING, rotation_deg=turn).verdict == "stop"
    assert (as_commanded(forward, rotation_deg=turn), as_commanded(right, rotation_deg=turn)) == ("y+", "x+")
    other = {"+": "-", "-": "+"}
    assert as_commanded(forward[0] + other[forward[1]], rotation_deg=turn) == "y-"


def test_a_mirrored_stick_moves_right_to_the_other_side():
    assert raw_values(mirrored=True) == {"forward": ("y+",), "right": ("x-",)}
    assert as_commanded("x-", mirrored=True) == "x+" and as_commanded("y+", mirrored=True) == "y+"
    assert judge_line(code="stick-right", seen="x+", mirrored=True).verdict == "stop"


def test_of_two_values_that_move_alike_either_may_be_named():
    assert set(raw_values(rotation_deg=45)["forward"]) == {"x+", "y+"}
    assert raw_values(rotation_deg=30)["forward"] == ("y+",)


@pytest.mark.parametrize("turn", [181, float("nan"), "left"])
def test_a_turn_that_cannot_be_is_refused(turn):
    with pytest.raises(EngineeringError, match="^Turn of the stick must be a?"):
        raw_values(rotation_deg=turn)
