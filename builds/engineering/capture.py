"""Reads the log of a stick: readings of both axes, with marks that say what the hand did meanwhile.

A capture is plain text, one reading a line, `x,y` or `ms,x,y`, with commas or spaces, and marks on lines of their own:
`# rest`, `# forward`, `# back`, `# left`, `# right`, and optionally `# hold` and `# circle`. A mark holds for what
follows it. Lines that start with # before the first reading and are no mark are the heading of the file. Readings
before the first mark are kept and not used. What cannot be read is refused whole: half a log would fit half a stick.
"""

import re
from dataclasses import dataclass
from pathlib import Path

from builds.engineering import guards
from builds.engineering.finding import EngineeringError

REST, HOLD, CIRCLE = "rest", "hold", "circle"
PUSHES = ("forward", "back", "left", "right")
MARKS = (REST, *PUSHES, HOLD, CIRCLE)
FEWEST_BITS, MOST_BITS = 8, 16
USUAL_BITS = 10
LONGEST_S = 300  # five minutes
MOST_READINGS = LONGEST_S * 1000  # at 1 kHz
LARGEST_BYTES = 8_000_000  # as many lines of the longest kind, with room to spare
AGAIN = "Take the capture again"

_NUMBER = r"[-+]?[0-9]{1,12}(?:\.[0-9]{0,12})?"
# Commas on a line or none: "512,3 510" is no time with two readings but a decimal comma.
_READING = re.compile(
    rf"({_NUMBER})(?:[ \t]*(,)[ \t]*|[ \t]+)({_NUMBER})(?:(?(2)[ \t]*,[ \t]*|[ \t]+)({_NUMBER}))?"
)
_ORDER_MARKS = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))


@dataclass(frozen=True)
class Section:
    """What the hand did from one mark to the next: readings `start` up to, without, `end`."""

    mark: str
    start: int
    end: int


@dataclass(frozen=True, eq=False)
class Capture:
    """`xy` holds one row [counts, counts] a reading, `times_ms` their times, or None where the log has none."""

    xy: object
    times_ms: object
    sections: tuple
    adc_bits: int

    @property
    def full_scale(self):
        return 2**self.adc_bits - 1

    @property
    def half_range(self):
        return self.full_scale / 2

    def of(self, mark):
        """The sections of one mark that hold readings."""
        return [section for section in self.sections if section.mark == mark and section.end > section.start]


def capture_from(source, adc_bits=USUAL_BITS):
    """A capture from the path of a file, or from an open binary file.

    Parameters: source; adc_bits of the converter, 8 to 16 [bit]. Returns a Capture. Refused before it is read: a file
    of more than 8,000,000 bytes, and what is no file. Raises EngineeringError.
    """
    return read_capture(_bytes_of(source), adc_bits)


def read_capture(log, adc_bits=USUAL_BITS):
    """A capture from the text or the bytes of a log.

    Parameters: log, up to 8,000,000 bytes and 300,000 readings; adc_bits of the converter, 8 to 16 [bit]. Returns a
    Capture. Windows line ends, tabs and a byte-order mark are read. Refused, naming the line: what is no reading, a
    reading outside the converter's range, times that run backwards, a mark that nobody knows. Raises EngineeringError.

    >>> capture = read_capture("# rest\\n0,512,510\\n5,512,511\\n# forward\\n10,512,900\\n")
    >>> [(section.mark, section.end - section.start) for section in capture.sections]
    [('rest', 2), ('forward', 1)]
    """
    adc_bits = guards.whole("Bits of the converter", adc_bits, "bit", minimum=FEWEST_BITS, maximum=MOST_BITS)
    if adc_bits is None or log is None:
        raise EngineeringError(f"Enter {'the log of the stick' if log is None else 'the bits of the converter'}.")
    lines = text_of(log).replace("\r\n", "\n").replace("\r", "\n").split("\n")
    rows, row_lines, sections = _rows_and_sections(lines)
    times, xy = _numbers(rows)
    _refuse_range(xy, 2**adc_bits - 1, adc_bits, row_lines)
    _refuse_times(times, row_lines)
    return Capture(xy, times, sections, adc_bits)


def _bytes_of(source):
    if source is None:
        raise EngineeringError("Enter the capture.")
    if hasattr(source, "read"):
        refuse_size(getattr(source, "size", 0))
        return source.read(LARGEST_BYTES + 1)
    path = Path(source)
    try:
        if not path.is_file():  # a pipe or a device might never end
            raise OSError
        refuse_size(path.stat().st_size)
        with path.open("rb") as file:
            return file.read(LARGEST_BYTES + 1)
    except OSError as error:
        told = f"of {LARGEST_BYTES:,} bytes or fewer that can be read, not {_quoted(path.name)}"
        raise EngineeringError(f"Capture must be a file {told}.") from error


def refuse_size(size):
    """Refuses a file by its size [bytes], before anybody reads it. Raises EngineeringError."""
    if size > LARGEST_BYTES:
        raise EngineeringError(_too_large(size))


def _too_large(size):
    return (
        f"The capture must be {LARGEST_BYTES:,} bytes or fewer, not {size:,}. "
        f"{AGAIN}, {LONGEST_S // 60} minutes at the most, and log only the stick."
    )


def text_of(log):
    """The log as text, its heading among it. Raises EngineeringError."""
    if isinstance(log, str):
        refuse_size(len(log))
        text = log.removeprefix("\ufeff")
    else:
        refuse_size(len(log))
        coding = next((coding for mark, coding in _ORDER_MARKS if log.startswith(mark)), "utf-8")
        try:
            text = bytes(log).decode(coding)
        except ValueError:
            text = "\0"
    if "\0" in text:
        raise EngineeringError(
            "The capture is no plain text. Save the log of the serial monitor as text, not as a program or a picture "
            "of it, and send that."
        )
    return text


def _rows_and_sections(lines):
    """The groups of each reading, the line each stands on, and what the marks say of them."""
    rows, row_lines, starts = [], [], []
    match, fields = _READING.fullmatch, 0
    for number, raw in enumerate(lines, start=1):
        line = raw.strip()
        if not line:
            continue
        if line[0] == "#":
            mark = line.lstrip("# \t").rstrip(" \t:").lower()
            if mark in MARKS:
                starts.append((mark, len(rows)))
            elif rows or starts:
                raise EngineeringError(_strange_mark(number, line))
            continue
        found = match(line)
        if found is None:
            raise EngineeringError(_strange_line(number, line))
        row = found.group(1, 3, 4)
        count = 2 if row[2] is None else 3
        if fields and count != fields:
            raise EngineeringError(
                f"Line {number} of the capture has {count} numbers and the lines before it have {fields}. A line was "
                f"cut off or times stop: {_lower(AGAIN)} with the same numbers on every line."
            )
        fields = count
        rows.append(row)
        row_lines.append(number)
        if len(rows) > MOST_READINGS:
            raise EngineeringError(
                f"The capture must have {MOST_READINGS:,} readings or fewer. {AGAIN}: {LONGEST_S // 60} minutes at the "
                "most, 1,000 readings a second at the most."
            )
    if not rows:
        raise EngineeringError(f"The capture holds no readings. {AGAIN} and look that the log shows x,y on each line.")
    if not starts:
        raise EngineeringError(
            f"The capture has no marks. {AGAIN} with the lines {_listed(MARKS[:5])} before what the hand does."
        )
    ends = [start for _, start in starts[1:]] + [len(rows)]
    return rows, row_lines, tuple(Section(mark, at, end) for (mark, at), end in zip(starts, ends, strict=True))


def _numbers(rows):
    import numpy

    if rows[0][2] is None:
        return None, numpy.array([row[:2] for row in rows], dtype=float)
    table = numpy.array(rows, dtype=float)
    return table[:, 0], numpy.ascontiguousarray(table[:, 1:])


def _refuse_range(xy, full_scale, adc_bits, row_lines):
    """A reading that a converter of so many bits does not give."""
    low, high = xy.min(), xy.max()
    if low < 0 or high > full_scale:
        wrong = ((xy < 0) | (xy > full_scale)).any(axis=1).argmax()
        value = next(value for value in xy[wrong] if not 0 <= value <= full_scale)
        raise EngineeringError(
            f"Line {row_lines[wrong]} of the capture reads {value:g}, and a converter of {adc_bits} bits gives 0 to "
            f"{full_scale}. Say how many bits the converter has, or {_lower(AGAIN)}."
        )


def _refuse_times(times, row_lines):
    if times is None:
        return
    steps = times[1:] - times[:-1]
    if len(steps) and steps.min() < 0:
        at = int(steps.argmin()) + 1
        raise EngineeringError(
            f"Line {row_lines[at]} of the capture has the time {times[at]:g} ms after {times[at - 1]:g} ms: times run "
            f"backwards. The controller started again or two logs are in one file; {_lower(AGAIN)} in one go."
        )
    lasted = (times[-1] - times[0]) / 1000
    if lasted > LONGEST_S:
        raise EngineeringError(
            f"The capture lasts {lasted:.0f} s and must last {LONGEST_S} s or less. {AGAIN}, a few seconds a push."
        )


def _strange_line(number, line):
    told = f"Line {number} of the capture reads {_quoted(line)}"
    mixed = ";" in line or line.count(",") > 2 or re.search(r",.*[0-9][ \t]+[-0-9]|[0-9][ \t]+[-0-9].*,", line)
    if mixed and re.fullmatch(r"[-+0-9,.; \t]+", line):
        return (
            f"{told}: too many commas, or commas as decimals. Write x,y or ms,x,y with decimal points, one reading a "
            f"line, and {_lower(AGAIN)}."
        )
    if re.search(r"nan|inf", line, re.IGNORECASE):
        return f"{told}: that is no reading. Check the wires of the stick and {_lower(AGAIN)}."
    return f"{told}; it must be x,y or ms,x,y in numbers. Delete a line that was cut off, or {_lower(AGAIN)}."


def _strange_mark(number, line):
    return (
        f"Line {number} of the capture has the mark {_quoted(line)}. A mark is one of {_listed(MARKS)}: correct it, "
        f"or {_lower(AGAIN)}."
    )


def _listed(marks):
    return ", ".join(f"# {mark}" for mark in marks)


def _lower(words):
    return words[:1].lower() + words[1:]


def _quoted(line):
    text = "".join(sign if sign.isprintable() else "\ufffd" for sign in line)
    return f"\u201c{text[:30]}\u2026\u201d" if len(text) > 30 else f"\u201c{text}\u201d"
