"""The table of who may open what, put together from the rows of every room.

A module in this folder says `ROWS = [row(...), ...]` for the addresses of its room, and, when these take arguments,
`arguments(world)`, which makes what they point at and returns {url name: keyword arguments}. `ORDER` (50) decides
which module goes first, so that later ones find on the world what earlier ones put there.
"""

from dataclasses import dataclass, field
from importlib import import_module
from pathlib import Path

PEOPLE = ("coordinator", "builder", "builder_elsewhere", "reviewer", "director", "signed_out")
NOT_ROOMS = {"__init__", "rows", "world"}


@dataclass(frozen=True)
class Row:
    name: str
    method: str
    expected: dict
    page: bool
    data: dict = field(default_factory=dict)
    query: str = ""
    door: str = "sign_in"  # where somebody who may not come in is sent

    def __str__(self):
        return f"{self.method} {self.name}"

    @property
    def asked(self):
        """What follows the address: "?q=..." or nothing."""
        return f"?{self.query.removeprefix('?')}" if self.query else ""

    @property
    def reader(self):
        """Somebody who may see the page."""
        return next((person for person in PEOPLE if self.expected[person] == 200), None)


def row(name, method="GET", *, page=None, data=None, query="", door="sign_in", **expected):
    """One address, one method, and the status each of the six people gets. A page is walked by the browser too."""
    if set(expected) != set(PEOPLE):
        raise TypeError(f"{method} {name}: say the status for each of {', '.join(PEOPLE)}.")
    shows = method == "GET" and 200 in expected.values()
    return Row(name, method, expected, shows if page is None else page, data or {}, query, door)


def rooms():
    names = sorted(path.stem for path in Path(__file__).parent.glob("*.py") if path.stem not in NOT_ROOMS)
    modules = [import_module(f"tests.access.{name}") for name in names]
    return sorted(modules, key=lambda module: getattr(module, "ORDER", 50))


def all_rows():
    return [each for module in rooms() for each in module.ROWS]
