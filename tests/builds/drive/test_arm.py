"""The arm on each side: what is computed, what stays unknown, and what holds the first ride."""

import pytest

from builds.demo.factories.drive import ARM
from builds.drive import evidence
from builds.drive.findings import drive
from builds.record.rules import configure
from tests.builds.drive.test_configuration import sent
from tests.builds.wiring.making import fresh

HELD = "The foot of the arm holds the control and the hand, on both sides where the arm swaps"
MARGIN, MOMENT, PIECES = "margin of the arm's foot", "moment at the arm's foot", "pieces of the arm"


def arms(build):
    return {side: {one.name: one for one in findings} for side, findings in drive(fresh(build)).arms}


def condition(build):
    found = [one for one in evidence.report(fresh(build)).conditions if one.text == HELD]
    return (found[0].met, found[0].why) if found else None


def test_the_moment_and_the_pieces_by_hand(build):
    """Derived: 0.42 m of 40 mm pieces are 11; 0.30 m x (9.81 x (0.22 + 11 x 0.025 / 2) + 12) = 4.652 N m of 11."""
    left = arms(build)["left"]
    assert left[PIECES].value == 11
    assert left[MOMENT].value == pytest.approx(0.30 * (9.81 * (0.22 + 0.1375) + 12))
    assert (left[MOMENT].limit, left[MARGIN].value) == (11.0, pytest.approx(11 / 4.6521, abs=0.001))
    assert condition(build) == (True, "")


def test_where_the_arm_swaps_each_side_has_its_own_length(build, coordinator):
    assert list(arms(build)) == ["left"]
    configure(build, coordinator, "It swaps", arm="swaps")
    found = arms(build)
    assert list(found) == ["left", "right"]
    assert found["right"][MOMENT].value > found["left"][MOMENT].value


def test_a_foot_that_slips_on_the_other_side_holds_the_first_ride(build, coordinator):
    configure(build, coordinator, "A longer way there", arm="swaps", arm_right_path_m=0.9, arm_right_horizontal_m=0.85)
    met, why = condition(build)
    assert met is False
    assert why == f"It does not hold, occupant's right: {MARGIN}; occupant's right: {MOMENT}."


@pytest.mark.parametrize("name", sorted({*ARM} - {"arm_holding_from", "arm_right_path_m", "arm_right_horizontal_m"}))
def test_whatever_is_not_measured_leaves_it_unknown(build, coordinator, name):
    configure(build, coordinator, "Not measured", **{name: None})
    assert arms(build)["left"][MARGIN].verdict == "unknown"
    met, why = condition(build)
    assert met is None and why.startswith("Unknown, occupant's left: ")


def test_a_control_without_an_arm_asks_nothing(build, coordinator):
    configure(build, coordinator, "On the tray", arm_left_path_m=0.0)
    assert arms(build) == {}
    assert condition(build) is None


def test_a_lab_that_asks_for_more_is_heard(build, lab):
    lab.least_arm_margin = 4.0
    lab.save(update_fields=["least_arm_margin"])
    found = arms(build)["left"][MARGIN]
    assert (found.verdict, found.limit) == ("check", 4.0)
    assert "tightened from 2 by the lab" in found.source
    assert condition(build) == (True, "")  # asks for a look, holds nothing


def test_a_build_without_a_stick_has_no_arm(build):
    content = {**build.plan_revision.content, "stick": False}
    type(build.plan_revision).objects.update(content=content)
    assert drive(fresh(build)).arms == []


def test_the_settings_are_typed_in_the_units_people_use(page, build):
    assert sent(page, arm_left_path_m="17 in", hand_force_n="3 lbf", driving_current_a="6500 mA").status_code == 302
    now = fresh(build).configuration()
    assert now.arm_left_path_m == pytest.approx(0.4318)
    assert now.hand_force_n == pytest.approx(13.3447, abs=1e-3)
    assert now.driving_current_a == pytest.approx(6.5)
    text = page.get("configurations").content.decode()
    assert "Arm on the left: path along its pieces: 42 cm became 43.2 cm" in text


@pytest.mark.parametrize(
    ("changes", "field", "told"),
    [
        ({"arm_left_horizontal_m": "50"}, "arm_left_horizontal_m", "not be more than the path"),
        ({"arm_holding_from": "unknown"}, "arm_holding_from", "Choose where"),
        ({"arm_pitch_m": "0"}, "arm_pitch_m", "0.1 cm or more"),
        ({"arm_piece_kg": "-1"}, "arm_piece_kg", "0 g or more"),
        ({"arm_holding_nm": "4 N"}, "arm_holding_nm", "must be a moment"),
        ({"hand_force_n": "1e9"}, "hand_force_n", "2000 N or less"),
        ({"driving_current_a": "0"}, "driving_current_a", "0.01 A or more"),
    ],
)
def test_what_cannot_be_is_refused_in_words(page, build, changes, field, told):
    answer = sent(page, **changes)
    assert answer.status_code == 422
    assert told in " ".join(answer.context["form"].errors[field])
