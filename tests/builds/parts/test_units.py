"""Types and single units: what is typed, what is refused, and what the list shows."""

import datetime

import pytest
from django.urls import reverse
from django.utils import timezone

from builds.demo.factories.parts import BaseUnitFactory, TwoMotorTypeFactory
from builds.parts.models import BaseUnit, BaseUnitType

pytestmark = pytest.mark.django_db
TYPE = {"name": "Three-wheel ride-on, 12 V", "kind": "two_motor", "layout": "one-front", "motors": "2"}
POWER = {"battery_chemistry": "unknown", "charger_chemistry": "unknown"}


def unit_facts(**changes):
    kind = TwoMotorTypeFactory()
    facts = {"number": "u-7", "type": kind.pk, "origin": "donated", "received_on": "2026-01-05", "recall": "unknown"}
    return {**facts, **changes}


def errors(answer, name):
    return " ".join(answer.context["form"].errors.get(name, []))


def test_a_type_is_typed_in_the_units_at_hand(lab, coordinator, send):
    typed = {"rated_load_kg": "65 lb", "own_mass_kg": "16", "track_m": "44", "wheelbase_m": "2 ft"}
    typed["motor_stall_a"] = "28 A"
    place = {"own_place_0": "30", "own_place_1": "0", "own_place_2": "22 cm"}
    answer = send(coordinator, "unit_type_new", **TYPE, **POWER, **typed, **place)
    assert answer.status_code == 302
    kind = BaseUnitType.objects.get()
    assert kind.rated_load_kg == pytest.approx(29.4835, abs=1e-4)
    assert (kind.own_mass_kg, kind.motor_stall_a) == (16, 28)
    assert kind.track_m == pytest.approx(0.44) and kind.wheelbase_m == pytest.approx(0.6096)
    assert kind.own_place == pytest.approx([0.30, 0, 0.22])


@pytest.mark.parametrize("page", ["base_unit_new", "unit_type_new", "battery_new", "charger_new"])
def test_who_reviews_too_is_told_that_the_figures_are_own_work(lab, coordinator, as_person, page):
    told = "a hold point that judges a figure you enter here is released by somebody else"
    assert told not in as_person(coordinator).get(reverse(page)).content.decode()
    coordinator.is_reviewer = True
    coordinator.save(update_fields=["is_reviewer"])
    assert told in as_person(coordinator).get(reverse(page)).content.decode()


def test_what_is_left_empty_is_unknown_and_said_so(lab, coordinator, builder, send, as_person):
    assert send(coordinator, "unit_type_new", **TYPE, **POWER).status_code == 302
    kind = BaseUnitType.objects.get()
    assert kind.rated_load_kg is None and kind.own_place is None
    assert b"unknown" in as_person(builder).get(reverse("unit_types")).content


@pytest.mark.parametrize(
    ("typed", "field", "says"),
    [
        ({"rated_load_kg": "heavy"}, "rated_load_kg", "Rated load must be a mass"),
        ({"rated_load_kg": "3 m"}, "rated_load_kg", "m is the unit of"),
        ({"rated_load_kg": "900"}, "rated_load_kg", "Rated load must be 250 kg or less"),
        ({"rated_load_kg": "-3"}, "rated_load_kg", "Rated load must be 1 kg or more"),
        ({"battery_voltage_v": "48"}, "battery_voltage_v", "Battery voltage must be 24 V or less"),
        ({"motors": "two"}, "motors", "Number of drive motors must be a whole number"),
        ({"motors": "1"}, "motors", "Number of drive motors must be 2 for this kind"),
        ({"layout": "none"}, "layout", "Choose the wheels"),
        ({"motor_running_a": "9", "motor_stall_a": "4"}, "motor_stall_a", "must not be less than the running current"),
        ({"own_place_0": "30"}, "own_place", "Enter also how far to the occupant's left and up from the ground"),
        ({"own_place_0": "9 m", "own_place_1": "0", "own_place_2": "0"}, "own_place", "rear axle must be 300 cm"),
        ({"name": ""}, "name", "Enter the name of the type"),
        ({"name": "x" * 100_000}, "name", "Name of the type must be 120 characters or fewer"),
    ],
)
def test_a_type_that_cannot_be_is_refused_in_words(lab, coordinator, send, typed, field, says):
    answer = send(coordinator, "unit_type_new", **{**TYPE, **POWER, **typed})
    assert answer.status_code == 422
    assert says in errors(answer, field)
    assert not BaseUnitType.objects.exists()


def test_a_refused_place_stays_on_the_page(lab, coordinator, send):
    answer = send(coordinator, "unit_type_new", **TYPE, **POWER, own_place_0="30", own_place_2="<22>")
    page = answer.content.decode()
    assert 'value="30"' in page and 'value="&lt;22&gt;"' in page


def test_saving_a_type_unchanged_changes_nothing(lab, coordinator, send):
    kind = TwoMotorTypeFactory(own_place=[0.3333333333, -0.1, 0.21], rated_load_kg=29.48350895)
    assert send(coordinator, "unit_type_edit", kind.pk).status_code == 302
    again = BaseUnitType.objects.get()
    assert (again.own_place, again.rated_load_kg) == (kind.own_place, kind.rated_load_kg)


def test_a_second_tab_is_told_what_changed(lab, coordinator, as_person):
    kind = TwoMotorTypeFactory()
    client, address = as_person(coordinator), reverse("unit_type_edit", args=[kind.pk])
    form = client.get(address).context["form"]
    data = {bound.html_name: bound.value() for bound in form if bound.value() is not None and bound.name != "own_place"}
    data.update({f"own_place_{axis}": part for axis, part in enumerate(form["own_place"].value())})
    BaseUnitType.objects.filter(pk=kind.pk).update(rated_load_kg=20)
    answer = client.post(address, data)
    assert answer.status_code == 422
    assert "Rated load is now 20 kg (it was 29.5 kg when this page was opened)" in errors(answer, "rated_load_kg")


def test_a_unit_number_is_written_large_and_once(lab, coordinator, send):
    assert send(coordinator, "base_unit_new", **unit_facts()).status_code == 302
    assert BaseUnit.objects.get().number == "U-7"
    answer = send(coordinator, "base_unit_new", **unit_facts(number="U-7"))
    assert "Equipment number is already in use" in errors(answer, "number")


@pytest.mark.parametrize(
    ("typed", "field", "says"),
    [
        ({"number": ""}, "number", "Enter the equipment number"),
        ({"number": "U 7/8"}, "number", "letters, digits and hyphens"),
        ({"received_on": "yesterday"}, "received_on", "Date received must be a real date"),
        ({"received_on": "2999-01-01"}, "received_on", "Date received must be today or before"),
        ({"cost": "-1"}, "cost", "Cost must be 0 or more"),
        ({"cost": "free"}, "cost", "Cost must be a number"),
        ({"recall": "none"}, "recall_looked_up_on", "Enter the day when the recall was looked up"),
        ({"recall": "none"}, "recall_where", "Enter where the recall was looked up"),
        ({"recall_looked_up_on": "2999-01-01"}, "recall_looked_up_on", "must be today or before"),
        ({"origin": ""}, "origin", "Choose"),
        ({"type": "0"}, "type", "Choose the type from the list"),
    ],
)
def test_a_unit_that_cannot_be_is_refused_in_words(lab, coordinator, send, typed, field, says):
    answer = send(coordinator, "base_unit_new", **unit_facts(**typed))
    assert answer.status_code == 422
    assert says in errors(answer, field)


def test_an_unknown_cost_is_not_nothing(lab, coordinator, builder, send, as_person):
    send(coordinator, "base_unit_new", **unit_facts())
    assert BaseUnit.objects.get().cost is None
    assert "cost unknown" in as_person(builder).get(reverse("base_unit", args=["U-7"])).content.decode()


def test_the_list_says_free_held_and_do_not_use_in_words(build, builder, as_person):
    BaseUnitFactory(number="U-1")
    BaseUnitFactory(number="U-2").mark_do_not_use(builder, "The seat is cracked")
    page = as_person(builder).get(reverse("base_units")).content.decode()
    assert "Free" in page and f"Held by {build.number}" in page and "Do not use" in page
    assert "The seat is cracked" in page


def test_a_builder_elsewhere_is_not_led_to_the_build(build, other_builder, as_person):
    page = as_person(other_builder).get(reverse("base_unit", args=[build.unit.number])).content.decode()
    assert reverse("ticket", args=[build.number]) not in page


def test_the_list_takes_as_many_queries_for_one_unit_as_for_three(build, django_assert_num_queries):
    def states():
        return [unit.use_state() for unit in BaseUnit.objects.for_list() if unit.type.name]

    with django_assert_num_queries(2):
        assert len(states()) == 1
    BaseUnitFactory.create_batch(2)
    with django_assert_num_queries(2):
        assert len(states()) == 3


def test_types_count_their_units_in_one_query(lab, django_assert_num_queries):
    BaseUnitFactory.create_batch(3)
    with django_assert_num_queries(1):
        assert [kind.how_many for kind in BaseUnitType.objects.for_list()] == [3]


def test_battery_and_charger_are_saved_and_refused(lab, coordinator, send):
    facts = {"number": "BAT-1", "chemistry": "lead_acid", "voltage_v": "12", "capacity_ah": "12000 mAh"}
    assert send(coordinator, "battery_new", **facts).status_code == 302
    answer = send(coordinator, "battery_new", **{**facts, "capacity_ah": "12 V"})
    assert answer.status_code == 422 and "Capacity must be" in errors(answer, "capacity_ah")
    later = timezone.localdate() + datetime.timedelta(days=2)
    assert "today or before" in errors(send(coordinator, "battery_new", **{**facts, "bought_on": later}), "bought_on")
    charger = {"number": "CH-1", "chemistry": "lead_acid", "current_a": "1.5 A", "stops_by_itself": "unknown"}
    assert send(coordinator, "charger_new", **charger).status_code == 302
    answer = send(coordinator, "charger_new", **{**charger, "number": "CH-2", "current_a": "50"})
    assert "Current must be 20 A or less" in errors(answer, "current_a")
