"""The calculators: for everybody who is signed in, since they hold nobody's record."""

from tests.access.labsite import ANYONE
from tests.access.rows import row

ORDER = 80
NONSENSE = dict.fromkeys(ANYONE, 422)

ROWS = [
    row("calculators", **ANYONE, signed_out=302),
    row("calculator", **ANYONE, signed_out=302, query="gauge=14+AWG&length=4+ft&current=18+A"),
    row("calculator", **NONSENSE, signed_out=302, query="gauge=14&length=4+ft&current=18+A"),
]


def arguments(world):
    return {"calculator": {"name": "wire-run"}}
