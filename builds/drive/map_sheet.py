"""The drive map as a person reads it: eight directions and rest, at each ceiling, as a table and a picture."""

from dataclasses import dataclass

from builds.drive.ceilings import rows_of
from builds.engineering.drive_effects import drive_effects
from builds.engineering.drive_map import drive_output, motion
from builds.engineering.drive_settings import MOST_LATE_MS
from builds.engineering.finding import plain
from builds.engineering.proving import POSITIONS
from labsite.models import Lab

NAMES = {
    "rest": "Rest", "forward": "Forward", "forward-right": "Forward and right", "right": "Right",
    "backward-right": "Back and right", "backward": "Back", "backward-left": "Back and left", "left": "Left",
    "forward-left": "Forward and left",
}  # fmt: skip
CELL, MIDDLE, WHEELS, ARROW = 160, 80, 102, 44  # of the picture: a cell, its middle, where the wheels are, an arrow


@dataclass(frozen=True)
class Wheel:
    """What one wheel is told in one direction."""

    command: float | None
    pulse_us: float | None

    @property
    def does(self):
        if self.command is None:
            return "unknown"
        return "still" if self.command == 0 else "forward" if self.command > 0 else "backward"

    @property
    def percent(self):
        return "unknown" if self.command is None else f"{plain(100 * self.command, 3)} %"

    @property
    def pulse(self):
        return "unknown" if self.pulse_us is None else f"{round(self.pulse_us)} \u00b5s"


@dataclass(frozen=True)
class Position:
    name: str
    left: Wheel
    right: Wheel
    does: str
    picture: dict


def maps_of(configuration):
    """(ceiling row, its nine positions) of everything that the cart can be driven at."""
    return [(row, positions(configuration, row["share"])) for row in rows_of(configuration)]


def positions(configuration, share):
    return [position(configuration, share, code, push) for code, push in POSITIONS.items()]


def position(configuration, share, code, push):
    x, y = push
    asked = {
        "x": x, "y": y, "ceiling": share, "turn_gain": configuration.turn_gain,
        "reverse_gain": configuration.reverse_gain, "span_us": configuration.span_us,
    }  # fmt: skip
    left = drive_output(**asked, neutral_us=configuration.neutral_left_us)
    right = drive_output(**asked, neutral_us=configuration.neutral_right_us)
    wheels = (
        Wheel(left.left, pulse(left.left_us, configuration.neutral_left_us, configuration.left_inverted)),
        Wheel(right.right, pulse(right.right_us, configuration.neutral_right_us, configuration.right_inverted)),
    )
    does = "unknown" if left.left is None else motion(left.left, right.right)
    return Position(NAMES[code], *wheels, does, picture(NAMES[code], push, share, wheels))


def pulse(longer_is_forward_us, neutral_us, is_inverted):
    """An inverted motor controller turns forward on a shorter pulse; whether it is must be known."""
    if longer_is_forward_us is None or is_inverted is None:
        return None
    return 2 * neutral_us - longer_is_forward_us if is_inverted else longer_is_forward_us


def picture(name, push, share, wheels):
    """A cell of the picture: where it lies, its name in two lines, and an arrow for each wheel, long as its command."""
    x, y = push
    left, top = (x + 1) * CELL, (1 - y) * CELL
    arrows = [arrow(left + at, top + WHEELS, wheel.command, share) for at, wheel in zip((45, 115), wheels, strict=True)]
    first, _, more = name.partition(" ")
    lines = [(first, top + 24), (more, top + 46)]
    return {"left": left, "top": top, "arrows": arrows, "middle": left + MIDDLE, "lines": lines}


def arrow(x, y, command, share):
    """From the wheel's middle the way it turns; a dot where it stands, nothing where it is unknown."""
    if command is None:
        return {"x": x, "y": y, "kind": "unknown"}
    if command == 0:
        return {"x": x, "y": y, "kind": "dot"}
    way = round(ARROW * command / share)
    tip = y - way
    side = 8 if way > 0 else -8
    return {"x": x, "y": y, "tip": tip, "wing": tip + side, "low": x - 7, "high": x + 7, "kind": "arrow"}


def effects_of(configuration, row, deceleration):
    """What each setting does at this ceiling, with the deceleration that was measured on the floor."""
    at_end = configuration.at_signal_end
    return drive_effects(
        ceiling_m_s=row["ceiling_m_s"],
        slew_up_per_s=configuration.slew_up,
        slew_down_per_s=configuration.slew_down,
        reverse_gain=configuration.reverse_gain,
        turn_gain=configuration.turn_gain,
        expo=configuration.expo,
        at_signal_end=None if at_end == "unknown" else at_end,
        deceleration_m_s2=deceleration,
        late_ms=MOST_LATE_MS,
        reaction_s=Lab.current().reaction_s,
    ).findings
