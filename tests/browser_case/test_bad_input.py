"""What goes wrong with forms in a real browser: double clicks, two tabs, long words, a lost connection."""

import re

import pytest
from playwright.sync_api import Error, expect

from builds.record.models import Problem
from clients.models import Caregiver, Measure, PersonFile, Place

LONG = "W" * 150


def overflow(somebody):
    return somebody.page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")


@pytest.mark.browser
def test_a_double_click_makes_one_measure(build, crew, person):
    cora = person(crew.coordinator).open(f"/clients/{build.client}/measures/new/").fill("Elbow height", "16 cm")
    cora.page.get_by_role("button", name="Save the measures").dblclick()
    # The second sending breaks off the answer to the first, so only where the browser ends up can be waited for.
    expect(cora.page).to_have_url(re.compile(rf"/clients/{build.client}/(#.*)?$"))
    cora.page.wait_for_load_state("networkidle")
    assert Measure.objects.filter(client=build.client, kind=Measure.Kind.ELBOW_HEIGHT).count() == 1


@pytest.mark.browser
def test_the_second_tab_is_told_what_changed_and_keeps_what_was_typed(build, crew, person):
    place = Place.objects.get(client=build.client)
    address = f"/clients/{build.client}/places/{place.pk}/"
    cora, in_another_tab = person(crew.coordinator).open(address), person(crew.coordinator).open(address)

    cora.fill("Steepest slope", "6").press("Save the place")
    in_another_tab.fill("Steepest slope", "2").fill("Street, water, stairs or other hazards near", "A pond")
    told = in_another_tab.press_refused("Save the place")
    assert "Steepest slope is now 6" in told
    assert "it was 4" in told
    assert in_another_tab.page.get_by_label("Steepest slope", exact=True).input_value() == "2"
    hazards = in_another_tab.page.get_by_label("Street, water, stairs or other hazards near", exact=True)
    assert hazards.input_value() == "A pond"
    place.refresh_from_db()
    assert (place.slope_deg, place.hazards) == (6, "")

    # Having seen it, the person may decide.
    in_another_tab.press("Save the place")
    place.refresh_from_db()
    assert (place.slope_deg, place.hazards) == (2, "A pond")


@pytest.mark.browser
def test_long_words_never_make_a_phone_scroll_sideways(build, crew, person):
    cora = person(crew.coordinator, width=360).open(f"/clients/{build.client}/places/new/")
    cora.select("Kind of place", "School").fill("What the family calls it", LONG[:60])
    cora.fill("Street, water, stairs or other hazards near", LONG)
    assert "Steepest slope must be" in cora.fill("Steepest slope", LONG[:30]).press_refused("Add the place")
    assert overflow(cora) <= 0
    cora.fill("Steepest slope", "3").press("Add the place")
    assert overflow(cora) <= 0

    cora.follow("Add a goal").fill("Goal, in the family's words", LONG).fill("Expected level (0)", LONG)
    cora.choose("Importance to the family", "3, most").choose("Difficulty", "2").press("Add the goal")
    assert overflow(cora) <= 0
    cora.open(f"/builds/{build.number}/problems/new/")
    cora.page.get_by_role("main").get_by_role("textbox").first.fill(LONG)
    cora.press("Write it down")
    assert overflow(cora) <= 0
    for address in (f"/builds/{build.number}/configurations/", f"/clients/{build.client}/trail/", f"/search/?q={LONG}"):
        cora.open(address)
        assert overflow(cora) <= 0, address


@pytest.mark.browser
@pytest.mark.parametrize("width", [360, 1280])
def test_names_without_a_space_never_make_the_lists_scroll_sideways(build, crew, person, width):
    client = build.client
    PersonFile.objects.filter(client=client).update(given_name=LONG[:120], family_name=LONG[:120])
    Caregiver.objects.filter(client=client).update(name=LONG[:120], relation=LONG[:80], email=f"{LONG[:60]}@lab.test")
    Place.objects.filter(client=client).update(name=LONG[:80], hazards=LONG)
    cora = person(crew.coordinator, width=width)
    for address in ("/clients/", "/waiting/", f"/clients/{client}/"):
        assert LONG[:80] in cora.open(address).page.content()
        assert overflow(cora) <= 0, address


@pytest.mark.browser
def test_a_form_resent_after_a_lost_answer_counts_once(build, crew, person):
    """The lab's network drops the answer: the site has saved, the browser shows nothing. Reloading sends it again."""
    bo = person(crew.builder).open(f"/builds/{build.number}/problems/new/")
    bo.page.get_by_role("main").get_by_role("textbox").first.fill("The left wheel rubs")
    bo.page.route("**/problems/new/", answer_is_lost, times=1)
    send_without_an_answer(bo)
    assert Problem.objects.filter(build=build).count() == 1
    bo.page.reload()
    bo.sees("This form was already sent. It was saved once.")
    assert Problem.objects.filter(build=build).count() == 1


@pytest.mark.browser
def test_a_form_that_never_arrived_is_sent_again(build, crew, person):
    bo = person(crew.builder).open(f"/builds/{build.number}/problems/new/")
    bo.page.get_by_role("main").get_by_role("textbox").first.fill("The left wheel rubs")
    bo.page.route("**/problems/new/", lambda route: route.abort(), times=1)
    send_without_an_answer(bo)
    assert not Problem.objects.filter(build=build).exists()
    bo.page.reload()
    bo.sees("It is in the problem log.")
    assert Problem.objects.filter(build=build).count() == 1


def send_without_an_answer(somebody):
    with pytest.raises(Error, match="ERR_FAILED"), somebody.page.expect_navigation():
        somebody.page.get_by_role("button", name="Write it down").click()
    somebody.page.wait_for_function("location.protocol === 'chrome-error:'")


def answer_is_lost(route):
    route.fetch(max_redirects=0)
    route.abort()
