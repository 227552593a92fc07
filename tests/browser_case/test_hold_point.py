"""A hold point that is not met, refused, released, voided by an edited wire run, and released again."""

import pytest

from builds.bench.models import Section
from builds.demo import harness, journey
from builds.demo.factories.parts import place_parts
from builds.record.holds import Stage
from builds.record.voiding import at_the_end

TICKS = ("Terminated at both ends", "Labelled at both ends", "Continuity", "Polarity", "Strain relief")
HOLD_PAGE = "/builds/B-0001/holds/first_power/"


@pytest.fixture
def unmeasured(build, crew):
    """Everything for First power is done but one thing: nobody measured where the fuses sit."""
    journey.take_to(build, Stage.ADAPTATION, crew)
    journey.work(build, crew, Section.ADAPTATION)
    with at_the_end():
        place_parts(build)
        harness.check_all(build, crew.builder, "first")
        harness.check_all(build, crew.second, "second")
    return build


def buttons(somebody):
    return [one.inner_text() for one in somebody.page.get_by_role("main").get_by_role("button").all()]


def measure_fuses(bo):
    for code, distance in (("F1", "12"), ("F2", "0")):
        bo.follow(f"Change fuse {code}").fill("Wire from the battery's positive post to the fuse", distance)
        bo.select("That wire is sheathed all the way", "No").press("Save")


def ask(bo, told="Ask a reviewer to release First power"):
    bo.ticket().do_next(told).press("Ask a reviewer to look")


def check_w5(somebody, page):
    somebody.ticket().follow(page).follow("Check run W5")
    for what in TICKS:
        somebody.choose(what, "Right")
    somebody.press("Save and go to the next run")


@pytest.mark.browser
def test_a_hold_point_is_refused_released_voided_and_released_again(unmeasured, crew, person):
    bo, olu, rhea = person(crew.builder), person(crew.second), person(crew.reviewer)

    # Unmet: the reviewer is told so and is offered no release, only a refusal with a reason.
    rhea.open(HOLD_PAGE).sees("It cannot be released while", "Each fuse is within 178 mm of wire")
    assert not any(words.startswith("Release") for words in buttons(rhea))
    rhea.follow("Refuse, with a reason")
    assert "Enter the reason for refusing" in rhea.press_refused("Refuse")
    rhea.fill("Reason for refusing", "The fuses are not measured").press("Refuse").sees("First power is refused.")

    # The builder reads the reason on the ticket, whose next thing leads to where it is mended.
    bo.ticket().sees("Refused by Rhea Voss: The fuses are not measured")
    bo.do_next("First power. Not known yet: Each fuse is within 178 mm")
    measure_fuses(bo)
    ask(bo, "First power was refused: The fuses are not measured. When that is mended, ask a reviewer again.")

    # Also as a reviewer the builder may not release their own work, with or without a button.
    bo.sees("You did work on this build. Somebody who did not must release it.")
    assert not any(words.startswith("Release") for words in buttons(bo))
    bo.send(f"{HOLD_PAGE}release/")
    bo.open(HOLD_PAGE).sees("You did work on this build")
    assert "First power is released" not in bo.text

    rhea.open("/reviews/").follow("First power").press("Release First power").sees("First power is released.")

    # A wire run is edited: the release is void by itself, and the ticket names the change.
    bo.ticket().follow("Wire runs and fuses").follow("Change run W5")
    bo.fill("Length, one way", "75 cm").fill("Reason for the deviation", "The motor sits further back").press("Save")
    bo.ticket().sees("Void because of a later change", "Wire run W5", "75 cm")
    told = "First power. Not known yet: Every wire run is terminated at both ends."
    bo.do_next(f"{told} Not checked by the first person yet: W5")
    check_w5(bo, "Wire checks")
    check_w5(olu, "Second-person check")
    ask(bo)

    # The second release shows what changed since the first.
    rhea.open("/reviews/").follow("First power").sees("What changed since the last release", "75 cm")
    rhea.press("Release First power").sees("First power is released.")
    bo.ticket().do_next("Move on to Commissioning")
    assert [one.trouble for one in (bo, olu, rhea)] == [[]] * 3
