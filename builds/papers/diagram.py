"""The wiring diagram: each part a post with its sign, each wire run a line of its own between two posts.

Every run has a row to itself and its words stand on it, so that nothing can cover anything, whatever a build adds.
A harness with many runs goes on in a further diagram. It is drawn from the record only: what is not known says so.
"""

import re
from dataclasses import dataclass, field

from builds.papers.labels import standing_runs
from builds.papers.tables import known, measure

MOST_RUNS = 14  # in one picture, so that it fits on a page with its heading
MOST_POSTS = 9
ROW, HEAD, FOOT = 30, 96, 14
WIDTH = 1000
MARGIN = 62
LETTER = 6.0  # width of a letter of 11 units, on the wide side
HEADING = 15  # letters on a line above a post
# Words at the end of a place's name that tell a terminal of the part and not another part.
TERMINALS = set(
    "plus minus positive negative post contact supply ground output input coil common first second wire tip sleeve "
    "signal + -".split()
)


@dataclass(frozen=True)
class Post:
    """One part: where it stands, its name in short lines, and the kind of sign above it."""

    x: float
    name: str
    lines: list
    sign: str
    bottom: float


@dataclass(frozen=True)
class Wire:
    """One run: from which post to which, and what stands on its line."""

    y: float
    from_x: float
    to_x: float
    words: str
    words_x: float
    words_width: float
    start: str
    end: str
    is_thick: bool
    is_dashed: bool

    @property
    def words_left(self):
        return self.words_x - self.words_width / 2

    @property
    def words_top(self):
        return self.y - 18


@dataclass
class Diagram:
    title: str
    height: float
    posts: list
    wires: list
    words: list = field(default_factory=list)

    @property
    def width(self):
        return WIDTH


def part_of(place):
    """(part, terminal) of a place: "Controller board supply plus" is the supply plus of the controller board."""
    head, _, after = place.partition(",")
    words = head.split()
    cut = len(words)
    while cut > 1 and words[cut - 1].lower() in TERMINALS:
        cut -= 1
    terminal = ", ".join(filter(None, [" ".join(words[cut:]), after.strip()]))
    return " ".join(words[:cut]), terminal


def sign_of(part):
    """Which sign a part gets, from its name; a square where the name tells nothing."""
    name = part.lower()
    for sign, pattern in (
        ("switch", r"disconnect|switch|relay"),
        ("fuse", r"\bfuse\b"),
        ("battery", r"batter"),
        ("motor", r"\bmotor\b(?!.*controller)"),
    ):
        if re.search(pattern, name):
            return sign
    return "square"


def of_build(build):
    """The diagrams of a build's harness, in the order of its runs."""
    runs = standing_runs(build)
    groups = [("Wiring: power", [run for run in runs if run.role != "control"])]
    groups.append(("Wiring: control", [run for run in runs if run.role == "control"]))
    parts = [(title, part) for title, many in groups for part in pages(many)]
    return [drawn(title, many) for title, many in parts]


def pages(runs):
    """The runs in lots that fit into one picture each."""
    lot, places = [], set()
    for run in runs:
        of_run = {part_of(run.start)[0], part_of(run.end)[0]}
        if lot and (len(lot) == MOST_RUNS or len(places | of_run) > MOST_POSTS):
            yield lot
            lot, places = [], set()
        lot.append(run)
        places |= of_run
    if lot:
        yield lot


def drawn(title, runs):
    names = list(dict.fromkeys(part_of(place)[0] for run in runs for place in (run.start, run.end)))
    step = (WIDTH - 2 * MARGIN) / max(1, len(names) - 1)
    at = {name: MARGIN + step * number for number, name in enumerate(names)}
    height = HEAD + ROW * len(runs) + FOOT
    return Diagram(
        title=f"{title}, {runs[0].code} to {runs[-1].code}" if len(runs) > 1 else f"{title}, {runs[0].code}",
        height=height,
        posts=[Post(at[name], name, in_lines(name), sign_of(name), height - FOOT) for name in names],
        wires=[wire(run, HEAD + ROW * (number + 0.75), at) for number, run in enumerate(runs)],
        words=[sentence(run) for run in runs],
    )


def wire(run, y, at):
    (from_part, start), (to_part, end) = part_of(run.start), part_of(run.end)
    words = " · ".join(filter(None, [run.code, known(run.gauge), run.colour, fuse_of(run)]))
    width = len(words) * LETTER + 6
    middle = (at[from_part] + at[to_part]) / 2
    middle = min(max(middle, width / 2 + 2), WIDTH - width / 2 - 2)
    return Wire(
        y=y,
        from_x=at[from_part],
        to_x=at[to_part],
        words=words,
        words_x=middle,
        words_width=width,
        start=start,
        end=end,
        is_thick=run.motor_circuit == "yes",
        is_dashed=run.in_arm == "yes",
    )


def fuse_of(run):
    return f"{run.fuse.code} {known(run.fuse.rating_a, 'A')}" if run.fuse else "no fuse"


def sentence(run):
    """One run in words, for those who cannot see the picture."""
    fuse = f"fuse {run.fuse.code}, {known(run.fuse.rating_a, 'A')}" if run.fuse else "no fuse"
    return (
        f"{run.code}: from {run.start} to {run.end}; {known(run.gauge)}, {known(run.colour)}, "
        f"{measure(run.length_m, 'length')}; {fuse}."
    )


def in_lines(name):
    """A name in at most four short lines."""
    lines = [""]
    for word in name.split():
        if lines[-1] and len(lines[-1]) + 1 + len(word) > HEADING:
            lines.append("")
        lines[-1] = f"{lines[-1]} {word}".strip()
    return [line[:HEADING] for line in lines[:4]]
