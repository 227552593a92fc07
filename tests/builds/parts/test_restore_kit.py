"""What was taken out, where it lies, and whether the kit is complete."""

import pytest
from django.urls import reverse

from builds.parts.models import RestoreKit

pytestmark = pytest.mark.django_db
PEDAL = {"name": "Foot pedal with its wire", "quantity": "1", "mark": "right", "location": "Shelf 3, box 12"}


def test_what_is_taken_out_is_listed_with_its_side(build, builder, send, as_person):
    assert send(builder, "restore_item_new", build.number, **PEDAL).status_code == 302
    item = build.restore_items.get()
    assert (item.mark, item.location, item.made_by) == ("right", "Shelf 3, box 12", builder)
    page = as_person(builder).get(reverse("restore_kit", args=[build.number])).content.decode()
    assert "Occupant&#x27;s right" in page
    assert "The plan expects" in page


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"name": ""}, "Enter what was taken out"),
        ({"mark": ""}, "Choose “Side it came from”"),
        ({"location": ""}, "Enter where it lies"),
        ({"quantity": "0"}, "How many must be 1 or more"),
        ({"quantity": "one"}, "How many must be a whole number"),
    ],
)
def test_what_is_missing_is_asked_for(build, builder, send, typed, says):
    answer = send(builder, "restore_item_new", build.number, **{**PEDAL, **typed})
    assert answer.status_code == 422
    assert says in answer.content.decode()
    assert not build.restore_items.exists()


def test_a_wrong_entry_is_struck_and_stays(build, builder, send, as_person):
    send(builder, "restore_item_new", build.number, **PEDAL)
    item = build.restore_items.get()
    assert send(builder, "restore_item_strike", build.number, item.pk, reason="It was never there").status_code == 302
    assert "It was never there" in as_person(builder).get(reverse("restore_kit", args=[build.number])).content.decode()


def test_a_kit_begins_unknown(build, builder, as_person):
    page = as_person(builder).get(reverse("restore_kit", args=[build.number])).content.decode()
    assert "<dt>Kit complete</dt><dd>Unknown" in page


def test_the_kit_is_said_complete_by_a_person_at_a_place(build, builder, send):
    answer = send(builder, "restore_kit_edit", build.number, complete="yes", location="Shelf 3, box 12")
    assert answer.status_code == 302
    kit = RestoreKit.objects.get(build=build)
    assert (kit.complete, kit.checked_by) == ("yes", builder) and kit.checked_at is not None


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"complete": "yes"}, "Enter where the kit lies"),
        ({"complete": "no", "location": "Shelf 3"}, "Enter what is missing"),
        ({"complete": "yes", "location": "Shelf 3", "missing": "Pedal"}, "What is missing must be empty"),
    ],
)
def test_a_kit_that_contradicts_itself_is_refused(build, builder, send, typed, says):
    answer = send(builder, "restore_kit_edit", build.number, **typed)
    assert answer.status_code == 422
    assert says in answer.content.decode()


def test_saying_it_again_changes_the_same_kit(build, builder, coordinator, send):
    send(builder, "restore_kit_edit", build.number, complete="no", location="Shelf 3", missing="Pedal")
    send(coordinator, "restore_kit_edit", build.number, complete="yes", missing="")
    kit = RestoreKit.objects.get(build=build)
    assert (kit.complete, kit.missing, kit.checked_by) == ("yes", "", coordinator)
