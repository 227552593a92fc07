"""Sweeps and sequences with the undefined-behaviour and address sanitizers on, and the same answers without."""

import subprocess

import pytest

from builds.engineering.drive_header import CORE
from builds.engineering.drive_numbers import settings_digest
from tests.engineering.core.compiled import HERE, compile_with
from tests.engineering.core.fits import FITS, SIXTEEN_BITS

SANITIZERS = ("-O1", "-g", "-fsanitize=undefined,address", "-fno-sanitize-recover=all")
SOURCES = (CORE / "drive_core.c", HERE / "sanitized.c")


def printed(place, fit, options):
    program = compile_with(fit, place / "sweep", *SOURCES, options=options)
    return subprocess.run([program], capture_output=True, text=True, timeout=120, check=False)


@pytest.mark.parametrize("name", ["turned", "mirrored", "inverted", "16 bits"])
def test_nothing_undefined_happens(tmp_path, name):
    fit = (FITS | {"16 bits": SIXTEEN_BITS})[name]
    watched = printed(tmp_path, fit, SANITIZERS)
    assert (watched.returncode, watched.stderr) == (0, "")
    digest, _, moving = watched.stdout.split()
    assert digest == settings_digest(fit)
    assert int(moving) > 50_000
    assert printed(tmp_path, fit, ("-O2",)).stdout == watched.stdout


def test_the_sanitizers_would_tell(tmp_path):
    """A shift too far, in a program of its own."""
    source = tmp_path / "wrong.c"
    source.write_text("#include <stdint.h>\nint main(int count, char **words)\n{\n    (void)words;\n"
                      "    return (int)(INT32_C(2147483646) + count + count);\n}\n")  # fmt: skip
    program = compile_with(FITS["turned"], tmp_path / "wrong", source, options=SANITIZERS)
    done = subprocess.run([program], capture_output=True, text=True, timeout=60, check=False)
    assert done.returncode != 0 and "runtime error" in done.stderr
