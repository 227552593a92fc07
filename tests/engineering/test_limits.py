"""A lab may tighten a limit, never loosen it; and what it tightens is what judges."""

import pytest

from builds.engineering import limits
from builds.engineering.arm import arm
from builds.engineering.finding import CHECK, FITS, STOP, EngineeringError
from builds.engineering.fuse import fuse
from builds.engineering.limits import LIMITS, source_of, tightened
from builds.engineering.load import Mass
from builds.engineering.quantities import parse_gauge
from builds.engineering.stability import balance
from builds.engineering.wiring import wire_run

WIRE = {
    "gauge": parse_gauge("14 AWG"), "length_m": 1.2, "current_a": 18, "supply_v": 12, "conductor_c": 20,
    "insulation_c": 105, "bundle": 1, "role": "power",
}  # fmt: skip
VEHICLE = {
    "layout": "four", "masses": [Mass("all", 39, (0.30, 0, 0.36))], "track_m": 0.44, "wheelbase_m": 0.62,
    "steepest_slope_deg": 5,
}  # fmt: skip
ARM = {
    "path_length_m": 0.5, "pitch_m": 0.04, "piece_mass_kg": 0.02, "control_mass_kg": 0.2, "hand_force_n": 10,
    "horizontal_m": 0.4, "holding_moment_nm": 12,
}  # fmt: skip


@pytest.mark.parametrize("limit", LIMITS, ids=lambda limit: limit.label)
def test_loosening_is_refused_with_the_limit(limit):
    looser = limit.value - 0.001 if limit.at_least else limit.value + 0.001
    with pytest.raises(EngineeringError, match=limit.label) as refused:
        tightened(limit, looser)
    assert f"{limit.value:g}" in str(refused.value)


@pytest.mark.parametrize("limit", LIMITS, ids=lambda limit: limit.label)
def test_tightening_holds_and_nothing_keeps_the_limit_of_the_house(limit):
    stricter = (limit.value + limit.strictest) / 2
    assert tightened(limit, stricter) == stricter
    assert tightened(limit, None) == tightened(limit, limit.value) == limit.value
    assert limit.at_least is (limit.strictest > limit.value)


@pytest.mark.parametrize("limit", LIMITS, ids=lambda limit: limit.label)
@pytest.mark.parametrize("wrong", [float("nan"), float("inf"), -1e308, "5", True])
def test_nonsense_is_refused(limit, wrong):
    with pytest.raises(EngineeringError):
        tightened(limit, wrong)


@pytest.mark.parametrize("limit", LIMITS, ids=lambda limit: limit.label)
def test_each_limit_names_its_source_and_says_who_tightened_it(limit):
    assert limit.source
    assert source_of(limit, None) == source_of(limit, limit.value) == limit.source
    assert source_of(limit, (limit.value + limit.strictest) / 2).endswith("by the lab")


def test_the_limits_of_the_house():
    """Drop: ABYC E-11 (reprint). Fuse: 80 % notes. Tip angle and margin: common practice."""
    assert [limit.value for limit in LIMITS] == [10.0, 3.0, 0.80, 15.0, 10.0, 2.0]


def test_a_tighter_drop_judges():
    usual, tight = wire_run(**WIRE), wire_run(**WIRE, drop_limit_percent=2)
    assert (usual.findings[0].verdict, usual.findings[0].limit) == (FITS, 10.0)
    assert (tight.findings[0].verdict, tight.findings[0].limit) == (CHECK, 2.0)
    assert "tightened from 10 % by the lab" in tight.findings[0].source
    with pytest.raises(EngineeringError, match="Voltage drop of a control run must be 3 % or less, not 5 %"):
        wire_run(**{**WIRE, "role": "control"}, drop_limit_percent=5)


def test_a_tighter_share_takes_a_larger_fuse():
    assert fuse(continuous_a=12, ampacity_a=35).rating_a == 15
    assert fuse(continuous_a=12, ampacity_a=35, continuous_share=0.7).rating_a == 20
    assert "70 % or less" in fuse(continuous_a=12, ampacity_a=35, continuous_share=0.7).findings[0].formula
    tight = fuse(continuous_a=12, ampacity_a=35, continuous_share=0.7).findings[0]
    assert "tightened from 0.8 by the lab" in tight.source
    with pytest.raises(EngineeringError):
        fuse(continuous_a=12, ampacity_a=35, continuous_share=0.9)


def test_a_tighter_tip_angle_judges_and_the_slope_still_counts():
    usual = balance(**VEHICLE)
    tight = balance(**VEHICLE, least_tip_deg=35)
    over = balance(**VEHICLE, over_slope_deg=40)
    assert (usual.findings[0].verdict, usual.findings[0].limit) == (FITS, 15.0)
    assert (tight.findings[0].verdict, tight.findings[0].limit) == (STOP, 35.0)
    assert (over.findings[0].verdict, over.findings[0].limit) == (STOP, 45.0)
    assert "tightened from 15 \u00b0 by the lab" in tight.findings[0].source
    assert "tightened from 10 \u00b0 by the lab" in over.findings[0].source
    assert "at least 35 degrees" in tight.findings[0].formula
    both = balance(**VEHICLE, least_tip_deg=35, over_slope_deg=40).findings[0].source
    assert "from 15 \u00b0 by the lab" in both and "from 10 \u00b0 by the lab" in both
    with pytest.raises(EngineeringError, match="Smallest tip angle must be 15"):
        balance(**VEHICLE, least_tip_deg=14.9)


def test_a_larger_margin_judges():
    assert arm(**ARM).findings[0].verdict == FITS
    assert (arm(**ARM, least_margin=3).findings[0].verdict, arm(**ARM, least_margin=3).findings[0].limit) == (CHECK, 3)
    with pytest.raises(EngineeringError, match="Margin of the arm's foot must be 2"):
        arm(**ARM, least_margin=1.5)


def test_the_constants_that_rooms_read_are_those_limits():
    from builds.engineering.fuse import CONTINUOUS_SHARE
    from builds.engineering.wiring import DROP_LIMITS_PERCENT

    assert DROP_LIMITS_PERCENT == {"power": limits.DROP_POWER.value, "control": limits.DROP_CONTROL.value}
    assert CONTINUOUS_SHARE == limits.FUSE_SHARE.value
