"""The header of settings and the archive: whole, refused when changed by hand, the same bytes each time."""

import re
import subprocess
from io import BytesIO
from zipfile import ZipFile

import pytest

from builds.engineering.drive_header import CORE, HEADER, drive_archive, drive_header
from builds.engineering.drive_numbers import CORE_VERSION, settings_digest
from builds.engineering.drive_settings import EXAMPLE
from tests.engineering.core.compiled import STRICT, compiled
from tests.engineering.core.fits import FITS, SIXTEEN_BITS, TWELVE_BITS


def preprocessed(place, header):
    """What the preprocessor says to the core with this header; empty when it takes it."""
    (place / HEADER).write_text(header)
    command = ["gcc", *STRICT, "-E", "-o", "/dev/null", f"-I{place}", f"-I{CORE}", str(CORE / "drive_core.c")]
    return subprocess.run(command, capture_output=True, text=True, timeout=60, check=False).stderr


@pytest.mark.parametrize("fit", [*FITS.values(), TWELVE_BITS, SIXTEEN_BITS])
def test_the_controller_prints_the_digest_of_the_record(fit):
    core = compiled(fit)
    assert core.told_digest() == settings_digest(fit)
    assert f"{core.digest:08X}" == settings_digest(fit).replace("-", "")


def test_a_number_that_was_changed_by_hand_does_not_compile(tmp_path):
    header = drive_header(FITS["turned"])
    assert preprocessed(tmp_path, header) == ""
    numbers = re.findall(r"^#define DRIVE_(?!CHECK|SETTINGS_VERSION)\w+ \(?-?(?:INT32_C\()?(\w+)", header, re.MULTILINE)
    assert len(numbers) == 41
    for match in re.finditer(r"^#define DRIVE_(?!CHECK)\w+ \(?-?(?:INT32_C\()?(\w+)", header, re.MULTILINE):
        other = str(int(match[1], 0) + 1)
        said = preprocessed(tmp_path, header[: match.start(1)] + other + header[match.end(1) :])
        assert "changed by hand" in said or "another version" in said


def test_a_header_for_another_core_does_not_compile(tmp_path):
    header = drive_header(EXAMPLE).replace(f"VERSION {CORE_VERSION}", f"VERSION {CORE_VERSION + 1}")
    assert "another version of the core" in preprocessed(tmp_path, header)


def test_the_version_in_the_core_is_that_of_the_numbers():
    assert f"#define DRIVE_CORE_VERSION {CORE_VERSION}\n" in (CORE / "drive_core.h").read_text()


@pytest.mark.parametrize("title", ["*/ int x;", "line\n#error", "??/", "a\\\nb", "\u202e\u00e9", "x" * 500])
def test_a_title_stays_in_its_comment(tmp_path, title):
    header = drive_header(EXAMPLE, title)
    assert preprocessed(tmp_path, header) == ""
    assert header.isascii()
    assert max(len(line) for line in header.splitlines()) <= 150
    assert header.count("*/") == drive_header(EXAMPLE).count("*/")


def test_the_archive_has_the_same_bytes_each_time_and_says_whose_it_is():
    archive = drive_archive(EXAMPLE, "Equipment 1042, configuration 3")
    assert archive == drive_archive(EXAMPLE, "Equipment 1042, configuration 3")
    with ZipFile(BytesIO(archive)) as opened:
        assert opened.testzip() is None
        names = ["README.txt", "drive_core.c", "drive_core.h", HEADER, "port_example.c"]
        assert opened.namelist() == [f"drive/{name}" for name in names]
        assert b"Equipment 1042, configuration 3" in opened.read(f"drive/{HEADER}")
        assert settings_digest(EXAMPLE).encode() in opened.read(f"drive/{HEADER}")


def test_the_archive_compiles_as_it_is(tmp_path):
    with ZipFile(BytesIO(drive_archive(TWELVE_BITS))) as opened:
        opened.extractall(tmp_path)
    for name in ("drive_core.c", "port_example.c"):
        command = ["gcc", *STRICT, "-O2", "-c", str(tmp_path / "drive" / name), "-o", str(tmp_path / "object")]
        done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
        assert (done.returncode, done.stderr) == (0, "")
