"""The page around the work: menu by role, a refused form, and the components every room uses."""

import datetime
from dataclasses import replace
from types import SimpleNamespace

import pytest
from django import forms
from django.http import Http404
from django.template import Context, Template
from django.template.loader import render_to_string
from django.test import RequestFactory
from django.urls import path
from django.utils import timezone

from builds.engineering.finding import Finding
from labsite import figures, pages
from labsite.forms import LabForm
from labsite.templatetags.page import STATES, state_of


class PhoneForm(LabForm):
    phone = forms.CharField(label="Lab phone")


@pytest.fixture
def request_by(lab, coordinator):
    def make(method="get"):
        request = getattr(RequestFactory(), method)("/lab/")
        request.user, request.lab, request._messages = coordinator, lab, []
        return request

    return make


def test_a_fresh_form_answers_200_with_its_title(request_by):
    answer = pages.show_form(request_by(), PhoneForm(), title="Lab phone", submit="Save the phone")
    assert answer.status_code == 200
    assert b"<title>Lab phone - " in answer.content
    assert b"Save the phone" in answer.content


def test_a_refused_form_answers_422_and_the_title_says_so(request_by):
    answer = pages.show_form(request_by("post"), PhoneForm({}), title="Lab phone", submit="Save")
    assert answer.status_code == 422
    assert b"<title>Error: Lab phone - " in answer.content
    assert b'role="alert"' in answer.content


def test_two_forms_on_one_page_have_two_once_tokens(request_by):
    page = render_to_string("components/_post_button.html", {"action": "/a/", "label": "Go"}, request_by())
    other = render_to_string("components/_post_button.html", {"action": "/a/", "label": "Go"}, request_by())
    assert 'name="once"' in page and page != other


def test_the_menu_follows_the_roles(coordinator, builder, settings):
    settings.ROOT_URLCONF = __name__
    assert ("/accounts/", "Accounts") in pages.navigation(coordinator)
    assert pages.navigation(builder) == [("/mine/", "My builds")]


def test_the_menu_leaves_out_places_that_are_not_built(coordinator, settings):
    settings.ROOT_URLCONF = __name__
    assert [label for _, label in pages.navigation(coordinator)] == ["Accounts"]


def test_a_signed_out_page_has_no_menu():
    assert pages.navigation(None) == []


def nothing(request):
    raise Http404


urlpatterns = [path("accounts/", nothing, name="accounts"), path("mine/", nothing, name="my_builds")]


def test_a_stranger_gets_our_words_for_a_page_that_is_not_there(as_person, coordinator):
    answer = as_person(coordinator).get("/no-such-page/")
    assert answer.status_code == 404
    assert b"There is no page at this address, or it is not open to you." in answer.content
    assert b'id="main"' in answer.content


@pytest.mark.parametrize("template", ["403_csrf.html", "500.html"])
def test_the_last_resort_pages_need_nothing_from_the_request(template):
    assert "<h1>" in render_to_string(template)


@pytest.mark.parametrize("name", STATES)
def test_every_state_is_a_word_and_a_shape(name):
    shown = render_to_string("components/_state.html", state_of(name))
    assert STATES[name][0] in shown
    assert "<svg" in shown


def test_verdicts_differ_in_shape_as_well_as_in_word():
    assert len({state_of(name)["shape"] for name in ("fits", "check", "stop", "unknown")}) == 4


def test_every_shape_named_is_drawn_apart():
    drawn = {shape: render_to_string("components/_shape.html", {"shape": shape}) for _, shape in STATES.values()}
    assert len(set(drawn.values())) == len(drawn)


def test_a_state_without_a_shape_of_its_own_still_has_its_word():
    assert state_of("in_use")["word"] == "In use"


FINDING = Finding(
    name="Drop <b>", value=0.41237, unit="V", limit=None, verdict="unknown", formula="current times resistance",
    source="ASTM B258", inputs=(("current", "4 A"),), missing="the insulation",
)  # fmt: skip


@pytest.mark.django_db
@pytest.mark.parametrize("template", ["_finding.html", "_findings.html"])
def test_a_finding_shows_its_value_verdict_and_working(template):
    shown = render_to_string(f"components/{template}", {"finding": FINDING, "findings": [FINDING]})
    working = ("current: 4 A", "current times resistance", "ASTM B258")
    for words in ("0.412 V", "Unknown", "Missing: the insulation", *working):
        assert words in shown
    assert "Drop &lt;b&gt;" in shown


@pytest.mark.django_db
def test_a_finding_without_a_value_says_unknown():
    blank = replace(FINDING, value=None)
    shown = render_to_string("components/_finding.html", {"finding": blank})
    assert '<span class="finding-value">unknown</span>' in shown


@pytest.mark.django_db
@pytest.mark.parametrize("template", ["_finding.html", "_findings.html"])
def test_a_value_just_over_its_limit_never_reads_as_the_limit(template):
    close = replace(FINDING, value=10.0004, limit=10.0, verdict="stop", missing="")
    shown = render_to_string(f"components/{template}", {"finding": close, "findings": [close]})
    assert "10.0004 V" in shown and "10 V" in shown


def test_a_struck_entry_stays_readable_with_its_reason():
    at = datetime.datetime(2026, 3, 5, 14, 30, tzinfo=datetime.UTC)
    entry = SimpleNamespace(struck_at=at, struck_by="Bo Lind", struck_reason="wrong scale")
    with timezone.override("America/Chicago"):
        shown = render_to_string("components/_struck.html", {"entry": entry, "text": "16 kg"})
    assert "<del>16 kg</del>" in shown
    assert "Struck by Bo Lind on 5 Mar 2026, 08:30: wrong scale" in shown


@pytest.mark.parametrize(
    ("side", "words"),
    [("left", "is on the occupant's left."), ("right", "is on the occupant's right."), ("", "The side is unknown.")],
)
def test_the_side_is_also_told_in_words(side, words):
    shown = render_to_string("components/_side_picture.html", {"side": side})
    assert words in shown
    assert "nose points forward" in shown


@pytest.mark.parametrize(
    ("value", "words"),
    [(None, "unknown"), (0.0123456, "0.0123"), (12.3456, "12.3"), (1234.5, "1,230"), (0.0, "0"), (7, "7"),
     (True, "yes"), ("brown", "brown"), (float("nan"), "unknown"), (0.0999999, "0.100")],
)  # fmt: skip
def test_figures_read_to_three_significant_digits(value, words):
    assert figures.significant(value) == words


def test_a_quantity_is_shown_in_the_labs_units_and_none_is_unknown(lab):
    lab.units = "us"
    lab.save(update_fields=["units"])
    page = Template('{% load builds_format %}{{ mass|quantity:"mass" }} {{ none|quantity:"mass" }}')
    shown = page.render(Context({"mass": 20 * 0.45359237, "none": None}))
    assert shown.startswith("20") and shown.endswith("lb unknown")
