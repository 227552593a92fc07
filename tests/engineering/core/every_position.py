"""The settled map of the Python model over many positions at once, in NumPy; tested equal to the model itself."""

import numpy

from builds.engineering.drive_numbers import FULL, FULL_BITS, GAIN_BITS, POSITION_BITS, TURN_BITS

SLICE = 2**15  # stays in the processor's cache


def pushes(numbers, first, count):
    """Commands of both axes and the kind (1 at rest, 2 possible) of positions x + y * 2^bits, counted from `first`."""
    place = numpy.arange(first, first + count, dtype=numpy.int64)
    x, y = place & ((1 << numbers.adc_bits) - 1), place >> numbers.adc_bits
    step_x, step_y = (
        ((reading << POSITION_BITS) >> numbers.adc_bits) - centre
        for reading, centre in ((x, numbers.centre_x), (y, numbers.centre_y))
    )
    right = _turned(step_x * numbers.right_from_x + step_y * numbers.right_from_y)
    forward = _turned(step_x * numbers.forward_from_x + step_y * numbers.forward_from_y)
    turn = _command(numbers, right, ("right", numbers.turn_gain), ("left", numbers.turn_gain))
    drive = _command(numbers, forward, ("forward", FULL), ("back", numbers.reverse_gain))
    at_rest = (abs(right) <= numbers.deadband) & (abs(forward) <= numbers.deadband)
    possible = numpy.ones(count, bool)
    for reading in (x, y):
        possible &= (reading >= numbers.band_low) & (reading <= numbers.band_high)
    return turn, drive, at_rest + 2 * possible


def pulses(numbers, turn, drive, ceiling):
    left, right = drive + turn, drive - turn
    larger = numpy.maximum(numpy.maximum(abs(left), abs(right)), FULL)
    return tuple(
        _pulse(numbers, wheel, (abs(wheel) * FULL + larger // 2) // larger, ceiling, side)
        for wheel, side in ((left, "left"), (right, "right"))
    )


def settled(numbers, selector_ceilings, first, count):
    """For each ceiling both pulses, and once the kinds: arrays over the positions."""
    lefts, rights = ([numpy.empty(count, numpy.uint16) for _ in selector_ceilings] for _ in "lr")
    kinds = numpy.empty(count, numpy.uint8)
    for start in range(0, count, SLICE):
        part = slice(start, min(start + SLICE, count))
        turn, drive, kinds[part] = pushes(numbers, first + start, part.stop - start)
        for left, right, ceiling in zip(lefts, rights, selector_ceilings, strict=True):
            left[part], right[part] = pulses(numbers, turn, drive, ceiling)
    return lefts, rights, kinds


def _turned(total):
    size = (abs(total) + (1 << (TURN_BITS - 1))) >> TURN_BITS
    return numpy.where(total < 0, -size, size)


def _command(numbers, way, high, low):
    size = abs(way)
    result = numpy.zeros_like(size)
    for (name, share), side in ((high, way >= 0), (low, way < 0)):
        gain, throw = getattr(numbers, f"gain_{name}"), getattr(numbers, f"throw_{name}")
        command = ((size - numbers.deadband) * gain + (1 << (GAIN_BITS - 1))) >> GAIN_BITS
        command = numpy.where(size >= throw, FULL, command)
        cubed = (((command * command) >> FULL_BITS) * command) >> FULL_BITS
        shaped = (FULL - numbers.expo) * command + numbers.expo * cubed + (1 << (FULL_BITS - 1))
        result = numpy.where(side, ((shaped >> FULL_BITS) * share) >> FULL_BITS, result)
    result = numpy.where(size <= numbers.deadband, 0, result)
    return numpy.where(way < 0, -result, result)


def _pulse(numbers, wheel, size, ceiling, side):
    span = (((size * ceiling) >> FULL_BITS) * numbers.span_us + (1 << (FULL_BITS - 1))) >> FULL_BITS
    shorter = (wheel < 0) != bool(getattr(numbers, f"inverted_{side}"))
    neutral = getattr(numbers, f"neutral_{side}_us")
    return numpy.where(shorter, neutral - span, neutral + span)
