"""The settings of a drive as a C99 header, and everything that goes to the controller as one archive."""

from dataclasses import fields
from io import BytesIO
from pathlib import Path
from zipfile import ZIP_STORED, ZipFile, ZipInfo

from builds.engineering.drive_numbers import drive_numbers, settings_digest
from builds.engineering.finding import plain

CORE = Path(__file__).with_name("core")
CORE_FILES = ("README.txt", "drive_core.c", "drive_core.h", "port_example.c")
HEADER = "drive_settings.h"
WIDE = ("gain_",)
CHECK_STEP, CHECK_SIZE = 69069, 2**31 - 1  # every step stays far below 2^63
LONGEST_TITLE = 100
UNITS = {
    "adc_bits": "bits of the converter", "centre_x": "rest, readings brought to 15 bits",
    "right_from_x": "turn of the stick, 2^14 is 1", "deadband": "brought to 15 bits, on each axis after the turn",
    "throw_forward": "full command from here on, brought to 15 bits", "gain_forward": "2^31 over throw less deadband",
    "band_low": "readings beyond mean a broken wire", "expo": "2^15 is wholly cubed", "turn_gain": "2^15 is 1",
    "smoothing": "share of the way in a frame, 2^16 is all", "rise": "most in a frame, 2^15 is full",
    "fall": "most in a frame while the stick is eased", "ceiling_0": "2^15 is full",
    "neutral_left_us": "microseconds", "frame_ms": "milliseconds",
}  # fmt: skip


def drive_header(settings, title=""):
    """The header `drive_settings.h` for the drive core.

    Each number is a macro; a check over all of them lets the core refuse to compile a header that was changed by hand.
    Parameters: settings: a DriveSettings [-]; title: one line that says whose they are, up to 100 characters, such as
    the equipment number and the configuration [-]. Returns text [-]. Source: definition.

    >>> from builds.engineering.drive_settings import EXAMPLE
    >>> print(drive_header(EXAMPLE, "Equipment 1042, configuration 3").splitlines()[0])
    /* Equipment 1042, configuration 3. Settings 2BAD-1EF0.
    """
    digest, numbers = settings_digest(settings), drive_numbers(settings)
    values = [(field.name, getattr(numbers, field.name)) for field in fields(numbers)]
    values[0] = ("settings_version", numbers.core_version)
    number = int(digest.replace("-", ""), 16)
    check = _check([number, *(value for _, value in values)])
    lines = [
        f"/* {_title(title)}Settings {digest}.",
        " * Made from the record. Never edit it: change the record, and take the archive anew.",
        *(f" * {line}" for line in _told(settings)),
        " */",
        "#ifndef DRIVE_SETTINGS_H",
        "#define DRIVE_SETTINGS_H",
        "",
        "#include <stdint.h>",
        "",
        f"#define DRIVE_DIGEST 0x{number:08X}",
        *(_define(name, value) for name, value in values),
        "",
        f"#define DRIVE_CHECK ({check})",
        f"/* The numbers in a row, each added to the ones before times {CHECK_STEP}, modulo {CHECK_SIZE}. */",
        "#define DRIVE_CHECK_COMPUTED \\",
        *_check_lines(["digest", *(name for name, _ in values)]),
        "",
        "#endif",
    ]
    return "\n".join(lines) + "\n"


def drive_archive(settings, title=""):
    """The core, its header of settings, an example of a port and a README, as one zip file.

    The same settings and title give the same bytes. Parameters: settings: a DriveSettings [-]; title: as for
    `drive_header` [-]. Returns bytes [-]. Source: definition.

    >>> from builds.engineering.drive_settings import EXAMPLE
    >>> drive_archive(EXAMPLE)[:2]
    b'PK'
    """
    files = {name: (CORE / name).read_text(encoding="utf-8") for name in CORE_FILES}
    files[HEADER] = drive_header(settings, title)
    held = BytesIO()
    with ZipFile(held, "w", ZIP_STORED) as archive:
        for name in sorted(files):
            entry = ZipInfo(f"drive/{name}", date_time=(1980, 1, 1, 0, 0, 0))
            entry.external_attr, entry.create_system = 0o644 << 16, 3
            archive.writestr(entry, files[name])
    return held.getvalue()


def _define(name, value):
    text = f"INT32_C({abs(value)})" if name.startswith(WIDE) else f"{abs(value)}"
    text = f"(-{text})" if value < 0 else text
    unit = f" /* {UNITS[name]} */" if name in UNITS else ""
    return f"#define DRIVE_{name.upper()} {text}{unit}"


def _check(values):
    """As the preprocessor counts: what is left of a negative number is negative."""
    total = 0
    for value in values:
        total = total * CHECK_STEP + value
        total = total % CHECK_SIZE if total >= 0 else -(-total % CHECK_SIZE)
    return total


def _check_lines(names):
    """The same sum for the preprocessor; a compiler may stop at 63 nested parentheses."""
    macros = [f"DRIVE_{name.upper()}" for name in names]
    steps = [f"    * {CHECK_STEP} + {macro}) % {CHECK_SIZE}" for macro in macros]
    steps[0] = f"    {'(' * len(macros)}{macros[0]}) % {CHECK_SIZE}"
    return [*(f"{step} \\" for step in steps[:-1]), steps[-1]]


def _title(title):
    """One line of plain signs that cannot end the comment it stands in."""
    line = "".join(sign if sign.isascii() and sign.isprintable() and sign not in "*/\\?" else " " for sign in title)
    line = " ".join(line.split())[:LONGEST_TITLE].rstrip(". ")
    return f"{line}. " if line else ""


def _plain(number):
    return plain(number, 6)


def _told(settings):
    """The record's own numbers, for whoever reads the header."""
    smoothing = "none" if settings.cutoff_hz is None else f"cut-off {_plain(settings.cutoff_hz)} Hz"
    mirrored = "mirrored" if settings.mirrored else "not mirrored"
    return (
        f"Stick: rest {_plain(settings.centre_x)}, {_plain(settings.centre_y)}; turned {_plain(settings.rotation_deg)} "
        f"degrees anticlockwise, {mirrored}; deadband {_plain(settings.deadband)}.",
        f"Throws: forward {_plain(settings.throw_forward)}, back {_plain(settings.throw_back)}, "
        f"left {_plain(settings.throw_left)}, right {_plain(settings.throw_right)}. Smoothing: {smoothing}.",
        f"Ceilings: {', '.join(_plain(share) for share in settings.ceilings)} of full; "
        f"selector {'fitted' if settings.has_selector else 'not fitted: the slowest holds'}.",
        f"Neutral within {settings.neutral_within_ms} ms without readings; armed after {settings.rest_ms} ms of rest.",
    )
