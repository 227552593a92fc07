"""Every position of a 10-bit stick through the Python model and the compiled core, and the two compared.

Run: .venv/bin/python tests/bench/bench_core.py
"""

import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
LIMIT_S = 3.0
ROUNDS = 5
POSITIONS = 2**20


def compare(fit, core):
    """Seconds of the model, of the core, and of all; both must agree, or the times mean nothing."""
    from tests.engineering.core.every_position import settled

    start = time.perf_counter()
    (left,), (right,), kinds = settled(core.numbers, [core.numbers.ceiling_0], 0, POSITIONS)
    modelled = time.perf_counter()
    told = core.settle(0, 0, POSITIONS)
    ran = time.perf_counter()
    if any((mine != theirs).any() for mine, theirs in zip((left, right, kinds), told, strict=True)):
        raise SystemExit("The model and the core do not agree.")
    return modelled - start, ran - modelled, time.perf_counter() - start


def main():
    sys.path.insert(0, str(ROOT))
    from tests.engineering.core.compiled import CompiledCore
    from tests.engineering.core.fits import FITS

    fit = FITS["turned"]
    start = time.perf_counter()
    core = CompiledCore(fit)
    built = time.perf_counter() - start
    rounds = [compare(fit, core) for _ in range(ROUNDS)]
    model, compiled, whole = (min(column) for column in zip(*rounds, strict=True))
    print(f"{'one fit, one ceiling, 2^20 positions':<40}{'seconds, best of ' + str(ROUNDS):>20}")
    for name, seconds in (("compiling the core, once", built), ("model in Python", model), ("core in C", compiled),
                          ("both, and comparing", whole), ("limit", LIMIT_S)):  # fmt: skip
        print(f"{name:<40}{seconds:>20.3f}")
    return 0 if whole + built <= LIMIT_S else 1


if __name__ == "__main__":
    raise SystemExit(main())
