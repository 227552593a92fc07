"""Changes the engineering code here and there and looks whether a test notices. Run by hand: `make mutants`.

Works in a copy of the kept files, so that the tree stays as it is. Of all mutants a random sample is tried with the
engineering tests alone; survivors are printed with their change. Tests that start another interpreter or read the
source itself cannot see a mutant and are left out.
"""

import argparse
import json
import random
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
SETTINGS = """
[tool.mutmut]
source_paths = ["builds"]
only_mutate = ["builds/engineering/*.py"]
also_copy = ["labsite", "clients", "templates", "static", "manage.py"]
pytest_add_cli_args_test_selection = ["tests/engineering", "tests/published"]
pytest_add_cli_args = [
    "-p", "no:cacheprovider", "-k", "not bare_interpreter and not any_database and not from_outside",
    "--ignore=tests/engineering/test_docstrings.py", "--ignore=tests/published/test_all_values.py",
    "--ignore=tests/engineering/core/test_eight_bit.py", "--ignore=tests/engineering/core/test_sanitized.py",
]
"""
KILLED, SURVIVED, NO_TEST, TIMED_OUT = "killed", "survived", "no test", "timed out"
OUTCOMES = {0: SURVIVED, 1: KILLED, 3: KILLED, 5: NO_TEST, 33: NO_TEST, 24: TIMED_OUT, 36: TIMED_OUT, -24: TIMED_OUT}


def copy_to(place):
    """The kept files as they are now, and the tool's settings."""
    shutil.rmtree(place, ignore_errors=True)
    kept = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    for name in kept.split("\0"):
        if name and (ROOT / name).is_file():
            (place / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(ROOT / name, place / name)
    with (place / "pyproject.toml").open("a") as settings:
        settings.write(SETTINGS)


def mutmut(place, *words):
    command = [sys.executable, "-m", "mutmut", *words]
    return subprocess.run(command, cwd=place, capture_output=True, text=True, check=False)


def outcomes(place):
    """{mutant: exit code, or None while it was not tried}."""
    found = {}
    for path in sorted((place / "mutants/builds/engineering").glob("*.meta")):
        found |= json.loads(path.read_text())["exit_code_by_key"]
    return found


def tried(place, sample, seed, children):
    first = mutmut(place, "run", "--max-children", "1", "builds.engineering.goals.x_goal_score__mutmut_1")
    names = sorted(outcomes(place))
    if not names:
        sys.exit(first.stdout[-2000:] + first.stderr[-2000:])
    chosen = random.Random(seed).sample(names, min(sample, len(names)))
    mutmut(place, "run", "--max-children", str(children), *chosen)
    codes = outcomes(place)
    return len(names), {name: OUTCOMES.get(codes[name], f"exit {codes[name]}") for name in chosen}


def change_of(place, name):
    lines = mutmut(place, "show", name).stdout.splitlines()
    return [line for line in lines if line[:1] in "+-" and not line.startswith(("+++", "---"))]


def main():
    ask = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    ask.add_argument("--sample", type=int, default=500)
    ask.add_argument("--seed", type=int, default=random.randrange(10_000))
    ask.add_argument("--children", type=int, default=2)
    ask.add_argument("--place", type=Path, default=ROOT / "var" / "mutants")
    chosen = ask.parse_args()
    copy_to(chosen.place)
    total, found = tried(chosen.place, chosen.sample, chosen.seed, chosen.children)
    for name, outcome in found.items():
        if outcome not in (KILLED, TIMED_OUT):
            print(outcome, name, *change_of(chosen.place, name), sep="\n  ")
    noticed = sum(outcome in (KILLED, TIMED_OUT) for outcome in found.values())
    share = noticed / len(found)
    print(f"{noticed} of {len(found)} noticed ({share:.1%}), of {total} mutants in all, seed {chosen.seed}.")
    sys.exit(share < 0.9)


if __name__ == "__main__":
    main()
