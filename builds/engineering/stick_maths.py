"""The mathematics of a stick fit: spread without spikes, turn and mirror, tremor, and what smoothing costs."""

from math import atan2, cos, degrees, pi, radians, sin, sqrt

# 1. Normal distribution: sigma is the median absolute deviation over its upper quartile, scipy.stats documentation.
SIGMA_PER_MAD = 1.482602218505602
MAD_SOURCE = "scipy.stats documentation, median absolute deviation over 0.67449"
# 2. Kabsch: the orthogonal matrix that maps pairs of points best, by singular values.
PROCRUSTES = "orthogonal Procrustes (Kabsch) by singular values"
# 3. First-order low pass: gain 1 / sqrt(1 + (f / cutoff)^2), lag 1 / (2 pi cutoff), textbook.
SMOOTHING_SOURCE = "first-order low pass, textbook"
# 4. Tremor bands of a review's table: 2 to 5 Hz cerebellar, 4 to 12 Hz essential, 5 to 12 Hz physiological.
TREMOR_BAND_HZ = (2.0, 12.0)
TREMOR_SOURCE = "tremor bands of a clinical review, 2 to 12 Hz"
# Common practice, no source:
CUTOFF_OF_TREMOR = 0.5  # lets 45 % of the tremor through
SEGMENT_S = 4.0
TREMOR_OVER_FLOOR = 15.0  # times the median of the band; white noise reaches it once in about 700 holds
# (x right, y forward) of each push.
AIMS = {"forward": (0.0, 1.0), "back": (0.0, -1.0), "left": (-1.0, 0.0), "right": (1.0, 0.0)}


def medians_of(readings):
    """The median of each column of readings, an array [counts]; of an even number, the mean of the middle two.

    What numpy.median gives, in half the time: there is nothing here that is no number. Source: definition.

    >>> import numpy
    >>> medians_of(numpy.array([[3, 1], [1, 1], [2, 9], [8, 9]])).tolist()
    [2.5, 5.0]
    """
    import numpy

    middle, is_odd = divmod(len(readings), 2)
    sorted_to = numpy.partition(readings.T.copy(), middle if is_odd else (middle - 1, middle), axis=1)
    return sorted_to[:, middle] + 0.0 if is_odd else (sorted_to[:, middle - 1] + sorted_to[:, middle]) / 2


def sigma_of(deviations):
    """Noise as sigma [counts] from columns of deviations from their medians [counts], an array; of the larger one.

    sigma = 1.4826 times the median of the absolute deviations, which single spikes do not move. Source 1.

    >>> import numpy
    >>> round(sigma_of(numpy.array([[512], [514], [511], [513], [512], [900], [510]]) - 512), 4)
    1.4826
    """
    return SIGMA_PER_MAD * float(medians_of(abs(deviations)).max())


def turn_and_mirror(pushes, aims):
    """How far the base of the stick is turned, and whether it is mirrored, from pushes and what they aimed at.

    The orthogonal matrix Q that maps the aims best onto the pushes, each taken as a direction, by singular values; its
    determinant tells the mirror, where its image of forward points tells the turn.
    Parameters: pushes: readings less the rest centre [counts]; aims: (x right, y forward) [-]. Returns turn,
    anticlockwise seen from above, -180 to 180 [deg], and mirrored [-]. Four right-angled pushes; fewer leave the mirror
    open. Source 2.

    >>> turn_and_mirror([(250, 0), (-250, 0), (0, 200), (0, -300)], [(0, 1), (0, -1), (-1, 0), (1, 0)])
    (90.0, False)
    >>> turn_and_mirror([(0, 9), (0, -9), (9, 0), (-9, 0)], [(0, 1), (0, -1), (-1, 0), (1, 0)])
    (0.0, True)
    """
    import numpy

    directions = numpy.array(pushes, dtype=float)
    directions = directions / numpy.hypot(directions[:, 0], directions[:, 1])[:, None]
    left, _, right = numpy.linalg.svd(directions.T @ numpy.array(aims, dtype=float))
    best = left @ right
    mirrored = bool(best[0, 0] * best[1, 1] - best[0, 1] * best[1, 0] < 0)
    return degrees(atan2(best[0, 1], best[1, 1])) + 0.0, mirrored


def gain_of(frequency_hz, cutoff_hz):
    """What a first-order low pass lets through of a movement [-], at a frequency [Hz] and a cutoff [Hz]. Source 3.

    >>> round(gain_of(10, 2), 4)
    0.1961
    """
    return 1 / sqrt(1 + (frequency_hz / cutoff_hz) ** 2)


def cutoff_for(tremor_hz):
    """Cutoff of the smoothing [Hz] for a tremor [Hz]: half of it, which lets 45 % through. Common practice.

    Lower would smooth more and cost more lag: the lag is the price, told beside it.

    >>> cutoff_for(6.0), round(gain_of(6.0, cutoff_for(6.0)), 2)
    (3.0, 0.45)
    """
    return CUTOFF_OF_TREMOR * tremor_hz


def lag_of(cutoff_hz):
    """Lag [ms] that a first-order low pass of this cutoff [Hz] costs: 1000 / (2 pi cutoff). Source 3.

    >>> round(lag_of(2.0), 1)
    79.6
    """
    return 1000 / (2 * pi * cutoff_hz)


def reading_of(x, y, rotation_deg, mirrored):
    """Where a push towards (x right, y forward) [-] reads, from the rest centre, on a stick of this rotation [deg].

    (x cos t + y sin t, y cos t - x sin t); mirrored: with x negated first. Source: definition of the turn.

    >>> [round(part, 6) + 0.0 for part in reading_of(0, 1, 90, False)]
    [1.0, 0.0]
    """
    turn = radians(rotation_deg)
    x = -x if mirrored else x
    return x * cos(turn) + y * sin(turn), y * cos(turn) - x * sin(turn)


def push_of(x, y, rotation_deg, mirrored):
    """Which push (right, forward) [-] reads as (x, y) from the rest centre, on a stick of this rotation [deg].

    The other way round than `reading_of`; mirrored: with right negated last. Source: definition of the turn.

    >>> [round(part, 6) + 0.0 for part in push_of(1, 0, 90, False)]
    [0.0, 1.0]
    """
    turn = radians(rotation_deg)
    right = x * cos(turn) - y * sin(turn)
    return -right if mirrored else right, x * sin(turn) + y * cos(turn)


def angles_off(pushed, rotation_deg, mirrored):
    """How far each push points away from where turn and mirror put it.

    Parameters: pushed: {mark: reading less the rest centre} [counts]; rotation of the stick [deg]; mirrored [-].
    Returns {mark: angle} [deg]. Source: definition.

    >>> angles_off({"forward": (3, 3)}, 0, False)
    {'forward': 45.0}
    """
    off = {}
    for mark, push in pushed.items():
        expected = reading_of(*AIMS[mark], rotation_deg, mirrored)
        across = expected[0] * push[1] - expected[1] * push[0]
        off[mark] = degrees(abs(atan2(across, expected[0] * push[0] + expected[1] * push[1])))
    return off


def evenly(times_s, xy):
    """Readings xy [counts] taken at times [s], as if at one pace: loggers stutter, and a spectrum knows no times.

    By straight lines between the readings. Source: definition.

    >>> import numpy
    >>> evenly(numpy.array([0.0, 1.0, 4.0]), numpy.array([[0.0, 9.0], [1.0, 9.0], [4.0, 9.0]])).tolist()
    [[0.0, 9.0], [2.0, 9.0], [4.0, 9.0]]
    """
    import numpy

    steps = numpy.diff(times_s)
    if steps.max() - steps.min() < 1e-6:
        return xy
    even = numpy.linspace(times_s[0], times_s[-1], len(times_s))
    return numpy.stack([numpy.interp(even, times_s, xy[:, axis]) for axis in (0, 1)], axis=1)


def tremor_peak(xy, rate_hz, least):
    """The frequency where the spectrum of both axes stands out between 2 and 12 Hz, or None where nothing does.

    Averaged over segments of 4 s that overlap by half, each without its trend, under a Hann window; between the bins
    by a parabola through three; a peak must reach 15 times the median of the band.
    Parameters: xy: readings at one pace [counts]; rate of the readings, 30 or more [Hz]; least amplitude that counts
    [counts]. Returns the frequency [Hz] or None. A hand that trembles unevenly has a broad peak; its middle is told.
    Source 4; median and least: common practice.

    >>> import numpy
    >>> times = numpy.arange(2000) / 200
    >>> shaking = numpy.stack([30 * numpy.sin(2 * numpy.pi * 5.3 * times), 3 * times], axis=1)
    >>> round(tremor_peak(shaking, 200, 2), 2), tremor_peak(0 * shaking, 200, 2)
    (5.3, None)
    """
    import numpy

    power, width, window_sum = _spectrum(xy, rate_hz)
    low, high = (round(edge / width) for edge in (TREMOR_BAND_HZ[0] - 0.5, TREMOR_BAND_HZ[1] + 0.5))
    band = power[low : min(high, len(power) - 2) + 1]
    at = low + int(band[1:-1].argmax()) + 1
    if power[at] < power[at - 1] or power[at] < power[at + 1]:
        return None  # the edge of something slower or faster
    if power[at] < TREMOR_OVER_FLOOR * numpy.median(band) or 2 * sqrt(power[at]) / window_sum < least:
        return None
    before, here, after = numpy.log(power[at - 1 : at + 2] + 1e-12)
    bend = before - 2 * here + after
    peak = (at + (0.5 * (before - after) / bend if bend else 0.0)) * width
    return float(min(max(peak, TREMOR_BAND_HZ[0]), TREMOR_BAND_HZ[1]))


def _spectrum(xy, rate_hz):
    """Power of both axes together, the width of a bin, and the sum of the window."""
    import numpy

    length = min(len(xy), int(SEGMENT_S * rate_hz))
    window = numpy.hanning(length + 1)[:-1]
    starts = range(0, len(xy) - length + 1, max(1, length // 2))
    axes = numpy.ascontiguousarray(xy.T)
    pieces = numpy.concatenate([axes[:, at : at + length] for at in starts])
    level, trend = numpy.ones(length), numpy.linspace(-1, 1, length)
    straight = numpy.stack([level / sqrt(level @ level), trend / sqrt(trend @ trend)])
    pieces -= (pieces @ straight.T) @ straight
    pieces *= window
    swing = numpy.fft.rfft(pieces, axis=1)
    power = (swing.real**2 + swing.imag**2).sum(axis=0) / len(starts)
    return power, rate_hz / length, window.sum()
