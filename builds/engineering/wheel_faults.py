"""A two-motor cart drives wrong: what is crossed, from two pushes and up to four short bench tests.

Six crossings are possible, which makes 64 combinations, but they show as eight behaviours only. One crossed pair
always mirrors the drive; a stick whose base is turned never does. Stick faults are read where the board reads: the
raw values, after any exchange of the axes. Motor faults belong to the motor at a wheel.
"""

from dataclasses import dataclass
from itertools import combinations

from builds.engineering import guards
from builds.engineering.finding import CHECK, FITS, STOP, UNKNOWN, EngineeringError, Finding, unknown

# 1. Derived: all 64 combinations of the six crossings, put through left = y + x, right = y - x.
SOURCE = "derived: all 64 combinations of six crossings, left = y + x, right = y - x"
FAULTS = (
    "axes swapped", "x reversed", "y reversed", "motors swapped", "left polarity reversed", "right polarity reversed",
)  # fmt: skip
CORRECT, MIRROR, TURN = "correct", "mirror", "turn"
# What a push does to the left and the right wheel; 1 is forward.
BEHAVIOURS = {"forward": (1, 1), "backward": (-1, -1), "spins-left": (-1, 1), "spins-right": (1, -1)}
WHEELS = {"left+": ("left", 1), "left-": ("left", -1), "right+": ("right", 1), "right-": ("right", -1)}
RAW = {"x+": (1, 0), "x-": (-1, 0), "y+": (0, 1), "y-": (0, -1)}
# In the order in which they are asked for: reading the stick's numbers moves no wheel.
BENCH_TESTS = ("push_forward", "push_right", "left_channel", "right_channel")
PUSHES = {"forward": (0, 1), "right": (1, 0)}
OTHER = {"left": "right", "right": "left"}
TURNED = {  # pairs of stick faults that are one cause: the base sits turned, seen from above
    ("axes swapped", "x reversed"): "90\u00b0 clockwise",
    ("axes swapped", "y reversed"): "90\u00b0 anticlockwise",
    ("x reversed", "y reversed"): "180\u00b0",
}
TURN_BACK = {
    "90\u00b0 clockwise": "90\u00b0 anticlockwise",
    "90\u00b0 anticlockwise": "90\u00b0 clockwise",
    "180\u00b0": "180\u00b0",
}
CAUSE_WORDS = {
    "axes swapped": "the stick's sideways and forward signals are exchanged",
    "x reversed": "the stick's sideways signal is reversed",
    "y reversed": "the stick's forward signal is reversed",
    "motors swapped": "the left and the right motor are exchanged",
    "left polarity reversed": "the left motor's two wires are exchanged",
    "right polarity reversed": "the right motor's two wires are exchanged",
}
CHANGES = {
    "axes swapped": "Exchange the stick's two signal wires where they differ from the wire list.",
    "x reversed": "Put the sideways signal right at the stick's plug; where it cannot be rewired, invert it in the "
    "settings.",
    "y reversed": "Put the forward signal right at the stick's plug; where it cannot be rewired, invert it in the "
    "settings.",
    "motors swapped": "Put the left and the right motor's leads, or their two drive signals, back as the wire list "
    "says.",
    "left polarity reversed": "Exchange the two wires of the left motor at its controller.",
    "right polarity reversed": "Exchange the two wires of the right motor at its controller.",
}


@dataclass(frozen=True)
class Cause:
    """One combination of crossings as a person meets it; a turned base is one cause and two crossings."""

    faults: tuple
    words: str
    count: int
    change: str
    is_turned: bool


@dataclass(frozen=True)
class WheelFaults:
    """`explanations` are tuples of fault names; `next_test` is the bench test that separates most of what is left."""

    kind: str | None
    explanations: tuple
    causes: tuple
    next_test: str | None
    findings: tuple


def wheel_faults(*, forward, right, left_channel=None, right_channel=None, push_forward=None, push_right=None):
    """What is crossed on a cart with two motors, from what it does when the stick is pushed forward and right.

    Every combination of the six crossings that shows what was seen; one crossed pair always mirrors the drive, a
    turned base never does.
    Parameters: forward, right: what the cart does on that push, one of forward, backward, spins-left, spins-right [-];
    left_channel, right_channel: which wheel turned, and which way, with that channel alone driven forward, one of
    left+, left-, right+, right- [-]; push_forward, push_right: which raw value moved on that push, and which way, one
    of x+, x-, y+, y- [-]; each may be None. Returns the kind of behaviour (correct, mirror, turn), the explanations
    with the fewest crossings first, the causes with the simplest first, the next test and findings. Not for a weak
    channel, a dead zone or a wheel that turns one way only: these are seen in the other six directions. Refused: a
    pair that no crossing explains. Raises EngineeringError. Source 1.

    >>> found = wheel_faults(forward="spins-right", right="forward")
    >>> found.kind, len(found.explanations), found.explanations[0], found.next_test
    ('mirror', 8, ('axes swapped',), 'push_forward')
    >>> wheel_faults(forward="spins-left", right="forward", push_forward="x-", push_right="y+").causes[0].words
    "the stick's base is turned 90\u00b0 clockwise, seen from above"
    """
    seen = {
        "forward": guards.choice("Push forward", forward, tuple(BEHAVIOURS)),
        "right": guards.choice("Push right", right, tuple(BEHAVIOURS)),
        "left_channel": guards.choice("Left channel alone", left_channel, tuple(WHEELS)),
        "right_channel": guards.choice("Right channel alone", right_channel, tuple(WHEELS)),
        "push_forward": guards.choice("Raw value on a push forward", push_forward, tuple(RAW)),
        "push_right": guards.choice("Raw value on a push right", push_right, tuple(RAW)),
    }
    if forward is None or right is None:
        missing = [f"what a push {way} does" for way in PUSHES if seen[way] is None]
        found = unknown("behaviour", missing, formula="two pushes tell the behaviour", source=SOURCE)
        return WheelFaults(None, (), (), None, (found,))
    _refuse_unexplained(seen)
    explanations = tuple(one for one in ALL if all(value in (None, shown(one)[key]) for key, value in seen.items()))
    if not explanations:
        raise EngineeringError(
            "The bench tests and the two pushes contradict each other: no crossing shows them all. "
            "Do them again, one push and one channel at a time."
        )
    kind = _kind(forward, right)
    causes = tuple(sorted(map(cause_of, explanations), key=lambda one: (one.count, len(one.faults))))
    next_test = _next_test(explanations, seen)
    findings = (_behaviour_finding(kind, seen), _cause_finding(kind, causes, next_test))
    return WheelFaults(kind, explanations, causes, next_test, findings)


def shown(faults):
    """What a cart with these crossings shows in the two pushes and the four bench tests.

    Parameters: faults: names of `FAULTS` [-]. Returns a word for each test [-]. Source 1.

    >>> shown(("left polarity reversed",))["forward"], shown(())["push_right"]
    ('spins-left', 'x+')
    """
    told = {f"{channel}_channel": _word(WHEELS, _channel(faults, channel)) for channel in ("left", "right")}
    for way, push in PUSHES.items():
        told[f"push_{way}"] = _word(RAW, _raw(faults, push))
        told[way] = _word(BEHAVIOURS, _wheels(faults, _raw(faults, push)))
    return told


def cause_of(faults):
    """The crossings as a person meets them at the bench, with the least change that undoes them.

    A base that sits turned is one cause and is turned back, never cured with wire swaps.
    Parameters: faults: names of `FAULTS` [-]. Returns a Cause, its count of causes [-]. Source 1.

    >>> cause_of(("x reversed", "y reversed")).count, cause_of(("axes swapped", "motors swapped")).count
    (1, 2)
    """
    stick = tuple(one for one in faults if one in FAULTS[:3])
    turned = TURNED.get(stick) or ("180\u00b0" if len(stick) == 3 else None)
    wires = [one for one in faults if one not in stick or turned is None]
    if len(stick) == 3:
        wires = ["axes swapped", *wires]
    words, changes = [], []
    if turned:
        words.append(f"the stick's base is turned {turned}, seen from above")
        changes.append(f"Turn the stick's base {TURN_BACK[turned]}, and change no wire for it.")
    words += [CAUSE_WORDS[one] for one in wires]
    changes += [CHANGES[one] for one in wires]
    return Cause(tuple(faults), "; ".join(words) or "nothing is crossed", len(words), " ".join(changes), bool(turned))


def _raw(faults, push):
    """The stick's raw values (x, y) for a push."""
    x, y = (push[1], push[0]) if "axes swapped" in faults else push
    return (-x if "x reversed" in faults else x, -y if "y reversed" in faults else y)


def _channel(faults, channel):
    """Which wheel a channel drives, and which way when it is driven forward."""
    wheel = OTHER[channel] if "motors swapped" in faults else channel
    return wheel, -1 if f"{wheel} polarity reversed" in faults else 1


def _wheels(faults, raw):
    """(left, right) of the wheels; 1 is forward."""
    x, y = raw
    turns = {}
    for channel, command in (("left", y + x), ("right", y - x)):
        wheel, sign = _channel(faults, channel)
        turns[wheel] = sign * command
    return turns["left"], turns["right"]


def _word(words, meaning):
    return next(word for word, one in words.items() if one == meaning)


def _kind(forward, right):
    if (forward, right) == ("forward", "spins-right"):
        return CORRECT
    turns = {shown(stick)["forward"]: shown(stick)["right"] for stick in TURNED}
    return TURN if turns.get(forward) == right else MIRROR


def _refuse_unexplained(seen):
    pairs = {(shown(one)["forward"], shown(one)["right"]) for one in ALL}
    if (seen["forward"], seen["right"]) not in pairs:
        raise EngineeringError(
            f"No crossing makes a push forward {_does(seen['forward'])} and a push right {_does(seen['right'])}. "
            "One of the two must drive straight and the other must spin. Push again; if it stays, a channel is dead "
            "or works one way only."
        )


def _does(word):
    spins = {"spins-left": "spin it to the left", "spins-right": "spin it to the right"}
    return spins.get(word, f"drive it {word}")


def _next_test(explanations, seen):
    """The test not yet done whose worst answer leaves least; None when one explanation is left."""
    if len(explanations) == 1:
        return None
    open_tests = [test for test in BENCH_TESTS if seen[test] is None]
    return min(open_tests, key=lambda test: _most_left(explanations, test))


def _most_left(explanations, test):
    answers = [shown(one)[test] for one in explanations]
    return max(answers.count(answer) for answer in answers)


def _behaviour_finding(kind, seen):
    formula = "two pushes tell the behaviour; one crossed pair always mirrors it, a turned base never does"
    inputs = tuple((f"push {way}", seen[way]) for way in PUSHES)
    return Finding("behaviour", kind, "", CORRECT, FITS if kind == CORRECT else STOP, formula, SOURCE, inputs)


TEST_WORDS = {
    "push_forward": "the raw stick values on a push forward",
    "push_right": "the raw stick values on a push right",
    "left_channel": "the left channel driven alone",
    "right_channel": "the right channel driven alone",
}


def _cause_finding(kind, causes, next_test):
    if next_test:
        formula = f"{len(causes)} combinations of crossings show this; driving tests alone never tell them apart"
        simplest = f"simplest: {causes[0].words}"
        return Finding("cause", simplest, "", None, UNKNOWN, formula, SOURCE, missing=TEST_WORDS[next_test])
    formula = causes[0].change or "every test agrees"
    verdict = STOP if kind != CORRECT else FITS if not causes[0].faults else CHECK
    if verdict == CHECK:
        formula += " Crossings that hide each other drive right until one of them is put right."
    return Finding("cause", causes[0].words, "", None, verdict, formula, SOURCE)


# Every combination, the fewest crossings first.
ALL = tuple(chosen for count in range(len(FAULTS) + 1) for chosen in combinations(FAULTS, count))
