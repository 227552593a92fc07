"""The drive core in whole numbers: what the controller does, bit for bit, step by step.

The same as `core/drive_core.c`, name by name; the tests compile that and compare.
"""

from dataclasses import dataclass

from builds.engineering.drive_numbers import (
    FULL,
    FULL_BITS,
    GAIN_BITS,
    POSITION_BITS,
    SHARE_BITS,
    TURN_BITS,
)

WAITING, ARMED, LATCHED = 0, 1, 2
NO_POSITION = 255
LONGEST_MS = 2**16 - 1


@dataclass(frozen=True)
class Push:
    """A push of the stick as commands of its axes; full is 2^15, right and forward are positive."""

    turn: int
    drive: int
    at_rest: bool


class DriveCore:
    """A controller with these DriveNumbers, just switched on."""

    def __init__(self, numbers):
        self.numbers = numbers
        self.age_ms = self.credit_ms = 0
        self.ceiling = numbers.ceiling_slowest
        self._halt(WAITING)

    def step(self, x, y, *, selector=NO_POSITION, fresh=True, elapsed_ms):
        """One step: readings, position of the selector, time since the step before. Returns both pulses [µs]."""
        if self.stage != LATCHED:
            self._follow(x, y, selector, fresh, elapsed_ms)
        return self.pulses(self.turn, self.drive, self.ceiling)

    def settled(self, x, y, selector=NO_POSITION):
        """Both pulses [µs] for a stick that is held there until nothing changes any more."""
        push = self.read_push(x, y)
        return self.pulses(push.turn, push.drive, self.ceiling_at(selector))

    def is_possible(self, x, y):
        low, high = self.numbers.band_low, self.numbers.band_high
        return low <= x <= high and low <= y <= high

    def read_push(self, x, y):
        own = self.numbers
        step_x, step_y = self._position(x) - own.centre_x, self._position(y) - own.centre_y
        right = _turned(step_x, own.right_from_x, step_y, own.right_from_y)
        forward = _turned(step_x, own.forward_from_x, step_y, own.forward_from_y)
        if right < 0:
            turn = -self._command(-right, own.throw_left, own.gain_left, own.turn_gain)
        else:
            turn = self._command(right, own.throw_right, own.gain_right, own.turn_gain)
        if forward < 0:
            drive = -self._command(-forward, own.throw_back, own.gain_back, own.reverse_gain)
        else:
            drive = self._command(forward, own.throw_forward, own.gain_forward, FULL)
        return Push(turn, drive, abs(right) <= own.deadband and abs(forward) <= own.deadband)

    def _position(self, reading):
        return (reading << POSITION_BITS) >> self.numbers.adc_bits

    def ceiling_at(self, selector):
        own = self.numbers
        if own.has_selector and selector < own.ceiling_count:
            return own.ceilings[selector]
        return own.ceiling_slowest

    def pulses(self, turn, drive, ceiling):
        own, left, right = self.numbers, drive + turn, drive - turn
        left_size, right_size = abs(left), abs(right)
        if left_size > FULL and left_size >= right_size:
            left_size, right_size = FULL, _brought_down(right_size, left_size)
        elif right_size > FULL:
            left_size, right_size = _brought_down(left_size, right_size), FULL
        return (
            self._pulse(left_size, (left < 0) != own.inverted_left, ceiling, own.neutral_left_us),
            self._pulse(right_size, (right < 0) != own.inverted_right, ceiling, own.neutral_right_us),
        )

    def _pulse(self, size, shorter, ceiling, neutral_us):
        span = _nearest(((size * ceiling) >> FULL_BITS) * self.numbers.span_us, FULL_BITS)
        return neutral_us - span if shorter else neutral_us + span

    def _command(self, size, throw, gain, share):
        """Nothing within the deadband, full from the throw on."""
        if size <= self.numbers.deadband:
            return 0
        command = FULL if size >= throw else _nearest((size - self.numbers.deadband) * gain, GAIN_BITS)
        return (self._shaped(command) * share) >> FULL_BITS

    def _shaped(self, command):
        cubed = (((command * command) >> FULL_BITS) * command) >> FULL_BITS
        return _nearest((FULL - self.numbers.expo) * command + self.numbers.expo * cubed, FULL_BITS)

    def _follow(self, x, y, selector, fresh, elapsed_ms):
        self.age_ms = min(self.age_ms + elapsed_ms, LONGEST_MS)
        self.credit_ms = min(self.credit_ms + elapsed_ms, LONGEST_MS)
        if self.age_ms > self.numbers.late_ms:
            self._halt(WAITING)
            self.credit_ms = 0
        self.ceiling = min(self.ceiling, self.ceiling_at(selector))
        if not fresh:
            return
        if not self.is_possible(x, y):
            self._halt(LATCHED)
            return
        self.age_ms = 0
        frames, self.credit_ms = divmod(self.credit_ms, self.numbers.frame_ms)
        push = self.read_push(x, y)
        if push.at_rest:
            # A faster ceiling waits for rest, so that nothing speeds up under a held stick.
            self.ceiling = self.ceiling_at(selector)
        if self.stage == ARMED:
            self.turn = self._moved(self.turn, push.turn, frames)
            self.drive = self._moved(self.drive, push.drive, frames)
        else:
            self._wait_for_rest(push.at_rest, elapsed_ms)

    def _wait_for_rest(self, at_rest, elapsed_ms):
        self.rest_ms = min(self.rest_ms + elapsed_ms, LONGEST_MS) if at_rest and self.resting else 0
        self.resting = at_rest
        if self.rest_ms >= self.numbers.rest_ms:
            self.stage = ARMED

    def _halt(self, stage):
        self.turn = self.drive = self.rest_ms = 0
        self.resting, self.stage = False, stage

    def _moved(self, now, target, frames):
        """Neither smoothing nor a slow fall delays a stop: nothing at once within the deadband, and on crossing.

        A fall makes up for every frame since the reading before; a rise takes one frame a step, however late it comes.
        """
        if target == 0:
            return 0
        to, size = abs(target), abs(now) if (now < 0) == (target < 0) else 0
        while frames > 0 and size != to:
            step = max(_nearest(abs(to - size) * self.numbers.smoothing, SHARE_BITS), 1)
            size = size + min(step, self.numbers.rise) if size < to else size - min(step, self.numbers.fall)
            frames = frames - 1 if size > to else 0
        return -size if target < 0 else size


def _nearest(value, bits):
    """A value of 0 or more over 2^bits, halves up."""
    return (value + (1 << (bits - 1))) >> bits


def _turned(x, from_x, y, from_y):
    total = x * from_x + y * from_y
    size = _nearest(abs(total), TURN_BITS)
    return -size if total < 0 else size


def _brought_down(lesser, larger):
    return (lesser * FULL + larger // 2) // larger

