"""The proving run, wheels up: what is tried in which order, what must be seen, and whether it was.

The order is that of commissioning: at rest, switched on with the stick held over, each motor alone, the stick alone,
eight directions, and every way of stopping. Left and right are the occupant's.
"""

from dataclasses import dataclass

from builds.engineering import guards
from builds.engineering.drive_map import drive_output
from builds.engineering.finding import COMMON_PRACTICE, FITS, STOP, EngineeringError, Finding, plain, unknown
from builds.engineering.stick_maths import AIMS, push_of, reading_of
from builds.engineering.wheel_faults import BEHAVIOURS, RAW, WHEELS

FORWARD, BACKWARD, STILL = "forward", "backward", "still"
TURNS = (FORWARD, BACKWARD, STILL)
NOTHING = "nothing"  # no wheel turned, or no value moved
WHEELS_UP, CHANNEL, STICK, STOPPING = "wheels", "channel", "stick", "stop"
# 1. Common practice, no source: a drive that takes longer to stop, wheels up, has a fault.
LONGEST_STOP_S = 1.0
# 2. Common practice, no source: a wheel that is commanded at a third of the other or less may stand still.
MAY_STAND_SHARE = 1 / 3
# 3. Common practice, no source: of two values that move, the lesser may be named where it moves two thirds as far.
ALSO_MOVES_SHARE = 2 / 3
MAP_SOURCE = "drive map of the configuration"


@dataclass(frozen=True)
class Line:
    """One thing that is tried. `push` is (x, y): x to the occupant's right, y forward; `wanted` what must be seen."""

    code: str
    kind: str
    title: str
    push: tuple | None = None
    wanted: str = ""
    timed: bool = False


POSITIONS = {
    "rest": (0, 0), "forward": (0, 1), "forward-right": (1, 1), "right": (1, 0), "backward-right": (1, -1),
    "backward": (0, -1), "backward-left": (-1, -1), "left": (-1, 0), "forward-left": (-1, 1),
}  # fmt: skip
LINES = (
    Line("rest", WHEELS_UP, "Stick at rest for 1 minute", (0, 0)),
    Line("held", WHEELS_UP, "Switch on with the stick held over, in each direction", (0, 0)),
    Line("left-channel", CHANNEL, "The left channel alone, driven forward", wanted="left+"),
    Line("right-channel", CHANNEL, "The right channel alone, driven forward", wanted="right+"),
    Line("stick-forward", STICK, "The stick alone, pushed forward: which raw value moves", wanted="y+"),
    Line("stick-right", STICK, "The stick alone, pushed to the occupant's right: which raw value moves", wanted="x+"),
    Line("forward", WHEELS_UP, "Push forward", (0, 1)),
    Line("forward-right", WHEELS_UP, "Push forward and to the occupant's right", (1, 1)),
    Line("right", WHEELS_UP, "Push to the occupant's right", (1, 0)),
    Line("backward-right", WHEELS_UP, "Pull back and to the occupant's right", (1, -1)),
    Line("backward", WHEELS_UP, "Pull back", (0, -1)),
    Line("backward-left", WHEELS_UP, "Pull back and to the occupant's left", (-1, -1)),
    Line("left", WHEELS_UP, "Push to the occupant's left", (-1, 0)),
    Line("forward-left", WHEELS_UP, "Push forward and to the occupant's left", (-1, 1)),
    Line("stop-release", STOPPING, "Let the stick go at full speed", timed=True),
    Line("stop-unplug", STOPPING, "Unplug the stick at full speed", timed=True),
    Line("stop-forward-wire", STOPPING, "Break the forward signal wire at full speed"),
    Line("stop-sideways-wire", STOPPING, "Break the sideways signal wire at full speed"),
    Line("stop-supply-wire", STOPPING, "Break the stick's supply wire at full speed"),
    Line("stop-ground-wire", STOPPING, "Break the stick's ground wire at full speed"),
    Line("stop-cutoff", STOPPING, "Use the cut-off switch at full speed", timed=True),
    Line("stop-power", STOPPING, "Open the battery disconnect at full speed, and close it with the stick held over",
         timed=True),
)  # fmt: skip
BY_CODE = {line.code: line for line in LINES}


def expected_wheels(*, push, turn_gain, reverse_gain):
    """What each wheel may do on this push: the first word is what the drive map says.

    Parameters: push: (x, y) of the stick, each -1, 0 or 1 [-]; turn gain, 0 to 2 [-]; reverse gain, 0 to 1 [-]; the
    gains may be None. Returns a pair of word lists, left and right, or None where a gain is unknown [-]. A wheel that
    is commanded at a third of the other or less may stand still too. Raises EngineeringError. Limit 2: common
    practice.

    >>> expected_wheels(push=(1, 0), turn_gain=0.7, reverse_gain=0.5)
    (('forward',), ('backward',))
    >>> expected_wheels(push=(1, 1), turn_gain=1, reverse_gain=1)
    (('forward',), ('still', 'forward'))
    """
    x, y = push
    if x == 0 and y == 0:
        return (STILL,), (STILL,)
    output = drive_output(x=x, y=y, turn_gain=turn_gain, reverse_gain=reverse_gain)
    if output.left is None:
        return None
    larger = max(abs(output.left), abs(output.right))
    return tuple(_may(command, larger, y) for command in (output.left, output.right))


def raw_values(*, rotation_deg=0.0, mirrored=False):
    """Which raw value moves on a push forward and on a push to the occupant's right, on a stick that sits so.

    Parameters: rotation: how far its base is turned anticlockwise seen from above, -180 to 180 [deg]; mirrored:
    whether right reads on the other side of the turned forward push [-]. Returns {push: words}, each of x+, x-, y+,
    y- [-]. On a stick that sits askew both values move: the one that moves more, and the other too where it moves at
    least two thirds as far. Raises EngineeringError. Limit 3: common practice.

    >>> raw_values(), raw_values(rotation_deg=90)
    ({'forward': ('y+',), 'right': ('x+',)}, {'forward': ('x+',), 'right': ('y-',)})
    """
    turn = guards.number("Turn of the stick", rotation_deg, "deg", minimum=-180, maximum=180) or 0.0
    is_mirrored = guards.answer("Mirrored", mirrored)
    return {push: _moving(*reading_of(*AIMS[push], turn, is_mirrored)) for push in ("forward", "right")}


def as_commanded(seen, *, rotation_deg=0.0, mirrored=False):
    """A raw value that moved, as the drive takes it on a stick that sits so: y+ where it means forward.

    Parameters: seen: x+, x-, y+ or y- [-]; rotation [deg] and mirrored [-] as for `raw_values`. Returns such a word
    [-]. Source: definition.

    >>> as_commanded("x+", rotation_deg=90), as_commanded("y+")
    ('y+', 'y+')
    """
    return _moving(*push_of(*RAW[seen], rotation_deg, mirrored))[0]


def _moving(x, y):
    words = [(abs(x), "x+" if x > 0 else "x-"), (abs(y), "y+" if y > 0 else "y-")]
    (more, first), (less, second) = sorted(words, key=lambda one: one[0], reverse=True)
    return (first, second) if less >= ALSO_MOVES_SHARE * more else (first,)


def judge_line(*, code, left=None, right=None, seen=None, stopped=None, seconds=None, turn_gain=None,
               reverse_gain=None, rotation_deg=0.0, mirrored=False):
    """Whether what was seen on one line of the proving run is what must be seen.

    Parameters: code: one of `LINES` [-]; left, right: what each wheel did, one of forward, backward, still [-]; seen:
    which wheel turned or which raw value moved, or nothing [-]; stopped: whether both wheels stopped and stayed still
    [-]; seconds: time to stop, 0 to 600 [s]; turn gain, 0 to 2, and reverse gain, 0 to 1, of the configuration [-];
    each may be None; rotation, -180 to 180 [deg], and mirrored [-]: how the stick sits. Returns one Finding: another
    than the drive map says is a `stop`, a stop that takes longer than 1 s too. Raises EngineeringError. Limits 1, 2
    and 3: common practice.

    >>> judge_line(code="right", left="forward", right="forward", turn_gain=1, reverse_gain=1).verdict
    'stop'
    """  # fmt: skip
    if code not in BY_CODE:
        raise EngineeringError(f"Line of the proving run must be one of {', '.join(BY_CODE)}.")
    line = BY_CODE[code]
    seconds = guards.number("Time to stop", seconds, "s", minimum=0, maximum=600)
    if line.kind == WHEELS_UP:
        for side, word in (("Left wheel", left), ("Right wheel", right)):
            guards.choice(side, word, TURNS)
        return _wheels_finding(line, left, right, turn_gain, reverse_gain)
    if line.kind == STOPPING:
        return _stop_finding(line, guards.answer("Both wheels stopped", stopped), seconds)
    guards.choice(line.title, seen, (*(WHEELS if line.kind == CHANNEL else RAW), NOTHING))
    wanted, formula = (line.wanted,), "as wired"
    if line.kind == STICK:
        wanted = raw_values(rotation_deg=rotation_deg, mirrored=mirrored)[line.code.removeprefix("stick-")]
        formula = "as the fit of the stick, or its calibration, says that it sits"
    limit = " or ".join(wanted)
    if seen is None:
        return unknown(line.title, "what was seen", limit=limit, formula=formula, source=COMMON_PRACTICE)
    return Finding(line.title, seen, "", limit, FITS if seen in wanted else STOP, formula, COMMON_PRACTICE)


def pushes_seen(seen):
    """What the fault finding may be asked, from what a proving run showed.

    Parameters: seen: code of a line -> (left, right) of the wheels, or the word of a bench test [-]. Returns the
    inputs of `wheel_faults` that are known from it [-]. A push that neither drove straight nor spun tells nothing.
    Source: definition.

    >>> pushes_seen({"forward": ("forward", "backward"), "right": ("forward", "forward"), "left-channel": "left+"})
    {'forward': 'spins-right', 'right': 'forward', 'left_channel': 'left+'}
    """
    signs = {FORWARD: 1, BACKWARD: -1, STILL: 0}
    words = {turns: word for word, turns in BEHAVIOURS.items()}
    told = {}
    for push in ("forward", "right"):
        turns = tuple(signs.get(one) for one in seen.get(push, ()))
        if turns in words:
            told[push] = words[turns]
    names = {"stick-forward": "push_forward", "stick-right": "push_right", "left-channel": "left_channel",
             "right-channel": "right_channel"}  # fmt: skip
    return told | {name: seen[code] for code, name in names.items() if seen.get(code) not in (None, NOTHING)}


def _may(command, larger, y):
    way = command or y
    word = FORWARD if way > 0 else BACKWARD
    if command == 0:
        return (STILL, word) if larger else (STILL,)
    return (word, STILL) if abs(command) <= MAY_STAND_SHARE * larger else (word,)


def _wheels_finding(line, left, right, turn_gain, reverse_gain):
    allowed = expected_wheels(push=line.push, turn_gain=turn_gain, reverse_gain=reverse_gain)
    formula = "left = forward + right, right = forward \u2212 right, with the gains of the configuration"
    if allowed is None:
        return unknown(line.title, "turn gain, reverse gain", formula=formula, source=MAP_SOURCE)
    limit = f"left {' or '.join(allowed[0])}, right {' or '.join(allowed[1])}"
    if None in (left, right):
        return unknown(line.title, "what each wheel did", limit=limit, formula=formula, source=MAP_SOURCE)
    is_so = left in allowed[0] and right in allowed[1]
    return Finding(line.title, f"left {left}, right {right}", "", limit, FITS if is_so else STOP, formula, MAP_SOURCE)


def _stop_finding(line, stopped, seconds):
    formula = "both wheels stop and stay still until power is cycled or the stick is at rest"
    if stopped is False:
        return Finding(line.title, "did not stop", "", "stops", STOP, formula, COMMON_PRACTICE)
    if not line.timed:
        if stopped is None:
            return unknown(line.title, "whether both wheels stopped", limit="stops", formula=formula,
                           source=COMMON_PRACTICE)  # fmt: skip
        return Finding(line.title, "stopped", "", "stops", FITS, formula, COMMON_PRACTICE)
    if stopped is None or seconds is None:
        missing = "whether both wheels stopped" if stopped is None else "the time to stop"
        return unknown(line.title, missing, unit="s", limit=LONGEST_STOP_S, formula=formula, source=COMMON_PRACTICE)
    formula += f", within {plain(LONGEST_STOP_S)} s"
    verdict = FITS if seconds <= LONGEST_STOP_S else STOP
    return Finding(line.title, seconds, "s", LONGEST_STOP_S, verdict, formula, COMMON_PRACTICE)
