"""The core keeps to whole numbers, no heap, nothing of a library, and no type of unknown width."""

import re
import subprocess

import pytest

from builds.engineering.drive_header import CORE, drive_header
from tests.engineering.core.compiled import compile_with
from tests.engineering.core.fits import FITS, TWELVE_BITS

SOURCES = [CORE / "drive_core.c", CORE / "drive_core.h"]
FORBIDDEN = ("float", "double", "malloc", "calloc", "realloc", "free", "alloca", "int", "long", "short", "unsigned",
             "signed", "size_t", "goto")  # fmt: skip
FLOATING = re.compile(r"\b\d+\.\d|\b\d+[eE][-+]?\d|\d[fF]\b")


def bare(text):
    return re.sub(r"/\*.*?\*/", " ", text, flags=re.DOTALL)


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: path.name)
def test_no_floats_no_heap_no_type_of_unknown_width(path):
    text = bare(path.read_text())
    assert [word for word in FORBIDDEN if re.search(rf"\b{word}\b", text)] == []
    assert not FLOATING.search(text)
    assert set(re.findall(r"#include (\S+)", text)) <= {"<stdint.h>", '"drive_core.h"', '"drive_settings.h"'}


@pytest.mark.parametrize("fit", [*FITS.values(), TWELVE_BITS])
def test_no_floats_in_the_settings(fit):
    assert not FLOATING.search(re.sub(r"0x[0-9A-F]{8}\b", "", bare(drive_header(fit))))


def test_what_is_forbidden_would_be_seen():
    assert FLOATING.search("x * 0.5") and FLOATING.search("1e3") and FLOATING.search("3f")
    assert not FLOATING.search("UINT32_C(1) << 14")


def test_one_division_that_is_not_by_a_power_of_two():
    divisions = re.findall(r"[^/]([/%])\s*(\w+)", bare(SOURCES[0].read_text()))
    assert divisions == [("/", "2"), ("/", "larger")]


def test_the_object_calls_nothing_and_keeps_nothing(tmp_path):
    """No symbol that is defined elsewhere, and none in writable memory: all state is handed in."""
    options = ("-O2", "-c", "-ffreestanding", "-fno-stack-protector")
    target = compile_with(TWELVE_BITS, tmp_path / "core.o", CORE / "drive_core.c", options=options)
    symbols = subprocess.run(["nm", target], capture_output=True, text=True, timeout=60, check=True).stdout
    kinds = [line.split()[-2:] for line in symbols.splitlines()]
    assert [name for kind, name in kinds if kind.upper() in {"U", "D", "B", "C", "G", "S"}] == []
    assert "drive_step" in [name for kind, name in kinds if kind == "T"]


@pytest.mark.parametrize("name", ["drive_core.c", "drive_core.h", "port_example.c", "README.txt"])
def test_lines_fit_the_page(name):
    assert max(len(line) for line in (CORE / name).read_text().splitlines()) <= 120
