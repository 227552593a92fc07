"""Compiles the core with the settings of a fit, and calls it."""

import ctypes
import subprocess
import tempfile
from functools import cache
from pathlib import Path

import numpy

from builds.engineering.drive_header import CORE, HEADER, drive_header
from builds.engineering.drive_numbers import drive_numbers

HERE = Path(__file__).parent
STRICT = (
    "-std=c99", "-Wall", "-Wextra", "-Wconversion", "-Wsign-conversion", "-Wpedantic", "-Wshadow",
    "-Wstrict-prototypes", "-Wmissing-prototypes", "-Werror",
)  # fmt: skip
GIVEN = numpy.dtype(
    [("x", "u2"), ("y", "u2"), ("elapsed_ms", "u2"), ("selector", "u1"), ("fresh", "u1")], align=True
)
TOLD = numpy.dtype(
    [("turn", "i4"), ("drive", "i4"), ("left_us", "u2"), ("right_us", "u2"), ("ceiling", "u2"), ("stage", "u1"),
     ("resting", "u1")], align=True,
)  # fmt: skip


def compile_with(settings, target, *sources, compiler=("gcc",), options=()):
    """Compiles sources beside a header of these settings; returns the target. A refusal fails the test."""
    target = Path(target)
    (target.parent / HEADER).write_text(drive_header(settings))
    command = [*compiler, *STRICT, *options, f"-I{target.parent}", f"-I{CORE}", *map(str, sources), "-o", str(target)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)
    assert done.returncode == 0, done.stderr
    return target


class CompiledCore:
    """The core in C with these settings, in this process."""

    def __init__(self, settings):
        self.numbers = drive_numbers(settings)
        self._place = tempfile.TemporaryDirectory()
        target = Path(self._place.name) / "core.so"
        compile_with(settings, target, CORE / "drive_core.c", HERE / "harness.c", options=("-O2", "-shared", "-fPIC"))
        self._library = ctypes.CDLL(str(target))

    def settle(self, selector, first, count):
        left, right = numpy.empty(count, numpy.uint16), numpy.empty(count, numpy.uint16)
        kinds = numpy.empty(count, numpy.uint8)
        held = [ctypes.c_void_p(array.ctypes.data) for array in (left, right, kinds)]
        self._library.settle(ctypes.c_uint32(first), ctypes.c_uint32(count), ctypes.c_uint8(selector), *held)
        return left, right, kinds

    def run(self, steps):
        """What the core tells at each of (x, y, elapsed_ms, selector, fresh) since it was switched on."""
        given, told = numpy.array(steps, GIVEN), numpy.zeros(len(steps), TOLD)
        held = [ctypes.c_void_p(array.ctypes.data) for array in (given, told)]
        self._library.run(held[0], ctypes.c_uint32(len(steps)), held[1])
        return told

    @property
    def digest(self):
        self._library.drive_digest.restype = ctypes.c_uint32
        return self._library.drive_digest()

    def told_digest(self):
        signs = []
        self._library.drive_tell_digest(ctypes.CFUNCTYPE(None, ctypes.c_char)(signs.append))
        return b"".join(signs).decode()

    @property
    def state_size(self):
        return self._library.state_size()


@cache
def compiled(settings):
    return CompiledCore(settings)
