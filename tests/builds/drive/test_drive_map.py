"""The drive map, its ceilings with their timed runs, and how the cart was measured to come to stand."""

import re

import pytest

from builds.demo.factories.clients import ClearanceFactory, make_assessed_client
from builds.demo.factories.drive import make_timed_runs
from builds.demo.factories.proving import DRIVE, make_stop, make_stops, time_other_ceilings
from builds.drive import evidence, stops
from builds.drive.map_sheet import effects_of, maps_of
from builds.models import Build, StopMeasurement
from builds.record.rules import Refused, configure
from labsite.models import Lab
from tests.builds.drive.test_configuration import opened, sent
from tests.builds.wiring.making import fresh

KNOWN = "The settings of the drive are known"
MEASURED = "Every ceiling of the selector is measured by timed runs with at least the client's mass as ballast"
STANDS = "Coast or brake is measured on the floor, and down the steepest slope of the client's places"


@pytest.fixture
def build(build, coordinator):
    """For a client of 16 kg whose steepest place is known."""
    client = make_assessed_client(coordinator)
    ClearanceFactory(client=client, made_by=coordinator)
    Build.objects.filter(pk=build.pk).update(client=client)
    return fresh(build)


def condition(build, text):
    found = next(one for one in evidence.report(fresh(build)).conditions if one.text == text)
    return found.met, found.why


def text_of(answer):
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", answer.content.decode()))


def map_at(build, position):
    maps = {row["position"]: rows for row, rows in maps_of(build.configuration())}
    return {one.name: one for one in maps[position]}


def test_rest_and_eight_directions_at_each_ceiling_by_hand(build):
    """Share 0.4, turn gain 0.7, reverse gain 0.5, neutral 1500, span 400, right controller inverted."""
    slow = map_at(build, "slow")
    assert len(slow) == 9
    told = {name: (one.left.percent, one.left.pulse, one.right.percent, one.right.pulse) for name, one in slow.items()}
    assert told["Rest"] == ("0 %", "1500 \u00b5s", "0 %", "1500 \u00b5s")
    assert told["Forward"] == ("40 %", "1660 \u00b5s", "40 %", "1340 \u00b5s")  # 1500 +- 400 x 0.4
    assert told["Right"] == ("28 %", "1612 \u00b5s", "-28 %", "1612 \u00b5s")  # 0.7 x 0.4 = 0.28, x 400 = 112
    assert told["Back"] == ("-20 %", "1420 \u00b5s", "-20 %", "1580 \u00b5s")  # 0.5 x 0.4 = 0.2, x 400 = 80
    # (1 + 0.7, 1 - 0.7) / 1.7 x 0.4 = 0.4 and 0.0706, x 400 = 160 and 28.2
    assert told["Forward and right"] == ("40 %", "1660 \u00b5s", "7.06 %", "1472 \u00b5s")
    assert (slow["Right"].does, slow["Forward"].does, slow["Rest"].does) == ("spins right", "forward", "stands")
    assert map_at(build, "medium")["Forward"].left.percent == "50 %"


def test_without_a_selector_only_the_slowest_ceiling_is_left(build, coordinator):
    rows = [{"position": "fast", "share": 0.9, "ceiling_m_s": 0.9}, *DRIVE["ceilings"]]
    configure(build, coordinator, "No selector", selector="no", ceiling_position="no selector fitted", ceilings=rows)
    found = maps_of(fresh(build).configuration())
    assert [(row["position"], row["share"]) for row, _ in found] == [("no selector fitted", 0.4)]


@pytest.mark.parametrize(
    ("name", "lost"),
    [("turn_gain", "command"), ("reverse_gain", "command"), ("span_us", "pulse_us"), ("left_inverted", "pulse_us")],
)
def test_what_is_not_known_stays_unknown_on_the_map(build, coordinator, name, lost):
    configure(build, coordinator, "Not known", **{name: None})
    forward = map_at(fresh(build), "slow")["Forward"]
    assert getattr(forward.left, lost) is None
    assert (forward.right.pulse_us is None) == (name != "left_inverted")
    assert condition(build, KNOWN)[0] is None


def test_the_page_shows_map_picture_ceilings_and_what_the_settings_do(page, build, builder):
    make_timed_runs(build, builder)
    make_stops(build, builder)
    text = text_of(page.get("drive_map"))
    for part in (
        "Eight directions and rest at slow", "Eight directions and rest at medium", "backward, -28 %",
        "slow, in use", "No runs stand", "Way to stop at this ceiling", "Time to full command",
    ):  # fmt: skip
        assert part in text, part
    assert "<svg" in page.get("drive_map").content.decode()


def test_a_build_without_settings_says_what_is_unknown(page, build, coordinator):
    unknown = dict.fromkeys(DRIVE, None) | {"selector": "unknown", "at_signal_end": "unknown"}
    configure(build, coordinator, "All forgotten", **unknown)
    text = text_of(page.get("drive_map"))
    assert "Whether a selector is fitted is unknown." in text
    assert "No position of the selector is recorded." in text
    met, why = condition(build, KNOWN)
    assert met is None
    assert "turn gain" in why and "expo shape" in why
    assert not [one for one in evidence.report(fresh(build)).evidence if one.kind == "drive-settings"]


def test_every_ceiling_needs_its_own_runs(build, builder):
    assert condition(build, MEASURED) == (None, "No timed runs stand at: slow, medium.")
    make_timed_runs(build, builder)
    assert condition(build, MEASURED) == (None, "No timed runs stand at: medium.")
    time_other_ceilings(build, builder)
    assert condition(build, MEASURED) == (True, "")


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"ceilings": [DRIVE["ceilings"][0], {**DRIVE["ceilings"][1], "share": 0.55}]}, "at: medium"),
        ({"ceilings": [{**DRIVE["ceilings"][0], "share": 0.45}, DRIVE["ceilings"][1]]}, "at: slow"),
        ({"span_us": 450}, "at: slow, medium"),
        ({"battery": None}, "at: slow, medium"),
    ],
)
def test_runs_stand_no_longer_once_something_makes_it_faster(build, builder, coordinator, changes, told):
    make_timed_runs(build, builder)
    time_other_ceilings(build, builder)
    configure(fresh(build), coordinator, "Changed", **changes)
    assert condition(build, MEASURED) == (None, f"No timed runs stand {told}.")


def test_a_ceiling_that_is_passed_and_one_that_is_unknown(build, builder, coordinator):
    make_timed_runs(build, builder)
    time_other_ceilings(build, builder)
    rows = [DRIVE["ceilings"][0], {**DRIVE["ceilings"][1], "ceiling_m_s": 0.8}]  # 5 m in 6.2 s are 0.806 m/s
    configure(fresh(build), coordinator, "Lower", ceilings=rows)
    assert condition(build, MEASURED) == (False, "Faster than its ceiling: medium.")
    rows[1] = {**rows[1], "ceiling_m_s": None}
    configure(fresh(build), coordinator, "Unknown", ceilings=rows)
    assert condition(build, MEASURED) == (None, "The ceiling is unknown at: medium.")


def test_light_ballast_proves_no_ceiling(build, builder):
    make_timed_runs(build, builder)
    time_other_ceilings(build, builder, ballast_kg=10.0)
    assert condition(build, MEASURED)[0] is False


def test_the_floor_and_the_slope_are_asked_for(build, builder):
    steepest, _ = build.client.steepest_slope()
    assert steepest > 0
    assert condition(build, STANDS)[0] is None
    make_stop(build, builder)
    why = f"Not measured under the ceiling in use: down the slope of {steepest:g}\u00b0."
    assert condition(build, STANDS) == (None, why)
    make_stop(build, builder, place="slope", slope_deg=steepest - 0.5)
    assert condition(build, STANDS)[0] is None
    make_stop(build, builder, place="slope", slope_deg=steepest)
    assert condition(build, STANDS) == (True, "")


def test_a_level_home_needs_the_floor_only(build, builder):
    build.client.places.update(slope_deg=0)
    make_stop(build, builder)
    assert condition(build, STANDS) == (True, "")


def test_an_unknown_slope_stays_unknown(build, builder):
    make_stops(build, builder)
    build.client.places.update(slope_deg=None)
    met, why = condition(build, STANDS)
    assert met is None
    assert why.startswith("The slope is unknown at: ")


@pytest.mark.parametrize(
    ("changes", "met"),
    [({"stopped": False, "distance_m": None}, False), ({"distance_m": 0.51}, False), ({"distance_m": 0.5}, True),
     ({"did": "coast"}, False), ({"did": "unknown"}, None), ({"ballast_kg": 10.0}, False),
     ({"ballast_kg": None}, None)],
)  # fmt: skip
def test_how_it_stood_on_the_floor(build, builder, changes, met):
    make_stops(build, builder)
    make_stop(build, builder, **changes)
    assert condition(build, STANDS)[0] is met


def test_a_long_way_down_the_slope_is_told_and_rolling_on_is_not_accepted(build, builder):
    make_stop(build, builder)
    steepest, _ = build.client.steepest_slope()
    make_stop(build, builder, place="slope", slope_deg=steepest, distance_m=0.9)
    assert condition(build, STANDS) == (True, "")
    found = [finding for _, finding in evidence.report(fresh(build)).findings if finding.verdict == "check"]
    assert any("way from letting go" in one.name for one in found)
    make_stop(build, builder, place="slope", slope_deg=steepest, stopped=False, distance_m=None)
    assert condition(build, STANDS)[0] is False


def test_a_faster_ceiling_asks_for_another_measurement(build, builder, coordinator):
    make_stops(build, builder)
    configure(fresh(build), coordinator, "Faster", ceiling_m_s=0.8)
    assert condition(build, STANDS)[0] is None


def test_what_is_measured_at_the_signals_end_may_be_set_after_it(build, builder, coordinator):
    configure(build, coordinator, "Not known", at_signal_end="unknown")
    make_stops(fresh(build), builder)
    assert condition(build, STANDS)[0] is None
    configure(fresh(build), coordinator, "As measured", at_signal_end="brake")
    assert condition(build, STANDS) == (True, "")


def test_the_deceleration_of_the_floor_tells_the_way_at_each_ceiling(build, builder):
    """0.66^2 / (2 x 0.2) = 1.089 m/s2; at 0.7 m/s: 0.49 / 2.178 = 0.225 m."""
    make_stop(build, builder)
    build = fresh(build)
    found = stops.stops_of(build, build.configuration(), lambda one: one.ceiling_m_s)
    assert found.deceleration_m_s2 == pytest.approx(1.089)


def test_without_a_ceiling_nothing_is_measured(build, builder, coordinator):
    configure(build, coordinator, "Not known", ceiling_m_s=None)
    with pytest.raises(Refused, match="The speed ceiling of the configuration is unknown"):
        make_stop(fresh(build), builder)


STOP = {"place": "floor", "speed_m_s": "0.66", "stopped": "yes", "distance_m": "20 cm", "did": "brake",
        "ballast_kg": "44 lb"}  # fmt: skip


def test_a_stop_through_the_page_and_struck(page, build, builder):
    assert page.post("stop_new", data=STOP).status_code == 302
    made = StopMeasurement.objects.get()
    assert (made.distance_m, made.stopped, made.slope_deg) == (pytest.approx(0.2), True, None)
    assert page.post("stop_strike", made.pk, data={"reason": "The marks had moved"}).status_code == 302
    assert condition(build, STANDS)[0] is None


@pytest.mark.parametrize(
    ("changes", "field", "told"),
    [({"place": "slope"}, "slope_deg", "Enter the slope"), ({"distance_m": ""}, "distance_m", "Enter the distance"),
     ({"speed_m_s": ""}, "speed_m_s", "Enter"), ({"stopped": ""}, "stopped", "Choose"),
     ({"place": "slope", "slope_deg": "31"}, "slope_deg", "30")],
)  # fmt: skip
def test_a_stop_with_a_gap_is_refused_in_words(page, changes, field, told):
    answer = page.post("stop_new", data={**STOP, **changes})
    assert answer.status_code == 422
    assert told in " ".join(answer.context["form"].errors[field])


def test_settings_of_the_drive_are_typed_with_the_configuration(page, build):
    lines = "slow; 40 %; 0.7 m/s\nmedium, 0.6, 2 mph\nfast; 100 %"
    changes = {"ceilings": lines, "slew_up": "1.5", "left_inverted": "", "right_inverted": "no", "expo": "",
               "at_signal_end": "coast", "span_us": "450"}  # fmt: skip
    assert sent(page, **changes).status_code == 302
    now = fresh(build).configuration()
    assert now.ceilings == [
        {"position": "slow", "share": pytest.approx(0.4), "ceiling_m_s": pytest.approx(0.7)},
        {"position": "medium", "share": pytest.approx(0.6), "ceiling_m_s": pytest.approx(0.89408)},  # 2 x 0.44704
        {"position": "fast", "share": 1.0, "ceiling_m_s": None},
    ]
    assert (now.slew_up, now.expo, now.at_signal_end, now.span_us) == (1.5, None, "coast", 450)
    assert (now.left_inverted, now.right_inverted) == (None, False)
    assert "fast: 100 % of full command, ceiling unknown" in page.get("configurations").content.decode()


def test_what_is_set_stays_when_the_page_is_sent_unchanged(page, build):
    before = build.configuration()
    assert page.post("configuration_edit", data={**opened(page), "reason": "Nothing"}).status_code == 302
    assert fresh(build).configuration().number == before.number


@pytest.mark.parametrize(
    ("changes", "field", "told"),
    [
        ({"ceilings": "slow"}, "ceilings", "One position a line"),
        ({"ceilings": "slow; 0 %"}, "ceilings", "above 0 %"),
        ({"ceilings": "slow; 101 %"}, "ceilings", "100 %"),
        ({"ceilings": "slow; 40 kg"}, "ceilings", "Share of full command"),
        ({"ceilings": "slow; 40 %; 9 m/s"}, "ceilings", "0.05 m/s to 5 m/s"),
        ({"ceilings": "slow; 40 %\nSlow; 50 %"}, "ceilings", "once"),
        ({"ceilings": "\n".join(f"p{one}; 10 %" for one in range(6))}, "ceilings", "5 lines or fewer"),
        ({"ceilings": "medium; 50 %"}, "ceiling_position", "must be one of its positions: medium"),
        ({"ceilings": "slow; 40 %; 0.8 m/s"}, "ceilings", "must be the speed ceiling in use, 0.7 m/s"),
        ({"turn_gain": "2.1"}, "turn_gain", "2"),
        ({"slew_down": "0.5"}, "slew_down", "1"),
        ({"neutral_left_us": "1000", "span_us": "600"}, "neutral_left_us", "within 500 to 2500"),
        ({"span_us": "300.5"}, "span_us", "whole number"),
        ({"at_signal_end": ""}, "at_signal_end", "Choose"),
    ],
)
def test_settings_that_cannot_be_are_refused_in_words(page, build, changes, field, told):
    answer = sent(page, **changes)
    assert answer.status_code == 422
    assert told in " ".join(answer.context["form"].errors[field])
    assert fresh(build).configuration().number == build.configuration().number


def test_a_press_switch_has_no_settings_of_a_drive(coordinator, builder, lab, as_person):
    from django.urls import reverse

    from builds.demo.factories.parts import make_one_motor_unit
    from tests.builds.wiring.making import make_planned_build

    build = make_planned_build(coordinator, builder, plan="press-switch", unit=make_one_motor_unit())
    browser = as_person(builder)
    form = browser.get(reverse("configuration_edit", args=[build.number])).context["form"]
    assert not {*DRIVE} & {*form.fields}
    assert "Turn gain" not in browser.get(reverse("configurations", args=[build.number])).content.decode()
    assert "no stick" in browser.get(reverse("drive_map", args=[build.number])).content.decode()


def way_with_reaction(build):
    configuration = build.configuration()
    found = effects_of(configuration, configuration.ceiling_at("slow"), 2.0)
    return next(one for one in found if one.name == "way to stop with reaction")


def test_the_way_with_the_adults_reaction_is_unknown_until_the_lab_measured_it(build, lab):
    """0.7 m/s: v^2 / (2 x 2 m/s^2) = 0.1225 m, or what the settings add, and 0.7 x 1.5 s = 1.05 m more."""
    assert way_with_reaction(build).verdict == "unknown" and "reaction" in way_with_reaction(build).missing
    Lab.objects.update(reaction_s=1.0)
    one_second = way_with_reaction(fresh(build)).value
    Lab.objects.update(reaction_s=2.5)
    assert way_with_reaction(fresh(build)).value == pytest.approx(one_second + 1.05)
    assert one_second > 0.1225 + 0.69
