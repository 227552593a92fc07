"""Wire runs, their ends, splices and contacts."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builds.engineering import ampacity, copper
from builds.engineering.finding import CHECK, FITS, STOP, UNKNOWN, EngineeringError, worst
from builds.engineering.quantities import parse_gauge
from builds.engineering.wiring import contact_rating, splice_in_flex, termination, wire_run

KNOWN = {
    "length_m": 2.0, "current_a": 15.0, "supply_v": 12.0, "conductor_c": 20.0,
    "insulation_c": 105.0, "bundle": 1, "role": "power",
}  # fmt: skip
AWG = [f"{n}/0 AWG" for n in (4, 3, 2, 1)] + [f"{n} AWG" for n in range(1, 31)]


def run(gauge="14 AWG", **changed):
    return wire_run(gauge=gauge and parse_gauge(gauge), **{**KNOWN, **changed})


def test_everything_is_out_and_back():
    once = copper.resistance_per_m(parse_gauge("14 AWG"), 20)
    assert run(length_m=2.0).resistance_ohm == pytest.approx(once * 4)


def test_a_control_wire_has_the_tighter_limit():
    power, control = run().findings[0], run(role="control").findings[0]
    assert (power.limit, power.verdict, control.limit, control.verdict) == (10.0, FITS, 3.0, CHECK)


def test_a_drop_that_leaves_nothing_is_a_stop():
    assert run(length_m=900.0).findings[0].verdict == STOP


def test_a_current_above_the_ampacity_is_a_stop():
    assert run(current_a=36.0).findings[1].verdict == STOP
    assert run(current_a=35.0).findings[1].verdict == run(current_a=33.3).findings[1].verdict == CHECK
    assert run(current_a=33.0).findings[1].verdict == FITS


@pytest.mark.parametrize(
    ("unknown", "said", "nothing"),
    [
        ("gauge", "gauge", ("resistance_ohm", "drop_v", "drop_percent", "loss_w", "ampacity_a")),
        ("length_m", "length one way", ("resistance_ohm", "drop_v", "drop_percent", "loss_w")),
        ("current_a", "current", ("drop_v", "drop_percent", "loss_w")),
        ("supply_v", "supply", ("drop_percent",)),
        ("conductor_c", "conductor temperature", ("resistance_ohm", "drop_v", "drop_percent", "loss_w")),
        ("insulation_c", "insulation rating", ("ampacity_a",)),
        ("bundle", "loaded conductors in the bundle", ("ampacity_a",)),
        ("role", "role", ()),
    ],
)
def test_what_is_not_known_stays_unknown_and_is_named(unknown, said, nothing):
    result = run(**{unknown: None})
    assert [getattr(result, name) for name in nothing] == [None] * len(nothing)
    assert worst(result.findings) == UNKNOWN
    assert said in " ".join(finding.missing for finding in result.findings)


def test_a_gauge_without_a_row_of_the_table_is_unknown():
    for gauge in ("13 AWG", "20 AWG", "0.75 mm^2"):
        assert run(gauge).ampacity_a is None
        assert run(gauge).findings[1].verdict == UNKNOWN


def test_a_metric_section_takes_the_row_of_the_thinner_gauge():
    assert run("2.5 mm^2").ampacity_a == run("14 AWG").ampacity_a
    assert run("4 mm^2").ampacity_a == run("12 AWG").ampacity_a


def test_insulation_between_two_columns_takes_the_lower_one():
    assert run(insulation_c=89.9).ampacity_a == 25
    assert run(insulation_c=90.0).ampacity_a == 30
    assert run(insulation_c=59.0).ampacity_a is None
    assert run(insulation_c=250.0).ampacity_a == 45


def test_a_conductor_hotter_than_its_insulation_is_a_stop():
    assert run(conductor_c=90.0, insulation_c=80.0).findings[-1].verdict == STOP
    assert len(run(conductor_c=80.0, insulation_c=80.0).findings) == 2


def test_a_warm_conductor_changes_resistance_and_not_ampacity():
    cold, warm = run(), run(conductor_c=60.0)
    assert warm.resistance_ohm > cold.resistance_ohm
    assert warm.ampacity_a == cold.ampacity_a


@pytest.mark.parametrize(
    ("changed", "limit"),
    [
        ({"length_m": 1000.1}, "1000 m"),
        ({"length_m": 0}, "0 m"),
        ({"length_m": -1}, "0 m"),
        ({"length_m": float("nan")}, "finite"),
        ({"current_a": float("inf")}, "finite"),
        ({"supply_v": 51}, "50 V"),
        ({"bundle": 0}, "1 or more"),
        ({"bundle": 1.5}, "whole"),
        ({"conductor_c": -300}, "-60"),
        ({"role": "signal"}, "power, control"),
    ],
)
def test_nonsense_is_refused_with_its_limit(changed, limit):
    with pytest.raises(EngineeringError, match=limit):
        run(**changed)


def test_lengths_to_a_kilometre_are_legal():
    assert run(length_m=1000.0).resistance_ohm > 0


@given(st.floats(0.01, 500), st.floats(0.01, 500), st.sampled_from(AWG))
def test_drop_grows_with_length_and_current(length, current, gauge):
    base = run(gauge, length_m=length, current_a=current)
    assert run(gauge, length_m=length * 1.5, current_a=current).drop_v > base.drop_v
    assert run(gauge, length_m=length, current_a=current * 1.5).drop_v > base.drop_v
    assert base.loss_w == pytest.approx(base.drop_v * current)


@given(st.integers(1, len(AWG) - 1))
def test_drop_falls_with_more_copper(at):
    assert run(AWG[at - 1]).drop_v < run(AWG[at]).drop_v
    sections = [f"{s:g} mm^2" for s in copper.CLASS_5_PLAIN_OHM_PER_KM]
    drops = [run(section).drop_v for section in sections]
    assert drops == sorted(drops, reverse=True)


def test_more_insulation_or_copper_never_lowers_the_table():
    rows = [ampacity.TABLE_5_A[awg] for awg in sorted(ampacity.TABLE_5_A, reverse=True)]
    for row in rows:
        assert list(row) == sorted(row)
    for thin, thick in zip(rows, rows[1:], strict=False):
        assert all(a < b for a, b in zip(thin, thick, strict=True))


@pytest.mark.parametrize(
    ("spliced", "flexing", "verdict"),
    [
        (True, True, STOP), (False, True, FITS), (True, False, FITS), (None, True, UNKNOWN), (True, None, UNKNOWN),
        (None, False, FITS), (False, None, FITS), ("no", "unknown", FITS), ("yes", "yes", STOP),
    ],
)  # fmt: skip
def test_no_splice_where_it_flexes(spliced, flexing, verdict):
    assert splice_in_flex(spliced, flexing).verdict == verdict


@pytest.mark.parametrize(
    ("kind", "verdict"),
    [
        ("crimp", FITS), ("solder", FITS), ("screw", FITS), ("crimp_then_solder", CHECK), ("crimp_on_tinned", STOP),
        ("unknown", UNKNOWN), (None, UNKNOWN),
    ],
)  # fmt: skip
def test_how_a_wire_ends(kind, verdict):
    assert termination(kind).verdict == verdict


def test_a_termination_nobody_knows_is_refused():
    with pytest.raises(EngineeringError):
        termination("twisted")


@pytest.mark.parametrize(
    ("rated", "stall", "plug", "verdict"),
    [
        (30, 22, False, FITS), (22, 22, "no", CHECK), (23.2, 22, "no", FITS), (20, 22, False, STOP),
        (None, 22, False, UNKNOWN),
        (30, None, False, UNKNOWN), (30, 22, None, UNKNOWN), (20, 22, None, STOP), (100, 1, True, STOP),
        (None, None, "yes", STOP),
    ],
)  # fmt: skip
def test_contacts_bear_the_stalled_motor(rated, stall, plug, verdict):
    assert contact_rating(rated, stall, plug).verdict == verdict
