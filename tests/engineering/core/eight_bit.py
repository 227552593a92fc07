"""Compiles the core for an 8-bit controller, runs it in a simulator, and tells what it answered and what it took.

By hand, `make core` prints the figures.
"""

import re
import subprocess
import tempfile
from dataclasses import dataclass
from pathlib import Path

from builds.engineering.drive_core import DriveCore
from builds.engineering.drive_header import CORE
from builds.engineering.drive_numbers import POSITION_BITS, drive_numbers, settings_digest
from tests.engineering.core.compiled import HERE, STRICT, compile_with
from tests.engineering.core.fits import FITS

PART, HERTZ = "atmega328p", 16_000_000
FOR_PART = (f"-mmcu={PART}", "-Os", "-ffunction-sections", "-Wl,--gc-sections")
POSITIONS, RESTING = 10_000, 40
MOST_CYCLES, MOST_CODE, MOST_STATE = 3000, 4096, 64
# Prints one of everything that a port calls, and nothing else, so that its size is the core's with what it links.
BARE = """#include "drive_core.h"
int main(void)
{
    static volatile uint8_t pins;
    drive_state state;
    drive_sample sample = {0, 0, 0, 0};
    drive_pulses pulses;

    drive_start(&state);
    for (;;) {
        sample.x = pins;
        drive_step(&state, &sample, pins, &pulses);
        pins = (uint8_t)(pulses.left_us + pulses.right_us + drive_digest());
    }
}
"""
NOTHING = "int main(void)\n{\n    for (;;) {\n    }\n}\n"


@dataclass(frozen=True)
class EightBit:
    digest: str
    answers: list  # (left and right settled, left and right of the step), one a position
    worst_cycles: int
    state_bytes: int
    code_bytes: int
    constant_bytes: int


def run_eight_bit(settings):
    with tempfile.TemporaryDirectory() as place:
        program = _compiled(settings, Path(place) / "core.elf", CORE / "drive_core.c", HERE / "eight_bit.c")
        command = ["simavr", "-m", PART, "-f", str(HERTZ), str(program)]
        done = subprocess.run(command, capture_output=True, text=True, timeout=300, check=False)
        code, constants = _sizes(settings, Path(place))
    lines = [re.sub(r"\x1b\[[0-9;]*m", "", line).strip(" .\r") for line in (done.stdout + done.stderr).splitlines()]
    digest = [line for line in lines if re.fullmatch(r"[0-9A-F]{4}-[0-9A-F]{4}", line)]
    answers = [tuple(int(line[at : at + 4], 16) for at in (0, 4, 8, 12)) for line in lines
               if re.fullmatch(r"[0-9A-F]{16}", line)]  # fmt: skip
    last = [int(line, 16) for line in lines if re.fullmatch(r"[0-9A-F]{4}", line)]
    assert len(digest) == 1 and len(last) == 2, done.stdout[-500:] + done.stderr[-500:]
    return EightBit(digest[0], answers, *last, code, constants)


def expected_answers(settings):
    """The same positions through the model."""
    core, seed, mask = DriveCore(drive_numbers(settings)), 20260131, settings.full_scale
    rest = [(centre << settings.adc_bits) >> POSITION_BITS for centre in (core.numbers.centre_x, core.numbers.centre_y)]
    answers = []
    for place in range(POSITIONS + RESTING):
        drawn = []
        for limit in (mask, mask, 7):
            seed = (seed * 1664525 + 1013904223) % 2**32
            drawn.append((seed >> 16) & limit)
        x, y, selector = drawn
        if place < RESTING:
            x, y = rest
        fresh = core.is_possible(x, y)
        step = core.step(x, y, selector=selector, fresh=fresh, elapsed_ms=settings.frame_ms)
        answers.append((*core.settled(x, y, selector), *step))
    return answers


def _compiled(settings, target, *sources):
    return compile_with(settings, target, *sources, compiler=("avr-gcc",), options=FOR_PART)


def _sizes(settings, place):
    """What the core and all that it links add to a program that does nothing: code, and memory beside the state."""
    sizes = []
    for name, text in (("bare", BARE), ("nothing", NOTHING)):
        source = place / f"{name}.c"
        source.write_text(text)
        program = _compiled(settings, place / f"{name}.elf", CORE / "drive_core.c", source)
        told = subprocess.run(["avr-size", program], capture_output=True, text=True, timeout=60, check=True).stdout
        sizes.append([int(number) for number in told.splitlines()[1].split()[:3]])
    (code, data, bss), (no_code, no_data, no_bss) = sizes
    return code + data - no_code - no_data, data + bss - no_data - no_bss - 1


def figures(name, settings, found):
    same = sum(mine == theirs for mine, theirs in zip(found.answers, expected_answers(settings), strict=True))
    return (
        f"{name:<14}{same:>7} of {len(found.answers)} answers alike{found.worst_cycles:>7} cycles, worst step"
        f"{found.code_bytes:>7} bytes of code{found.state_bytes:>4} bytes of state, {found.constant_bytes} of constants"
    )


def main():
    print(f"8-bit controller, {HERTZ // 10**6} MHz; limits {MOST_CYCLES} cycles, {MOST_CODE} and {MOST_STATE} bytes")
    print(f"compiled with {' '.join([*STRICT, *FOR_PART])}")
    held = True
    for name, settings in FITS.items():
        found = run_eight_bit(settings)
        print(figures(name, settings, found))
        held = held and found.digest == settings_digest(settings) and found.answers == expected_answers(settings)
        held = held and found.worst_cycles < MOST_CYCLES and found.code_bytes < MOST_CODE
        held = held and found.state_bytes < MOST_STATE
    return 0 if held else 1


if __name__ == "__main__":
    raise SystemExit(main())
