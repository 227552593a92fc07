"""The next configuration: typed settings, what is refused, the second tab, and the history."""

import pytest

from builds.record.rules import configure
from tests.builds.wiring.making import fresh, typed


def opened(page):
    return typed_places(page.get("configuration_edit").context["form"])


def typed_places(form):
    """What a browser sends, with the three boxes of each place."""
    data = typed(form)
    for name in ("rider_place", "shoulder_place", "control_place"):
        parts = data.pop(name, None)
        for position, part in enumerate(parts or []):
            data[f"{name}_{position}"] = part
    return data


def sent(page, **changes):
    return page.post("configuration_edit", data={**opened(page), "reason": "Tried it on", **changes})


def test_a_changed_setting_makes_the_next_number(page, build, builder):
    before = build.configuration()
    assert sent(page, ceiling_m_s="2 km/h", ceilings="slow; 30 %; 2 km/h").status_code == 302
    now = fresh(build).configuration()
    assert now.number == before.number + 1
    assert now.ceiling_m_s == pytest.approx(0.55556, abs=1e-4)
    assert now.ceilings == [{"position": "slow", "share": 0.3, "ceiling_m_s": pytest.approx(0.55556, abs=1e-4)}]
    changed = {"ceiling_m_s": None, "ceilings": None}
    assert {**now.settings(), **changed} == {**before.settings(), **changed}
    assert (now.made_by, now.reason) == (builder, "Tried it on")


def test_nothing_changed_makes_no_configuration(page, build):
    assert sent(page).status_code == 302
    assert fresh(build).configuration().number == build.configuration().number


def test_the_history_says_what_changed_between_the_numbers(page, build):
    sent(page, ceiling_m_s="0.5 m/s", seat="Foam wedge", ceilings="slow; 25 %; 0.5 m/s")
    text = page.get("configurations").content.decode()
    assert "Speed ceiling in use: 0.7 m/s became 0.5 m/s" in text
    assert "Seat: unknown became Foam wedge" in text


def test_where_the_switches_are_is_kept_as_it_was_typed(page, build):
    assert sent(page, stop_switch="on the handle, on top", power_switch="none").status_code == 302
    now = fresh(build).configuration()
    assert (now.stop_switch, now.power_switch) == ("on the handle, on top", "none")
    text = page.get("configurations").content.decode()
    assert "Stop switch, and where it is: on the push handle at the back, the red knob became on the handle" in text
    assert "Power switch, and where it is: under the seat, on the right became none" in text
    assert sent(page, stop_switch="").status_code == 302
    assert fresh(build).configuration().stop_switch == ""  # not known, which is not the same as none


def test_places_are_typed_in_three_boxes(page, build):
    assert sent(page, control_place_0="16 in", control_place_1="5", control_place_2="50").status_code == 302
    assert fresh(build).configuration().control_place == pytest.approx([0.4064, 0.05, 0.5])


@pytest.mark.parametrize(
    ("changes", "field", "told"),
    [
        ({"reason": ""}, "reason", "Enter"),
        ({"side": "front"}, "side", "Choose"),
        ({"ceiling_m_s": "30 km/h"}, "ceiling_m_s", "5 m/s or less"),
        ({"ceiling_m_s": "0"}, "ceiling_m_s", "0.05 m/s or more"),
        ({"ceiling_m_s": "3 kg"}, "ceiling_m_s", "must be a speed"),
        ({"supports": ["trunk"]}, "supports", "no chest strap without one"),
        ({"supports": ["rope"]}, "supports", "Choose"),
        ({"control_place_1": ""}, "control_place", "leave all three empty"),
        ({"shoulder_place_1": "-13"}, "shoulder_place", "must lie to the occupant's left"),
        ({"side": "right"}, "shoulder_place", "must lie to the occupant's right"),
        ({"side": "right", "shoulder_place_1": "-13"}, "control_place", "its place did not"),
        ({"battery": "99999"}, "battery", "Choose"),
        ({"mount": "x" * 100_000}, "mount", "300 characters or fewer"),
    ],
)
def test_what_cannot_be_is_refused_in_words(page, build, changes, field, told):
    answer = sent(page, **changes)
    assert answer.status_code == 422
    assert told in " ".join(answer.context["form"].errors[field])
    assert fresh(build).configuration().number == build.configuration().number


def test_a_second_tab_is_told_what_changed_and_decides(page, build, coordinator):
    data = {**opened(page), "reason": "Softer seat", "seat": "Foam wedge"}
    configure(build, coordinator, "Slower", ceiling_m_s=0.5)
    late = page.post("configuration_edit", data=data)
    assert late.status_code == 422
    assert "Speed ceiling in use was 0.7 m/s, now 0.5 m/s" in late.content.decode()
    again = typed_places(late.context["form"])
    assert page.post("configuration_edit", data=again).status_code == 302
    assert fresh(build).configuration().seat == "Foam wedge"


def test_what_was_typed_stays_after_a_refusal(page):
    answer = sent(page, ceiling_m_s="30 km/h", supports=["pelvis", "trunk"], seat="Foam wedge")
    form = answer.context["form"]
    assert form["ceiling_m_s"].value() == "30 km/h"
    assert form["supports"].value() == ["pelvis", "trunk"]
    assert form["seat"].value() == "Foam wedge"


def test_a_toy_has_no_ride_settings(coordinator, builder, lab, as_person):
    from django.urls import reverse

    from builds.demo.factories.parts import make_toy_unit
    from tests.builds.wiring.making import make_planned_build

    build = make_planned_build(coordinator, builder, plan="switch-socket", unit=make_toy_unit())
    form = as_person(builder).get(reverse("configuration_edit", args=[build.number])).context["form"]
    assert "ceiling_m_s" not in form.fields
    assert "battery" in form.fields
