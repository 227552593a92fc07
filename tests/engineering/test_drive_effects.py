"""What the settings do: ways to stop against published and hand-worked values, and what stays unknown."""

import pytest

from builds.engineering.drive_effects import drive_effects, measured_stop, signal_end
from builds.engineering.finding import EngineeringError

KNOWN = {
    "ceiling_m_s": 1.0, "slew_up_per_s": 1, "slew_down_per_s": 4, "reverse_gain": 0.5, "turn_gain": 0.7, "expo": 0.5,
    "at_signal_end": "brake", "deceleration_m_s2": 2.0, "reaction_s": 1.0, "late_ms": 120,
}  # fmt: skip


def effects(**changes):
    return drive_effects(**{**KNOWN, **changes})


def by_name(found, name):
    return next(one for one in found.findings if one.name == name)


def test_worked_by_hand():
    found = effects()
    assert found.full_after_s == 1.0  # 1 / 1
    assert found.release_m == 0.25  # 1 / (2 x 2)
    assert found.with_reaction_m == 1.25  # 0.25 + 1 x 1
    assert found.late_m == pytest.approx(0.37)  # 0.25 + 1 x 0.12
    assert found.easing_m == 0.125  # 1 / (2 x 4)
    assert (found.reverse_m_s, found.reverse_m) == (0.5, 0.0625)  # 0.25 / 4
    assert found.spin_share == 0.7
    assert found.half_push_m_s == 0.3125  # 0.25 + 0.0625
    assert found.half_push_m == pytest.approx(0.3125**2 / 4)


def test_against_the_toy_speeds_worked_for_the_checks():
    """Derived rows of the lab's check list: 5 km/h at 1.5 m/s2 is 0.643 m; 4 km/h at 1.0 m/s2 with 0.5 s is 1.173 m."""
    assert effects(ceiling_m_s=5 / 3.6, deceleration_m_s2=1.5).release_m == pytest.approx(0.643, abs=0.002)
    slower = effects(ceiling_m_s=4 / 3.6, deceleration_m_s2=1.0, reaction_s=0.5)
    assert slower.with_reaction_m == pytest.approx(1.173, abs=0.002)


def test_each_setting_changes_what_it_says_and_nothing_else():
    base = effects()
    changed = {
        "slew_up_per_s": {"full_after_s"}, "slew_down_per_s": {"easing_m"},
        "reverse_gain": {"reverse_m_s", "reverse_m"},
        "turn_gain": {"spin_share"}, "expo": {"half_push_m_s", "half_push_m"}, "reaction_s": {"with_reaction_m"},
        "late_ms": {"late_m"},
    }  # fmt: skip
    values = {"slew_up_per_s": 2, "slew_down_per_s": 2, "reverse_gain": 0.4, "turn_gain": 0.5, "expo": 0.2,
              "reaction_s": 0.5, "late_ms": 50}  # fmt: skip
    names = [name for name in base.__dataclass_fields__ if name != "findings"]
    for setting, wanted in changed.items():
        other = effects(**{setting: values[setting]})
        assert {name for name in names if getattr(other, name) != getattr(base, name)} == wanted, setting


@pytest.mark.parametrize(
    ("setting", "lost"),
    [("deceleration_m_s2", {"release_m", "with_reaction_m", "late_m", "reverse_m", "half_push_m"}),
     ("reaction_s", {"with_reaction_m"}), ("slew_up_per_s", {"full_after_s"}),
     ("expo", {"half_push_m_s", "half_push_m"}),
     ("ceiling_m_s", {"release_m", "with_reaction_m", "late_m", "easing_m", "reverse_m_s", "reverse_m",
                      "half_push_m_s", "half_push_m"})],
)  # fmt: skip
def test_what_is_unknown_leaves_what_needs_it_unknown(setting, lost):
    found = effects(**{setting: None})
    names = [name for name in found.__dataclass_fields__ if name != "findings"]
    assert {name for name in names if getattr(found, name) is None} == lost
    assert len([one for one in found.findings if one.verdict == "unknown"]) == len(lost)
    assert all(one.missing for one in found.findings if one.verdict == "unknown")


def test_a_lurch_and_a_way_beyond_the_arm_ask_for_a_look():
    assert by_name(effects(slew_up_per_s=2), "time to full command").verdict == "fits"
    assert by_name(effects(slew_up_per_s=2.1), "time to full command").verdict == "check"
    assert by_name(effects(deceleration_m_s2=1.0), "way to stop at this ceiling").verdict == "fits"  # 0.5 m
    assert by_name(effects(deceleration_m_s2=0.99), "way to stop at this ceiling").verdict == "check"
    assert by_name(effects(reaction_s=0.25), "way to stop with reaction").verdict == "fits"  # 0.25 + 0.25 m
    assert by_name(effects(reaction_s=0.26), "way to stop with reaction").verdict == "check"


def test_the_way_says_whether_it_coasts_or_brakes():
    found = by_name(effects(at_signal_end="coast"), "way to stop at this ceiling")
    assert "coast when the signal ends" in found.formula


@pytest.mark.parametrize(
    "wrong", [{"ceiling_m_s": 0}, {"slew_down_per_s": 0.9}, {"turn_gain": 2.1}, {"at_signal_end": "stop"},
              {"reaction_s": 11}, {"expo": float("nan")}],
)  # fmt: skip
def test_nonsense_is_refused(wrong):
    with pytest.raises(EngineeringError):
        effects(**wrong)


def test_a_measured_stop_by_hand():
    found = measured_stop(speed_m_s=0.7, distance_m=0.35, stopped=True)
    assert found.deceleration_m_s2 == pytest.approx(0.7)  # 0.49 / 0.7
    assert [one.verdict for one in found.findings] == ["fits", "fits"]
    assert measured_stop(speed_m_s=0.7, distance_m=0.51, stopped=True).findings[1].verdict == "check"


def test_one_that_rolls_on_stops_the_case():
    found = measured_stop(speed_m_s=0.7, distance_m=0.35, stopped=False, slope_deg=5)
    assert found.deceleration_m_s2 is None
    assert [one.verdict for one in found.findings] == ["stop", "stop"]
    assert "on a slope of 5\u00b0" in found.findings[0].name


@pytest.mark.parametrize("lacking", ["speed_m_s", "distance_m", "stopped"])
def test_a_measurement_with_a_gap_is_no_deceleration(lacking):
    given = {"speed_m_s": 0.7, "distance_m": 0.35, "stopped": True, lacking: None}
    found = measured_stop(**given)
    assert found.deceleration_m_s2 is None
    if lacking != "speed_m_s":
        assert "unknown" in [one.verdict for one in found.findings]


@pytest.mark.parametrize(
    ("recorded", "seen", "verdict"),
    [("brake", "brake", "fits"), ("coast", "brake", "stop"), (None, "brake", "unknown"), ("brake", None, "unknown")],
)
def test_what_is_seen_against_what_is_recorded(recorded, seen, verdict):
    assert signal_end(recorded=recorded, seen=seen).verdict == verdict
