"""What the fit of a stick says: each result with its limit, its verdict and its working."""

from builds.engineering.finding import CHECK, COMMON_PRACTICE, FITS, STOP, Finding, plain, shown_inputs, unknown
from builds.engineering.stick_maths import MAD_SOURCE, PROCRUSTES, SMOOTHING_SOURCE, TREMOR_SOURCE, gain_of
from builds.engineering.stick_refusals import LEAST_THROW

# Common practice, no source. Shares of half the converter's range:
SMALL_THROW = 0.25
LARGEST_NOISE = 0.01
LARGEST_RETURN_SPREAD = 0.05  # beyond it the stick is worn or something rubs
OFF_CENTRE = 0.25
LARGEST_DEADBAND_OF_THROW = 0.5
CROOKED_DEG = 20.0
LONGEST_LAG_MS = 100.0
LARGEST_GAP_S = 0.25


def rest_findings(rest, deadband, smallest_throw, half):
    """What the rest says: where it is, how still, whether it comes back, and whether the deadband holds it."""
    return (
        *(_centre_finding(axis, value, half) for axis, value in zip("xy", rest.centre, strict=True)),
        _noise_finding(rest.noise, half),
        _spread_finding(rest.spread, half),
        _deadband_finding(deadband, rest, smallest_throw, half),
        _neutral_finding(rest, deadband),
    )


def push_findings(rotation, mirrored, off, throws, half):
    """What the pushes say: turn, mirror, how straight they are, and how far each goes."""
    return (
        _turn_finding(rotation),
        _mirror_finding(mirrored),
        _crooked_finding(off),
        *(_throw_finding(mark, throw, half) for mark, throw in throws.items()),
    )


def _centre_finding(axis, value, half):
    away = abs(value - half)
    limit = f"{plain(half * (1 - OFF_CENTRE))} to {plain(half * (1 + OFF_CENTRE))}"
    verdict = FITS if away <= OFF_CENTRE * half else CHECK
    return Finding(f"rest centre {axis}", value, "counts", limit, verdict, "median of the readings at rest",
                   COMMON_PRACTICE)  # fmt: skip


def _noise_finding(noise, half):
    limit = LARGEST_NOISE * half
    formula = "1.4826 times the median absolute deviation of the rest, of the larger axis; at most 1 % of half range"
    return Finding("noise at rest", noise, "counts", limit, FITS if noise <= limit else CHECK, formula, MAD_SOURCE)


def _spread_finding(spread, half):
    limit = LARGEST_RETURN_SPREAD * half
    formula = "distance between the medians of the two rests furthest apart; at most 5 % of half range"
    if spread is None:
        lacks = "a rest after a push: whether the stick comes back was not seen"
        return unknown("return to rest", lacks, unit="counts", limit=limit, formula=formula, source=COMMON_PRACTICE)
    verdict = FITS if spread <= limit else CHECK
    return Finding("return to rest", spread, "counts", limit, verdict, formula, COMMON_PRACTICE)


def _deadband_finding(deadband, rest, smallest_throw, half):
    limit = LARGEST_DEADBAND_OF_THROW * smallest_throw
    formula = (
        "the larger of 2 % of half range, and 5 times the noise (with 0.74 counts that rounding can hide) plus the "
        "return spread; at most half of the smallest throw"
    )
    inputs = shown_inputs(half_range=(half, "counts"), noise=(rest.noise, "counts"),
                          return_spread=(rest.spread, "counts"))  # fmt: skip
    verdict = FITS if deadband <= limit else STOP
    return Finding("deadband", deadband, "counts", limit, verdict, formula, COMMON_PRACTICE, inputs)


def _neutral_finding(rest, deadband):
    """The proof that rest means neutral: not one reading of the settled rests beyond the deadband."""
    outside = rest.outside(deadband)
    formula = "settled readings at rest beyond the deadband; none may be"
    inputs = shown_inputs(readings_at_rest=(len(rest.readings), ""), deadband=(deadband, "counts"))
    if rest.spread is None and not outside:
        lacks = "a rest after a push"
        return unknown("neutral at rest", lacks, limit=0, formula=formula, source="definition", inputs=inputs)
    return Finding("neutral at rest", outside, "", 0, STOP if outside else FITS, formula, "definition", inputs)


def _turn_finding(rotation):
    formula = (
        "anticlockwise turn of the stick's base that explains the four pushes best; at 90\u00b0 a forward push reads +x"
    )
    return Finding("turn of the stick", rotation, "\u00b0", None, FITS, formula, PROCRUSTES)


def _mirror_finding(mirrored):
    formula = "no turn alone explains the pushes: wires are crossed or marks swapped; turning a mount never mirrors"
    if not mirrored:
        return Finding("mirrored", "no", "", "no", FITS, "a turn alone explains the pushes", PROCRUSTES)
    return Finding("mirrored", "yes", "", "no", CHECK, f"{formula}; the wheels-up run decides", PROCRUSTES)


def _crooked_finding(off):
    most = max(off.values())
    formula = "largest angle between a push and where the fitted turn puts it"
    inputs = shown_inputs(**{mark: (angle, "\u00b0") for mark, angle in off.items()})
    verdict = FITS if most <= CROOKED_DEG else CHECK
    return Finding("pushes askew", most, "\u00b0", CROOKED_DEG, verdict, formula, COMMON_PRACTICE, inputs)


def _throw_finding(mark, throw, half):
    formula = "distance from the rest centre to the median of the held push; from 12 % of half range, small below 25 %"
    inputs = shown_inputs(share_of_half_range=(100 * throw / half, "%"))
    verdict = FITS if throw >= SMALL_THROW * half else CHECK
    return Finding(f"throw {mark}", throw, "counts", LEAST_THROW * half, verdict, formula, COMMON_PRACTICE, inputs)


def tremor_findings(tremor, cutoff, lag, lacking):
    formula = "frequency of the peak from 2 to 12 Hz in the spectrum of both axes during the hold"
    if lacking:
        return (
            unknown("tremor", lacking, unit="Hz", limit="2 to 12", formula=formula, source=TREMOR_SOURCE),
            unknown("smoothing", "the tremor; without it nothing is smoothed", unit="Hz",
                    formula="half the frequency of the tremor", source=COMMON_PRACTICE),
        )  # fmt: skip
    if tremor is None:
        return (Finding("tremor", "none stands out", "", "2 to 12 Hz", FITS, f"{formula}; nothing is smoothed",
                        TREMOR_SOURCE),)  # fmt: skip
    passed = shown_inputs(lets_through_of_the_tremor=(100 * gain_of(tremor, cutoff), "%"))
    return (
        Finding("tremor", tremor, "Hz", "2 to 12", FITS, formula, TREMOR_SOURCE),
        Finding("smoothing", cutoff, "Hz", None, FITS, "half the frequency of the tremor", COMMON_PRACTICE, passed),
        Finding("lag of the smoothing", lag, "ms", LONGEST_LAG_MS, FITS if lag <= LONGEST_LAG_MS else CHECK,
                "1000 over 2 pi times the cutoff; a stop is never delayed by it", SMOOTHING_SOURCE),
    )  # fmt: skip


def gap_findings(widest_s):
    """The longest pause of the log within a mark; None where it has no times."""
    if widest_s is None:
        return ()
    verdict = FITS if widest_s <= LARGEST_GAP_S else CHECK
    formula = "longest time between two readings of one mark"
    return (Finding("gap in the log", widest_s, "s", LARGEST_GAP_S, verdict, formula, COMMON_PRACTICE),)
