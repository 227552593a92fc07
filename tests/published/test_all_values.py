"""Each of the 288 collected values is either asserted by a test of this folder or listed with why not."""

import ast
import re
from pathlib import Path

from tests.published.later import GROUPS, NOT_ASSERTED

HERE = Path(__file__).parent
NAMED = re.compile(rf"\b({'|'.join(sorted(GROUPS, key=len, reverse=True))})-(\d\d)\b")
ALL = {f"{group}-{number:02}" for group, count in GROUPS.items() for number in range(1, count + 1)}


def asserted():
    """Ids in the strings of the test modules: ids of rows and docstrings of tests."""
    found = set()
    for path in HERE.glob("test_*.py"):
        if path.name == Path(__file__).name:
            continue
        strings = (node.value for node in ast.walk(ast.parse(path.read_text())) if isinstance(node, ast.Constant))
        found |= {"-".join(pair) for text in strings if isinstance(text, str) for pair in NAMED.findall(text)}
    return found


def listed():
    return [key for keys in NOT_ASSERTED.values() for key in keys]


def test_the_collection_has_288_values():
    assert len(ALL) == 288


def test_no_value_is_forgotten():
    assert ALL - asserted() - set(listed()) == set()


def test_no_value_is_both_asserted_and_excused():
    assert asserted() & set(listed()) == set()


def test_no_id_is_made_up():
    assert (asserted() | set(listed())) - ALL == set()
    assert len(listed()) == len(set(listed()))


def test_most_of_what_can_be_computed_is_asserted():
    assert len(asserted()) >= 150
