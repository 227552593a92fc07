"""Whoever writes what families will read sees its level, its long sentences and its hard words before saving."""

import pytest
from django.urls import reverse

from labsite.family_words import wording_of
from labsite.models import Lab

LONG = "Stop the unit at once and then walk around it and look at each of the wheels and at the seat and at the belts."
SETTINGS = {
    "name": "Alder Creek", "phone": "555 0142", "emergency_number": "911", "time_zone": "UTC", "paper": "letter",
    "units": "metric",
}  # fmt: skip


def test_short_and_plain_is_easy():
    found = wording_of("Pull the red plug. Then call us.")
    assert found.is_easy
    assert (found.long, found.hard, found.trade) == ([], [], [])


def test_long_sentences_hard_words_and_words_of_the_trade_are_named():
    found = wording_of(f"{LONG} Deactivate the configuration.")
    assert found.long == [LONG]
    assert found.hard == ["deactivate", "configuration"]
    assert found.trade == [("configuration", "settings")]
    assert not found.is_easy


@pytest.mark.parametrize("text", ["", None, "   ", "...", "x" * 100_000])
def test_nothing_to_read_or_too_much_is_no_trouble(text):
    assert wording_of(text) is None or wording_of(text).grade >= 0


def test_checking_the_wording_saves_nothing_and_shows_it(lab, coordinator, as_person):
    client, address = as_person(coordinator), reverse("lab_settings")
    sent = {**SETTINGS, "hours": "Weekdays", "outside_hours": "Discontinue utilization", "check_wording": "yes"}
    form = client.get(address).context["form"]
    answer = client.post(address, {**sent, "seen": form.fields["seen"].fresh})
    assert answer.status_code == 200
    assert "Hard words: discontinue, utilization" in answer.text
    assert 'value="Discontinue utilization"' in answer.text
    assert Lab.objects.get().outside_hours == "Stop using the equipment and leave a message"


def test_a_saved_text_shows_its_level_when_the_form_is_opened_again(lab, coordinator, as_person):
    page = as_person(coordinator).get(reverse("lab_settings")).text
    assert "Check the wording" in page
    assert "What a family does outside these hours:" in page
