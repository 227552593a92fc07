"""The published rows computed once more, inside a test.

A module's rows are computed when it is imported. Mutation testing changes the code after that, so it needs a test
that computes them afresh.
"""

from importlib import import_module, reload
from pathlib import Path

import pytest

MODULES = sorted(path.stem for path in Path(__file__).parent.glob("test_*.py") if "ROWS = [" in path.read_text())


@pytest.mark.parametrize("name", [name for name in MODULES if name != Path(__file__).stem])
def test_the_rows_hold_when_computed_afresh(name):
    rows = reload(import_module(f"tests.published.{name}")).ROWS
    assert rows
    for row in rows:
        row.check()
