"""Mathematics of the stick fit against textbooks and documentation."""

import numpy
import pytest

from builds.engineering.stick_maths import AIMS, TREMOR_BAND_HZ, gain_of, sigma_of, turn_and_mirror
from tests.published.rows import DERIVED, REPRINT, SEEN, Row, checked

MAD = "scipy.stats documentation of median_abs_deviation"
KABSCH = "Kabsch, pairs turned by a known angle"
REVIEW = "tremor review, table 2"


def spread(readings):
    values = numpy.array(readings, dtype=float)
    return sigma_of((values - numpy.median(values))[:, None])


def turned(degrees):
    """What four pushes read when the plane of readings turns anticlockwise by so much."""
    turn = numpy.radians(degrees)
    matrix = numpy.array([[numpy.cos(turn), -numpy.sin(turn)], [numpy.sin(turn), numpy.cos(turn)]])
    return [tuple(matrix @ aim) for aim in AIMS.values()]


SPIKED, EVEN = [512, 514, 511, 513, 512, 900, 510], [2, 4, 4, 4, 5, 5, 7, 9]
ROWS = [
    Row("J-01", MAD, SEEN, spread([0, 1, 2]), 1.482602, 1e-5),
    Row("J-02 median", MAD, DERIVED, float(numpy.median(SPIKED)), 512.0),
    Row("J-02", MAD, DERIVED, spread(SPIKED), 1.4826, 1e-4),
    Row("J-03 median", MAD, DERIVED, float(numpy.median(EVEN)), 4.5),
    Row("J-03", MAD, DERIVED, spread(EVEN), 0.7413, 1e-4),
    # The plane of readings turns against the base: 30 degrees anticlockwise there is a base turned 30 clockwise.
    Row("J-06", KABSCH, DERIVED, turn_and_mirror(turned(30), list(AIMS.values()))[0], -30.0, 1e-6),
    Row("J-11 at the cutoff", "textbook", DERIVED, gain_of(2.0, 2.0), 0.7071, 1e-4),
    Row("J-11 far above it", "textbook", DERIVED, gain_of(10.0, 2.0), 0.1961, 1e-4),
]
BANDS = {  # id: source, status, lowest and highest of the published bands in Hz
    "TR-01": (REVIEW, SEEN, 4, 12), "TR-02": (REVIEW, SEEN, 2, 10), "TR-03": ("abstract on hand tremor", SEEN, 4, 12),
    "TR-04": ("mirror of a clinical reference table", REPRINT, 3, 6),
}  # fmt: skip


@checked(ROWS)
def test_published_values_come_out(row):
    row.check()


@pytest.mark.parametrize("key", list(BANDS))
def test_every_published_band_lies_within_ours(key):
    _, _, lowest, highest = BANDS[key]
    assert TREMOR_BAND_HZ[0] <= lowest < highest <= TREMOR_BAND_HZ[1]
