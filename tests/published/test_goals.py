"""Goal attainment (G): Kiresuk and Sherman's form, by two public calculators; sums derived."""

from builds.engineering.goals import EXPECTED_T, goal_score
from tests.published.rows import DERIVED, SEEN, Row, checked

FORM = "Kiresuk & Sherman 1968, formula on two public calculator pages"


def t(scores, weights=None, rho=0.3):
    return goal_score(scores=scores, weights=weights or [1] * len(scores), rho=rho).t


ROWS = [
    Row("G-01 mean", FORM, SEEN, EXPECTED_T, 50.0),
    Row("G-01 SD", FORM, SEEN, t([1]) - t([0]), 10.0, 1e-9),
    Row("G-02 one", FORM, SEEN, t([0]), 50.0, 1e-12),
    Row("G-02 weighted", FORM, SEEN, t([0, 0, 0], [3, 2, 1]), 50.0, 1e-12),
    Row("G-03", FORM, DERIVED, t([1]), 60.0, 0.001),
    Row("G-04", FORM, DERIVED, t([-2]), 30.0, 0.001),
    Row("G-05", FORM, DERIVED, t([1, 1]), 62.403, 0.001),
    Row("G-06", FORM, DERIVED, t([-1] * 3), 36.307, 0.001),
    Row("G-07", FORM, DERIVED, t([2] * 3), 77.386, 0.001),
    Row("G-08", FORM, DERIVED, t([-2] * 4), 20.981, 0.001),
    Row("G-09", FORM, DERIVED, t([1, 0, -1]), 50.0, 0.001),
    Row("G-10", FORM, DERIVED, t([1, 0, 1], [3, 2, 1]), 58.8131, 0.001),
    Row("G-11", FORM, DERIVED, t([1, 0, -1, 2], [4, 2, 3, 1]), 54.2008, 0.001),
    Row("G-12", FORM, DERIVED, t([2, -1], [2, 3]), 52.4544, 0.001),
    Row("G-13", FORM, DERIVED, t([1, 0, 1], [30, 20, 10]), 58.8131, 0.001),
    Row("G-15", FORM, DERIVED, t([1, 1], rho=0), 64.1421, 0.001),
]


@checked(ROWS)
def test_published_value(row):
    row.check()
