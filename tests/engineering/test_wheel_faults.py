"""All 64 combinations of crossings, walked one by one with a second model written here from the words of the rule."""

from itertools import combinations, product

import pytest

from builds.engineering.finding import EngineeringError
from builds.engineering.wheel_faults import ALL, BENCH_TESTS, FAULTS, TEST_WORDS, cause_of, wheel_faults

ALL_OF_THEM = [set(some) for count in range(7) for some in combinations(FAULTS, count)]
# The eight behaviours as a table of the trade sums them up (derived by its writer from the same six crossings): kind,
# and the causes that it names.
TABLE = {
    ("forward", "spins-right"): ("correct", [set()]),
    ("spins-right", "forward"): ("mirror", [{"right polarity reversed"}, {"axes swapped"}]),
    ("spins-left", "backward"): (
        "mirror", [{"left polarity reversed"}, {"axes swapped", "x reversed", "y reversed"}]),
    ("forward", "spins-left"): ("mirror", [{"motors swapped"}, {"x reversed"}]),
    ("backward", "spins-right"): (
        "mirror", [{"y reversed"}, {"left polarity reversed", "right polarity reversed", "motors swapped"}]),
    ("backward", "spins-left"): (
        "turn", [{"left polarity reversed", "right polarity reversed"}, {"x reversed", "y reversed"},
                 {"y reversed", "motors swapped"}]),
    ("spins-left", "forward"): ("turn", [{"axes swapped", "x reversed"}, {"axes swapped", "motors swapped"}]),
    ("spins-right", "backward"): ("turn", [{"axes swapped", "y reversed"}]),
}  # fmt: skip


def as_matrices(faults):
    """The second model: the stick and the motors as two 2 by 2 matrices, instead of rule by rule."""
    stick = [[1, 0], [0, 1]]
    if "axes swapped" in faults:
        stick = [stick[1], stick[0]]
    signs = [-1 if f"{axis} reversed" in faults else 1 for axis in "xy"]
    stick = [[signs[row] * value for value in stick[row]] for row in (0, 1)]
    motors = [[1, 0], [0, 1]]  # row: wheel; column: channel
    if "motors swapped" in faults:
        motors = [motors[1], motors[0]]
    signs = [-1 if f"{side} polarity reversed" in faults else 1 for side in ("left", "right")]
    motors = [[signs[row] * value for value in motors[row]] for row in (0, 1)]
    return stick, motors


def times(matrix, vector):
    return tuple(sum(a * b for a, b in zip(row, vector, strict=True)) for row in matrix)


def observed(faults):
    """What a cart with these crossings shows, in the words of the calculator."""
    stick, motors = as_matrices(faults)
    drives = {(1, 1): "forward", (-1, -1): "backward", (-1, 1): "spins-left", (1, -1): "spins-right"}
    raws = {(1, 0): "x+", (-1, 0): "x-", (0, 1): "y+", (0, -1): "y-"}
    turning = {(1, 0): "left+", (-1, 0): "left-", (0, 1): "right+", (0, -1): "right-"}
    pushes = {"forward": (0, 1), "right": (1, 0)}
    raw = {way: times(stick, push) for way, push in pushes.items()}
    return {
        **{way: drives[times(motors, times([[1, 1], [-1, 1]], raw[way]))] for way in pushes},
        **{f"push_{way}": raws[raw[way]] for way in pushes},
        "left_channel": turning[times(motors, (1, 0))],
        "right_channel": turning[times(motors, (0, 1))],
    }


def pushes_of(faults):
    return {way: observed(faults)[way] for way in ("forward", "right")}


@pytest.mark.parametrize("faults", ALL_OF_THEM, ids=lambda one: "+".join(sorted(one)) or "none")
def test_four_bench_tests_leave_exactly_this_one(faults):
    found = wheel_faults(**observed(faults))
    assert [set(one) for one in found.explanations] == [faults]
    assert found.next_test is None


@pytest.mark.parametrize("faults", ALL_OF_THEM, ids=lambda one: "+".join(sorted(one)) or "none")
def test_two_pushes_leave_eight_and_this_is_among_them(faults):
    found = wheel_faults(**pushes_of(faults))
    assert len(found.explanations) == 8
    assert faults in [set(one) for one in found.explanations]
    assert [len(one) for one in found.explanations] == sorted(len(one) for one in found.explanations)


def test_all_64_are_told_apart():
    assert len(ALL_OF_THEM) == len(ALL) == 64
    assert len({tuple(sorted(observed(faults).items())) for faults in ALL_OF_THEM}) == 64


@pytest.mark.parametrize("faults", ALL_OF_THEM, ids=lambda one: "+".join(sorted(one)) or "none")
def test_asking_the_next_test_until_one_is_left_never_asks_more_than_two(faults):
    """Four behaviours of a channel or of a raw value part eight into pairs, and a second test parts the pair."""
    truth, given = observed(faults), pushes_of(faults)
    asked = []
    while (test := wheel_faults(**given).next_test) is not None:
        asked.append(test)
        given[test] = truth[test]
    assert [set(one) for one in wheel_faults(**given).explanations] == [faults]
    assert len(asked) <= 2


@pytest.mark.parametrize("pair", list(TABLE), ids="-".join)
def test_the_table_of_eight_behaviours(pair):
    kind, causes = TABLE[pair]
    found = wheel_faults(forward=pair[0], right=pair[1])
    assert found.kind == kind
    explained = [set(one) for one in found.explanations]
    assert [one for one in causes if one not in explained] == []


def test_the_kind_is_the_parity_of_the_crossings():
    for faults in ALL_OF_THEM:
        stick, motors = as_matrices(faults)
        turns = determinant(stick) * determinant(motors) == 1
        kind = wheel_faults(**pushes_of(faults)).kind
        assert (kind in ("correct", "turn")) == turns


def determinant(matrix):
    return matrix[0][0] * matrix[1][1] - matrix[0][1] * matrix[1][0]


def test_a_pair_that_nothing_explains_is_refused():
    words = ("forward", "backward", "spins-left", "spins-right")
    refused = [pair for pair in product(words, words) if pair not in TABLE]
    assert len(refused) == 8
    for forward, right in refused:
        with pytest.raises(EngineeringError, match="No crossing makes a push forward"):
            wheel_faults(forward=forward, right=right)


def test_bench_tests_that_contradict_the_pushes_are_refused():
    with pytest.raises(EngineeringError, match="contradict"):
        wheel_faults(forward="forward", right="spins-right", left_channel="left+", right_channel="left-")
    with pytest.raises(EngineeringError, match="contradict"):
        wheel_faults(
            forward="forward", right="spins-right", left_channel="left-", right_channel="right+",
            push_forward="y+", push_right="x+",
        )  # fmt: skip


def test_a_turned_base_comes_first_and_no_wire_is_changed_for_it():
    for forward, right, turned, back in (
        ("spins-left", "forward", "90\u00b0 clockwise", "90\u00b0 anticlockwise"),
        ("spins-right", "backward", "90\u00b0 anticlockwise", "90\u00b0 clockwise"),
        ("backward", "spins-left", "180\u00b0", "180\u00b0"),
    ):
        first = wheel_faults(forward=forward, right=right).causes[0]
        assert first.words == f"the stick's base is turned {turned}, seen from above"
        assert first.count == 1
        assert first.change == f"Turn the stick's base {back}, and change no wire for it."


def test_no_single_cause_of_a_mirror_is_a_turned_base():
    for pair, (kind, _) in TABLE.items():
        found = wheel_faults(forward=pair[0], right=pair[1])
        turned = [one for one in found.causes if one.count == 1 and one.is_turned]
        assert bool(turned) == (kind == "turn")


def test_causes_come_simplest_first():
    for pair in TABLE:
        counts = [one.count for one in wheel_faults(forward=pair[0], right=pair[1]).causes]
        assert counts == sorted(counts)


def test_three_stick_faults_are_a_turned_base_and_one_exchange():
    found = cause_of(("axes swapped", "x reversed", "y reversed"))
    assert found.count == 2
    assert "turned 180\u00b0" in found.words
    assert "exchanged" in found.words


def test_crossings_that_hide_each_other_are_told_and_one_is_never_called_right():
    hidden = {"x reversed", "motors swapped"}
    by_pushes = wheel_faults(**pushes_of(hidden))
    assert by_pushes.kind == "correct"
    assert by_pushes.findings[1].verdict == "unknown"
    assert by_pushes.findings[1].missing == TEST_WORDS[by_pushes.next_test]
    proved = wheel_faults(**observed(hidden))
    assert proved.findings[1].verdict == "check"
    assert "hide each other" in proved.findings[1].formula
    assert wheel_faults(**observed(set())).findings[1].verdict == "fits"


def test_what_was_not_pushed_is_unknown():
    found = wheel_faults(forward="forward", right=None)
    assert (found.kind, found.explanations, found.next_test) == (None, (), None)
    assert found.findings[0].verdict == "unknown"
    assert found.findings[0].missing == "what a push right does"


def test_every_bench_test_has_words():
    assert set(TEST_WORDS) == set(BENCH_TESTS)
