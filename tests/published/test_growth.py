"""Weight for age (LMS) against the CDC's own table, its printed centiles, and a standard normal from elsewhere."""

import csv
from datetime import date, timedelta
from hashlib import sha256
from statistics import NormalDist

import pytest

from builds.engineering.growth import DAYS_A_MONTH, growth, weight_along
from builds.engineering.growth_table import FILE, SHA_256, Lms, lms_at, rows
from tests.published.rows import DERIVED, MEMORY, SEEN, Row, checked

TABLE = "CDC 2000 growth charts, data file wtage.csv"
BORN = date(2010, 1, 1)
P5_Z = NormalDist().inv_cdf(0.05)

# id, sex, age, L, M, S, P5, P50, P95
TABLE_ROWS = [
    ("LMS-01", "male", 24.5, -0.216501213, 12.74154396, 0.108166006, 10.70051298, 12.74154396, 15.27629562),
    ("LMS-02", "male", 36.5, -0.621319726, 14.40262749, 0.111874514, 12.09962308, 14.40262749, 17.51092666),
    ("LMS-03", "male", 60.5, -1.000453886, 18.48592413, 0.129879257, 15.23201937, 18.48592413, 23.50832656),
    ("LMS-04", "male", 96.5, -1.351813296, 25.75256528, 0.155973912, 20.66168259, 25.75256528, 35.28955426),
    ("LMS-05", "female", 36.5, -1.024471278, 13.94108332, 0.119491669, 11.65541879, 13.94108332, 17.3624437),
    ("LMS-06", "female", 48.5, -1.177029925, 15.87823668, 0.131802186, 13.09012012, 15.87823668, 20.3940868),
    ("LMS-07", "female", 72.5, -1.326763834, 20.33635961, 0.149589838, 16.43608019, 20.33635961, 27.39274198),
    ("LMS-08", "female", 96.5, -1.127684095, 25.7570168, 0.172147043, 20.14535023, 25.7570168, 36.2269949),
    ("LMS-09", "female", 120.5, -0.846872805, 33.06392318, 0.195947008, 24.86516468, 33.06392318, 48.17500585),
]
# id, sex, age, weight, z, centile
WEIGHTS = [
    ("LMS-11", "male", 60.5, 16.0, -1.19631, 11.579),
    ("LMS-12", "male", 60.5, 22.0, 1.22979, 89.061),
    ("LMS-13", "male", 36.5, 12.0, -1.72742, 4.205),
    ("LMS-14", "female", 96.5, 30.0, 0.81384, 79.213),
    ("LMS-15", "female", 36.5, 14.0, 0.03522, 51.405),
    ("LMS-16", "female", 48.5, 14.0, -1.02956, 15.161),
]


def table_rows():
    for key, sex, age, power, median, variation, p5, p50, p95 in TABLE_ROWS:
        for part, found, published in zip("LMS", lms_at(sex, age), (power, median, variation), strict=True):
            yield Row(f"{key} {part}", TABLE, SEEN, found, published, 1e-9)
        for name, z, published in (("P5", P5_Z, p5), ("P50", 0, p50), ("P95", -P5_Z, p95)):
            yield Row(f"{key} {name}", TABLE, SEEN, weight_along(sex, age, z), published, 1e-6)


def weighed(sex, age_months, weight):
    """At the day nearest to this age: half a day off at most, so tolerances are those of half a day."""
    on = BORN + timedelta(days=round(age_months * DAYS_A_MONTH))
    return growth(sex=sex, birth_date=BORN, weight_kg=weight, on=on, limit_kg=40)


def weight_rows():
    for key, sex, age, weight, z, centile in WEIGHTS:
        found = lms_at(sex, age).z_of(weight)
        yield Row(f"{key} z", TABLE, DERIVED, found, z, 1e-4)
        yield Row(f"{key} centile", TABLE, DERIVED, NormalDist().cdf(found) * 100, centile, 0.01)
        yield Row(f"{key} calculator z", TABLE, DERIVED, weighed(sex, age, weight).z, z, 0.002)
        yield Row(f"{key} calculator centile", TABLE, DERIVED, weighed(sex, age, weight).centile, centile, 0.05)


ROWS = [
    *table_rows(),
    Row("LMS-10", "CDC data file page, a boy of 9.5 months", MEMORY,
        Lms(-0.1600954, 9.476500305, 0.11218624).weight_at(-1.645), 7.9006, 1e-4),
    *weight_rows(),
    Row("LMS-17", TABLE, DERIVED, weight_along("male", 60.5, 1), 21.24534, 1e-4),
    Row("LMS-18", TABLE, DERIVED, weight_along("female", 72.5, -2), 15.80704, 1e-4),
    Row("LMS-19 P5", "standard normal", DERIVED, P5_Z, -1.644854, 1e-6),
    Row("LMS-20 wtage", TABLE, SEEN, len(rows("male")) + len(rows("female")), 436),
]  # fmt: skip


@checked(ROWS)
def test_published_value(row):
    row.check()


def test_the_table_is_the_published_file_byte_for_byte():
    """The digest is also the one that an independent package pins for the CDC's original."""
    assert sha256(FILE.read_bytes()).hexdigest() == SHA_256
    assert SHA_256 == "3406c9d125bcb69c062a9e84eb8c0209bfe9346542bdc1d308643750dcc241b7"
    assert SHA_256 in FILE.with_name("README.md").read_text()


def test_every_printed_centile_of_every_row_follows_from_l_m_and_s():
    centiles = {"P3": 3, "P5": 5, "P10": 10, "P25": 25, "P50": 50, "P75": 75, "P90": 90, "P95": 95, "P97": 97}
    with FILE.open(newline="") as lines:
        printed = list(csv.DictReader(lines))
    assert len(printed) == 436
    for line in printed:
        sex = {"1": "male", "2": "female"}[line["Sex"]]
        for column, centile in centiles.items():
            z = NormalDist().inv_cdf(centile / 100)
            assert weight_along(sex, float(line["Agemos"]), z) == pytest.approx(float(line[column]), abs=5e-7)


def test_where_the_power_is_nothing_the_logarithm_takes_its_place():
    """The CDC's second form; continuous with the first."""
    flat, nearly = Lms(0, 15.0, 0.12), Lms(-1e-9, 15.0, 0.12)
    assert flat.z_of(18.0) == pytest.approx(nearly.z_of(18.0), abs=1e-6)
    assert flat.weight_at(1.5) == pytest.approx(nearly.weight_at(1.5), abs=1e-6)
    assert flat.weight_at(flat.z_of(18.0)) == pytest.approx(18.0)
