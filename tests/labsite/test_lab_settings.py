"""The lab's own facts: whom to call, when, on which paper, in which units."""

import pytest
from django.urls import reverse
from django.utils import timezone

from labsite.models import Lab

TYPED = {
    "name": "Alder Creek Adaptive Equipment Lab",
    "phone": "555 0142",
    "hours": "Monday to Friday, 9:00 to 17:00",
    "outside_hours": "",
    "time_zone": "America/Chicago",
    "paper": "letter",
    "units": "us",
    "walking_pace_m_s": "1.2",
    "least_tip_deg": "20",
}


@pytest.fixture
def desk(as_person, coordinator):
    return as_person(coordinator)


def errors_of(response):
    return " ".join(message for messages in response.context["form"].errors.values() for message in messages)


def saved_again(desk, **typed):
    form = desk.get(reverse("lab_settings")).context["form"]
    shown = {name: form[name].value() for name in form.fields}
    return desk.post(reverse("lab_settings"), {k: "" if v is None else v for k, v in {**shown, **typed}.items()})


def test_a_new_lab_says_what_is_missing(db):
    assert Lab.current().missing() == ["Lab name", "Lab phone", "Hours when the phone is answered"]


def test_the_facts_are_kept_in_one_row_however_often_they_change(desk):
    assert desk.post(reverse("lab_settings"), TYPED).status_code == 302
    assert saved_again(desk, phone="555 0143").status_code == 302
    lab = Lab.objects.get()
    assert (lab.phone, lab.units, lab.walking_pace_m_s, lab.least_tip_deg) == ("555 0143", "us", 1.2, 20.0)
    assert lab.missing() == []


def test_what_is_not_known_stays_unknown(desk):
    desk.post(reverse("lab_settings"), {**TYPED, "walking_pace_m_s": "", "least_tip_deg": ""})
    lab = Lab.objects.get()
    assert lab.walking_pace_m_s is None
    assert lab.least_tip_deg is None


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"phone": ""}, "Enter the lab phone"),
        ({"phone": "call us"}, "Enter the lab phone with all its digits."),
        ({"hours": ""}, "Enter the hours when the phone is answered"),
        ({"name": "x" * 100_000}, "must be 120 characters or fewer"),
        ({"time_zone": "Moon/Base"}, "Choose the time zone"),
        ({"paper": "papyrus"}, "Choose the paper size"),
        ({"walking_pace_m_s": "9"}, "must be 2.5"),
        ({"walking_pace_m_s": "nan"}, "Walking pace"),
        ({"least_tip_deg": "10"}, "must be 15"),
        ({"least_tip_deg": "steep"}, "mallest tip angle"),
    ],
)
def test_a_refused_fact_says_what_to_do_and_keeps_what_was_typed(desk, typed, message):
    response = desk.post(reverse("lab_settings"), {**TYPED, **typed})
    assert response.status_code == 422
    assert message in errors_of(response)
    assert TYPED["outside_hours"] in response.content.decode()
    assert not Lab.objects.exists()


def test_a_second_tab_is_told_what_changed(desk):
    desk.post(reverse("lab_settings"), TYPED)
    form = desk.get(reverse("lab_settings")).context["form"]
    stale = {name: form[name].value() for name in form.fields}
    saved_again(desk, phone="555 0143")
    response = desk.post(reverse("lab_settings"), {**stale, "hours": "Mornings"})
    assert response.status_code == 422
    assert "Lab phone is now 555 0143" in errors_of(response)


def test_times_are_shown_in_the_labs_own_zone(client, lab, settings):
    shown = []
    settings.MIDDLEWARE = [*settings.MIDDLEWARE, "tests.labsite.test_lab_settings.Peek"]
    Peek.seen = shown
    client.get(reverse("sign_in"))
    assert shown == ["America/Chicago"]
    assert timezone.get_current_timezone_name() == "UTC"


class Peek:
    """Notes the time zone in which a page is made."""

    seen = []

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        self.seen.append(timezone.get_current_timezone_name())
        return self.get_response(request)
