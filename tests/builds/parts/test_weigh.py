"""All masses and places on one page, as quick as a column of a spreadsheet."""

import pytest
from django.urls import reverse

from builds.parts.models import BuildPart

pytestmark = pytest.mark.django_db


@pytest.fixture
def opened(build, builder, as_person):
    """The page as a builder opens it: how to send it, and what it holds."""
    client, address = as_person(builder), reverse("build_parts_weigh", args=[build.number])
    data = {}
    for form in client.get(address).context["forms"]:
        for bound in form:
            value = bound.value()
            if isinstance(value, list):
                data.update({f"{bound.html_name}_{axis}": part for axis, part in enumerate(value)})
            elif value is not None:
                data[bound.html_name] = value
    return lambda **typed: client.post(address, {**data, **typed})


def named(part, **typed):
    return {f"part{part.pk}-{name}": value for name, value in typed.items()}


def test_several_lines_are_weighed_and_placed_at_once(build, opened):
    seat, arm = build.parts.get(find_number=9), build.parts.get(find_number=4)
    typed = {**named(seat, mass_kg="2 lb", place_0="30", place_1="0", place_2="1 ft"), **named(arm, mass_kg="0.7")}
    assert opened(**typed).status_code == 302
    seat.refresh_from_db()
    arm.refresh_from_db()
    assert seat.mass_kg == pytest.approx(0.90718474) and seat.place == pytest.approx([0.30, 0, 0.3048])
    assert (arm.mass_kg, arm.place) == (0.7, None)


def test_lines_that_were_not_touched_stay_exactly_as_they_are(build, opened):
    before = list(build.parts.values_list("pk", "mass_kg", "place"))
    assert opened().status_code == 302
    assert list(build.parts.values_list("pk", "mass_kg", "place")) == before


def test_every_refusal_is_shown_with_its_part_and_nothing_is_saved(build, opened):
    seat, arm = build.parts.get(find_number=9), build.parts.get(find_number=4)
    answer = opened(**named(seat, mass_kg="heavy"), **named(arm, place_0="30", mass_kg="0.7"))
    page = answer.content.decode()
    assert answer.status_code == 422 and "<title>Error: " in page
    assert "Seat support with pelvic belt: Mass of each must be a mass" in page
    assert "Enter also how far" in page and 'value="heavy"' in page
    arm.refresh_from_db()
    assert arm.mass_kg == 0.65


def test_a_line_weighed_in_another_tab_is_told(build, opened):
    arm = build.parts.get(find_number=4)
    BuildPart.objects.filter(pk=arm.pk).update(mass_kg=0.9, place=[0.1, -0.2, 0.3])
    answer = opened(**named(arm, mass_kg="0.7"))
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Mass of each is now 0.9 kg (it was 0.65 kg when this page was opened)" in page
    assert "Where it sits is now 10 cm forward of the rear axle, -20 cm to the occupant&#x27;s left" in page


def test_what_does_not_stay_on_is_not_asked_for(build, builder, as_person):
    build.parts.get(find_number=1).strike(builder, "Not used")
    page = as_person(builder).get(reverse("build_parts_weigh", args=[build.number])).content.decode()
    assert "Controller board with its box" in page
    assert "Stick, two axes" not in page and "ties used up" not in page
