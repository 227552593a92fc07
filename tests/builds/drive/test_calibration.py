"""Readings of the stick: what is kept, what is refused, and that rest always means exactly 0."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builds.demo.factories.drive import READINGS, make_accepted_calibration, make_calibration
from builds.drive.forms import CalibrationForm
from builds.drive.rules import AXES, accept_calibration, axis_fit, fit_readings, neutral_at_rest
from builds.engineering.calibration import AxisFit, command
from builds.models import Calibration
from builds.record.rules import Refused
from tests.builds.wiring.making import fresh

TYPED = {name: str(value) for name, value in READINGS.items()}


def sent(**changes):
    return {**TYPED, **changes}


def test_a_calibration_is_kept_with_what_is_computed(page, build, builder):
    assert page.post("calibration_new", data=sent()).status_code == 302
    kept = build.calibrations.get()
    assert kept.made_by == builder
    assert kept.fit["x"]["inputs"]["rest"] == 508
    # Deadband: the larger of 2 % of half range (10.23) and 3 spreads (9, 6).
    assert kept.fit["x"]["results"]["deadband"] == pytest.approx(10.23)
    assert neutral_at_rest(kept)
    assert "At rest both axes command exactly 0." in page.get("calibrations").content.decode()


@pytest.mark.parametrize(
    ("changes", "field", "told"),
    [
        ({"x_rest": "950"}, "x_rest", "outside 96 to 931"),
        ({"x_low": "0"}, "x_low", "at the rail"),
        ({"y_high": "1023"}, "y_high", "at the rail"),
        ({"x_high": "540"}, "x_high", "throw to the upper side"),
        ({"y_low": "500"}, "y_low", "throw to the lower side"),
        ({"x_low": "508", "x_high": "508"}, "x_low", "Push all the way"),
        ({"y_high": "1500"}, "y_high", "1023 counts or less"),
        ({"x_spread": "90"}, "x_spread", "spread at rest"),
        ({"full_scale": "3"}, "full_scale", "15 counts or more"),
        ({"x_rest": "nan"}, "x_rest", "must be a number"),
        ({"x_rest": "inf"}, "x_rest", "must be a number"),
        ({"x_rest": "middle"}, "x_rest", "must be a number"),
        ({"x_rest": ""}, "x_rest", "Enter"),
        ({"x_low": "-5"}, "x_low", "0 counts or more"),
        ({"supply_v": "5 A"}, "supply_v", "must be a voltage"),
        ({"supply_v": "400 V"}, "supply_v", "60 V or less"),
        ({"instrument": ""}, "instrument", "Enter the instrument"),
        ({"instrument": "x" * 100_000}, "instrument", "80 characters or fewer"),
        ({"when": ""}, "when", "Choose"),
        ({"y_reversed": ""}, "y_reversed", "Choose"),
    ],
)
def test_what_cannot_be_is_refused_on_its_own_box(page, build, changes, field, told):
    answer = page.post("calibration_new", data=sent(**changes))
    assert answer.status_code == 422
    assert told in " ".join(answer.context["form"].errors[field])
    assert not build.calibrations.exists()


@st.composite
def readings(draw):
    """Whatever a stick may give, as a person would type it."""
    full = draw(st.sampled_from([255, 1023, 4095, 65535]))
    typed = {"full_scale": str(full)}
    for axis in AXES:
        low = draw(st.floats(1, full * 0.4))
        high = draw(st.floats(full * 0.6, full - 1))
        rest = draw(st.floats(low, high))
        for name, value in (("low", low), ("high", high), ("rest", rest)):
            typed[f"{axis}_{name}"] = repr(value)
        typed[f"{axis}_spread"] = draw(st.one_of(st.just(""), st.floats(0, full * 0.02).map(repr)))
        typed[f"{axis}_reversed"] = draw(st.sampled_from(["yes", "no"]))
    return typed


@settings(deadline=None, max_examples=150)
@given(readings())
def test_rest_commands_exactly_zero_whatever_was_read(typed):
    form = CalibrationForm(sent(**typed), units="metric")
    if not form.is_valid():
        return  # refused: nothing is kept, so nothing is commanded
    fits = fit_readings(form.cleaned_data)
    for axis in AXES:
        fit = AxisFit(**fits[axis]["results"])
        assert command(fit, form.cleaned_data[f"{axis}_rest"]) == 0
        for end in ("low", "high"):
            assert abs(command(fit, form.cleaned_data[f"{axis}_{end}"])) == 1


def test_most_readings_of_a_good_stick_are_taken():
    """So that the property above does not hold because everything is refused."""
    taken = [CalibrationForm(sent(x_rest=str(rest)), units="metric").is_valid() for rest in range(180, 840, 20)]
    assert all(taken)


def test_a_reversed_axis_commands_the_other_way(build, builder):
    made = make_calibration(build, builder, y_reversed="yes")
    assert command(axis_fit(made, "y"), made.y_high) == -1
    assert command(axis_fit(made, "x"), made.x_high) == 1


def test_an_accepted_calibration_makes_the_next_configuration(page, build, builder):
    made = make_calibration(build, builder)
    before = build.configuration().number
    assert page.post("calibration_accept", made.pk).status_code == 302
    now = fresh(build).configuration()
    assert (now.number, now.calibration, now.side) == (before + 1, made, "left")
    assert now.shoulder_place == [0.26, 0.13, 0.62]


def test_a_calibration_of_the_other_side_moves_the_control_and_forgets_its_places(build, builder):
    make_accepted_calibration(build, builder, side="right")
    now = fresh(build).configuration()
    assert (now.side, now.shoulder_place, now.control_place) == ("right", None, None)
    assert now.rider_place == [0.28, 0.0, 0.46]


def test_readings_as_found_are_not_accepted(build, builder):
    with pytest.raises(Refused, match="Only readings as left"):
        accept_calibration(make_calibration(build, builder, when="as_found"), builder)


def test_a_struck_calibration_is_not_accepted(build, builder):
    made = make_calibration(build, builder)
    made.strike(builder, "Stick was held")
    with pytest.raises(Refused, match="struck"):
        accept_calibration(made, builder)


def test_a_calibration_of_an_unknown_side_is_not_accepted(build, builder):
    with pytest.raises(Refused, match="side of this calibration is unknown"):
        accept_calibration(make_calibration(build, builder, side="unknown"), builder)


def test_a_calibration_whose_fit_does_not_rest_is_not_accepted(build, builder):
    made = make_calibration(build, builder)
    Calibration.objects.filter(pk=made.pk).update(x_rest=600)
    with pytest.raises(Refused, match="exactly 0 at rest"):
        accept_calibration(made, builder)


def test_accepting_twice_makes_one_configuration(page, build, builder):
    made = make_accepted_calibration(build, builder)
    count = build.configurations.count()
    page.post("calibration_accept", made.pk)
    assert build.configurations.count() == count


def test_as_found_and_as_left_stand_side_by_side(page, build, builder):
    make_calibration(build, builder, when="as_found", x_rest=540.0)
    make_calibration(build, builder)
    text = page.get("calibrations").content.decode()
    assert 'data-label="As found">540<' in text
    assert 'data-label="Difference">-32<' in text


def test_a_struck_calibration_stays_readable(page, build, builder):
    made = make_calibration(build, builder)
    assert page.post("calibration_strike", made.pk, data={"reason": ""}).status_code == 422
    assert page.post("calibration_strike", made.pk, data={"reason": "Stick was held"}).status_code == 302
    text = page.get("calibrations").content.decode()
    assert "Stick was held" in text
    assert "Accept for the client" not in text
