"""The lab's own facts: whom to call, when, on which paper, in which units."""

import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils import timezone

from builds.engineering import limits
from builds.engineering.finding import EngineeringError
from labsite.models import Lab

TYPED = {
    "name": "Alder Creek Adaptive Equipment Lab",
    "phone": "555 0142",
    "hours": "Monday to Friday, 9:00 to 17:00",
    "outside_hours": "",
    "emergency_number": "911",
    "time_zone": "America/Chicago",
    "paper": "letter",
    "units": "us",
    "walking_pace_m_s": "1.2",
    "reaction_s": "1.5",
    "least_tip_deg": "20",
    "least_over_slope_deg": "12",
    "least_arm_margin": "3",
    "most_power_drop_percent": "5",
    "most_control_drop_percent": "2",
    "most_fuse_share": "0.7",
}
TIGHTENED = (
    ("least_tip_deg", limits.TIP_ANGLE),
    ("least_over_slope_deg", limits.TIP_OVER_SLOPE),
    ("least_arm_margin", limits.ARM_MARGIN),
    ("most_power_drop_percent", limits.DROP_POWER),
    ("most_control_drop_percent", limits.DROP_CONTROL),
    ("most_fuse_share", limits.FUSE_SHARE),
)


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
    asked = ["Lab name", "Lab phone", "Hours when the phone is answered", "Emergency number of your country or region"]
    assert Lab.current().missing() == asked


def test_the_page_says_what_the_papers_wait_for(desk):
    told = "Not known yet, and the papers wait for it: "
    assert told in desk.get(reverse("lab_settings")).content.decode()
    desk.post(reverse("lab_settings"), TYPED)
    Lab.objects.update(emergency_number="")
    assert f"{told}Emergency number of your country or region." in desk.get(reverse("lab_settings")).content.decode()
    assert saved_again(desk, emergency_number="112").status_code == 302
    assert told not in desk.get(reverse("lab_settings")).content.decode()


def test_the_facts_are_kept_in_one_row_however_often_they_change(desk):
    assert desk.post(reverse("lab_settings"), TYPED).status_code == 302
    assert saved_again(desk, phone="555 0143").status_code == 302
    lab = Lab.objects.get()
    assert (lab.phone, lab.units, lab.walking_pace_m_s, lab.least_tip_deg) == ("555 0143", "us", 1.2, 20.0)
    assert lab.missing() == []


def test_what_is_not_known_stays_unknown(desk):
    desk.post(reverse("lab_settings"), {**TYPED, "walking_pace_m_s": "", "reaction_s": "", "least_tip_deg": ""})
    lab = Lab.objects.get()
    assert lab.walking_pace_m_s is None and lab.reaction_s is None
    assert lab.least_tip_deg is None


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"phone": ""}, "Enter the lab phone"),
        ({"phone": "call us"}, "Enter the lab phone with all its digits."),
        ({"hours": ""}, "Enter the hours when the phone is answered"),
        ({"emergency_number": ""}, "Enter the emergency number of your country or region"),
        ({"emergency_number": "the police"}, "Enter the emergency number with all its digits."),
        ({"emergency_number": "1"}, "Enter the emergency number with all its digits."),
        ({"name": "x" * 100_000}, "must be 120 characters or fewer"),
        ({"time_zone": "Moon/Base"}, "Choose the time zone"),
        ({"paper": "papyrus"}, "Choose the paper size"),
        ({"walking_pace_m_s": "9"}, "must be 2.5"),
        ({"walking_pace_m_s": "nan"}, "Walking pace"),
        ({"reaction_s": "0.1"}, "must be 0.5"),
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


def looser(limit):
    return limit.value - 0.01 if limit.at_least else limit.value + 0.01


def test_every_limit_of_the_house_can_be_tightened_here():
    assert [limit for _, limit in TIGHTENED] == sorted(limits.LIMITS, key=[one for _, one in TIGHTENED].index)


@pytest.mark.parametrize(("name", "limit"), TIGHTENED)
def test_no_limit_is_loosened_by_the_form_the_record_or_the_calculation(desk, name, limit):
    response = desk.post(reverse("lab_settings"), {**TYPED, name: str(looser(limit))})
    assert response.status_code == 422
    assert f"must be {limit.value:g} or {'more' if limit.at_least else 'less'}" in errors_of(response)
    lab = Lab(name="Lab", phone="555 0142", hours="Always", **{name: looser(limit)})
    with pytest.raises(ValidationError) as refused:
        lab.full_clean()
    assert list(refused.value.message_dict) == [name]
    with pytest.raises(EngineeringError, match=limit.label):
        limits.tightened(limit, looser(limit))


@pytest.mark.parametrize(("name", "limit"), TIGHTENED)
def test_a_limit_is_tightened_up_to_the_strictest(desk, name, limit):
    assert desk.post(reverse("lab_settings"), {**TYPED, name: str(limit.strictest)}).status_code == 302
    assert getattr(Lab.objects.get(), name) == limit.strictest


@pytest.mark.parametrize(("name", "limit"), TIGHTENED)
def test_the_page_says_what_holds_while_nothing_is_entered(desk, name, limit):
    field = desk.get(reverse("lab_settings")).context["form"].fields[name]
    assert f"if {limit.value:g} is enough: {limit.source}" in field.help_text


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
    with timezone.override(None):
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
