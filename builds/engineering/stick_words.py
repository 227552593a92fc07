"""What the results of a stick fit mean at the bench, in plain sentences, and what differs between two fits."""

from dataclasses import dataclass

from builds.engineering.capture import PUSHES
from builds.engineering.finding import CHECK, FITS, STOP, UNKNOWN, plain
from builds.engineering.stick_maths import gain_of

# (result, its finding, unit, what two captures of one untouched stick may differ: in the unit; counts: share of half
# range): common practice, no source.
COMPARED = (
    ("centre_x", "rest centre x", "counts", 0.01), ("centre_y", "rest centre y", "counts", 0.01),
    ("noise", "noise at rest", "counts", 0.004), ("return_spread", "return to rest", "counts", 0.01),
    ("deadband", "deadband", "counts", 0.01),
    *((f"throw_{mark}", f"throw {mark}", "counts", 0.03) for mark in PUSHES),
    ("rotation_deg", "turn of the stick", "\u00b0", 2.0), ("mirrored", "mirrored", "", 0.0),
    ("tremor_hz", "tremor", "Hz", 0.3), ("cutoff_hz", "smoothing", "Hz", 0.15),
    ("lag_ms", "lag of the smoothing", "ms", 5.0),
)  # fmt: skip
OF_HALF_RANGE = "% of half range"


@dataclass(frozen=True)
class Difference:
    """`before` and `after` as read, in `unit`; `change` is after less before, or None where it is no number."""

    name: str
    before: float | str | None
    after: float | str | None
    change: float | None
    unit: str
    words: str
    moved: bool


def at_the_bench(fit):
    """{name of a finding: a sentence on what it means at the bench} of every finding of a fit."""
    return {finding.name: _sentence(finding, fit) for finding in fit.findings}


def differences(before, after):
    """What differs between two fits of one stick: as found and as left, or last visit and now.

    Parameters: before, after: StickFits [counts, deg, Hz, ms]. Returns a Difference of each result. With converters of
    different bits, counts are compared in percent of half range. What two captures of one untouched stick may differ
    is called the same: common practice.

    >>> from builds.engineering.stick_fit import StickFit
    >>> found = StickFit(512, 510, 1, 2, 0, False, 11, 300, 300, 300, 300, None, None, None, 10)
    >>> left = StickFit(512, 510, 1, 2, 90, False, 11, 300, 300, 240, 300, None, None, None, 10)
    >>> [told.words for told in differences(found, left) if told.moved]
    ['throw left is 60 counts less', 'turn of the stick is 90 \u00b0 more']
    """
    halves = [(2**fit.adc_bits - 1) / 2 for fit in (before, after)]
    alike = halves[0] == halves[1]
    told = []
    for key, name, unit, same in COMPARED:
        values = [getattr(fit, key) for fit in (before, after)]
        if unit == "counts" and alike:
            same *= halves[0]
        elif unit == "counts":
            unit, same = OF_HALF_RANGE, same * 100
            values = [None if v is None else 100 * v / half for v, half in zip(values, halves, strict=True)]
        told.append(_difference(name, *values, unit, same))
    return tuple(told)


def _difference(name, first, second, unit, same):
    if isinstance(first, bool):
        first, second = ("yes" if value else "no" for value in (first, second))
        words = f"{name}: {first} as before" if first == second else f"{name} was {first} and is {second}"
        return Difference(name, first, second, None, unit, words, first != second)
    if first is None or second is None:
        if first is None and second is None:
            return Difference(name, None, None, None, unit, f"{name}: unknown in both", False)
        what, known = ("is unknown now and was", first) if second is None else ("was unknown and is", second)
        return Difference(name, first, second, None, unit, f"{name} {what} {plain(known, 3)} {unit}".rstrip(), True)
    change = second - first
    if unit == "\u00b0":
        change = (change + 180) % 360 - 180  # the short way round
    if abs(change) <= same:
        words = f"{name} is the same within {plain(same, 2)} {unit}"
        return Difference(name, first, second, change, unit, words, False)
    words = f"{name} is {plain(abs(change), 3)} {unit} {'more' if change > 0 else 'less'}"
    return Difference(name, first, second, change, unit, words, True)


def _sentence(finding, fit):
    if finding.name.startswith("throw "):
        return _throw(finding, finding.name.removeprefix("throw "), fit)
    return _SENTENCES[finding.name](finding, fit)


def _centre(finding, fit):
    axis = finding.name[-1]
    if finding.verdict == FITS:
        return f"Hands off, {axis} reads {finding.shown}; the controller takes that as zero."
    return (
        f"Hands off, {axis} reads {finding.shown}, far from the middle: one way has little travel before the rail. "
        "Look whether the stick is trimmed over, bent, or wired to the wrong supply."
    )


def _noise(finding, fit):
    if finding.verdict == FITS:
        return f"Untouched, readings flicker by about {finding.shown} counts; the deadband hides that."
    return "Untouched, readings flicker too much: look for a loose wire, or a motor lead beside the stick's."


def _return(finding, fit):
    if finding.verdict == UNKNOWN:
        return "Nobody saw the stick come back after a push. Take a capture with # rest after each push."
    if finding.verdict == FITS:
        return f"Let go, the stick comes back to within {finding.shown} counts of the same place."
    return f"Let go, the stick stays up to {finding.shown} counts off: clean it, or look what rubs on it."


def _deadband(finding, fit):
    if finding.verdict == STOP:
        return "The deadband eats more than half of the smallest push: nobody can steer that finely. Do not use it."
    return f"Within {finding.shown} counts of rest, nothing moves."


def _neutral(finding, fit):
    if finding.verdict == STOP:
        return (
            f"{finding.shown} readings at rest would have moved the wheels: the cart may creep. Look for a loose wire, "
            "keep hands off after # rest, and take the capture again."
        )
    if finding.verdict == UNKNOWN:
        return "Every reading at rest is neutral, but only from before the pushes; rest after a push was not seen."
    return "Every settled reading at rest commands exactly neutral."


def _turn(finding, fit):
    shown = plain(abs(fit.rotation_deg), 3)
    if abs(fit.rotation_deg) < 0.5:
        return "The stick stands straight."
    way = "anticlockwise" if fit.rotation_deg > 0 else "clockwise"
    return f"Seen from above, the base is turned {shown}\u00b0 {way}; the fit turns it back. Swap no wires for it."


def _mirror(finding, fit):
    if finding.verdict == CHECK:
        return (
            "The pushes come out mirrored. Turning a mount never does that: two wires are crossed, or two marks of "
            "the capture are swapped. Find which before you drive; the wheels-up run decides."
        )
    return "Left and right are on their sides."


def _askew(finding, fit):
    if finding.verdict == FITS:
        return "The four pushes stand at right angles."
    return "One push points well off its direction: the hand pulls that way, or it was not the push its mark says."


def _throw(finding, mark, fit):
    share = plain(100 * getattr(fit, f"throw_{mark}") / ((2**fit.adc_bits - 1) / 2), 2)
    if finding.verdict == FITS:
        return f"This hand pushes {mark} over {share} % of half range; that becomes full speed."
    return (
        f"This hand pushes {mark} over only {share} % of half range: the drive will be touchy that way. Look whether "
        "the stick can come closer or move more easily."
    )


def _tremor(finding, fit):
    if finding.verdict == UNKNOWN:
        return f"How much the hand trembles is not known; nothing is smoothed. To know it, take {finding.missing}."
    if fit.tremor_hz is None:
        return "No tremor stands out while holding; nothing is smoothed."
    return f"While holding, the hand trembles about {finding.shown} times a second."


def _smoothing(finding, fit):
    if finding.verdict == UNKNOWN:
        return "Nothing is smoothed."
    share = plain(100 * gain_of(fit.tremor_hz, fit.cutoff_hz), 2)
    return f"Smoothing lets {share} % of the trembling through to the wheels."


def _lag(finding, fit):
    if finding.verdict == FITS:
        return f"The cart answers {finding.shown} ms later. A stop is never delayed: rest is neutral at once."
    return (
        f"The cart answers {finding.shown} ms later, which is felt in turns. A stop is never delayed: rest is neutral "
        "at once. Try a heavier stick or a rest for the wrist first."
    )


def _gap(finding, fit):
    if finding.verdict == FITS:
        return "The log has no holes."
    return f"The log has a hole of {finding.shown} s; what happened in it is not known."


_SENTENCES = {
    "rest centre x": _centre, "rest centre y": _centre, "noise at rest": _noise, "return to rest": _return,
    "deadband": _deadband, "neutral at rest": _neutral, "turn of the stick": _turn, "mirrored": _mirror,
    "pushes askew": _askew, "tremor": _tremor, "smoothing": _smoothing, "lag of the smoothing": _lag,
    "gap in the log": _gap,
}  # fmt: skip
