"""From any number on a paper to its formula, inputs and source: the page of its numbers has every one."""

import re

import pytest
from django.urls import reverse

from builds.demo.factories.drive import make_accepted_calibration, make_timed_runs
from builds.papers.models import PaperKind
from builds.papers.numbers import OF_KIND, RECORDED, numbers_on
from builds.papers.render import render_html
from builds.record import registry
from tests.builds.papers.conftest import again

FAMILY = (PaperKind.USE_GUIDE, PaperKind.CHARGING_GUIDE, PaperKind.SUPERVISION_CARD)
# A number with a unit, a clock time, or hours in words. Numbers of equipment, phones and dates have none.
QUANTITY = re.compile(
    r"\d[\d.]* km/h \(\d[\d.]* mph\)|\d[\d.]* kg \(\d+ lb\)|\d+:\d\d [ap]m \(\d\d:\d\d\)|\d+(?: and a half)? hours?"
    r"|\d+ minutes"
)


def text_of(kind, build):
    html = render_html(kind, again(build), None, screen=True)
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html))


def of(kind, build):
    whole = registry.whole(again(build))
    return numbers_on(kind, whole, registry.reports(whole))


@pytest.mark.parametrize("kind", FAMILY)
def test_every_quantity_on_a_family_paper_is_on_its_page(ready, kind):
    printed = " | ".join(text for number in of(kind, ready) for text in number.printed)
    found = QUANTITY.findall(text_of(kind, ready))
    assert len(found) >= 4
    assert [one for one in found if one not in printed] == []


@pytest.mark.parametrize("kind", FAMILY)
def test_nothing_is_on_the_page_that_the_paper_does_not_print(ready, kind):
    text = text_of(kind, ready)
    assert [one for number in of(kind, ready) for one in number.printed if one not in text] == []


def test_the_computed_numbers_of_the_as_built_record_are_on_its_page(ready, builder):
    make_accepted_calibration(ready, builder)
    make_timed_runs(again(ready), builder)
    text = text_of(PaperKind.AS_BUILT, ready)
    numbers = {one.label: one for one in of(PaperKind.AS_BUILT, ready)}
    fastest = next(one for label, one in numbers.items() if label.startswith("Fastest run"))
    assert fastest.printed == ("0.67 m/s",)  # 3 m in 4.5 s
    deadbands = [one for label, one in numbers.items() if label.startswith("Deadband")]
    assert len(deadbands) == 2
    assert all(text_printed in text for one in (fastest, *deadbands) for text_printed in one.printed)


def test_the_as_built_page_has_every_finding_of_the_ticket(ready):
    whole = registry.whole(again(ready))
    reports = registry.reports(whole)
    shown = [one.finding for one in numbers_on(PaperKind.AS_BUILT, whole, reports)]
    assert all(finding in shown for report in reports.values() for _, finding in report.findings)
    assert {"voltage drop", "current in the wire", "tips to the occupant's left", "load"} <= {one.name for one in shown}


@pytest.mark.parametrize("kind", OF_KIND)
def test_each_number_has_formula_source_and_inputs(ready, kind):
    numbers = of(kind, ready)
    assert numbers
    for one in numbers:
        assert one.finding.formula and one.finding.source
        if one.printed and one.finding.formula != RECORDED:
            assert one.finding.inputs, one.label


def test_the_greatest_rider_by_hand(ready):
    """Derived: the rated load less each part that was added, as the inputs list them; never more than that."""
    rider = next(one.finding for one in of(PaperKind.USE_GUIDE, ready) if one.finding.name == "greatest rider")
    rated, *added = (float(value.removesuffix(" kg")) for _, value in rider.inputs)
    left = rated - sum(added)
    assert left - 0.1 < rider.value <= left
    assert rider.shown in text_of(PaperKind.USE_GUIDE, ready)


def test_the_page_links_each_number_to_the_ticket(ready, as_person, coordinator):
    browser = as_person(coordinator)
    page = browser.get(reverse("paper_numbers", args=[ready.number, "use_guide"])).content.decode()
    ticket = browser.get(reverse("ticket", args=[ready.number])).content.decode()
    anchors = re.findall(r'#(computed-[\w-]+)"', page)
    assert "computed-load" in anchors
    assert all(f'id="{one}"' in ticket for one in anchors)


def test_the_list_of_papers_leads_there_and_other_papers_have_no_such_page(ready, as_person, coordinator):
    browser = as_person(coordinator)
    listed = browser.get(reverse("papers", args=[ready.number])).content.decode()
    for kind in FAMILY:
        assert reverse("paper_numbers", args=[ready.number, kind]) in listed
    assert browser.get(reverse("paper_numbers", args=[ready.number, "stop_use_card"])).status_code == 404


def test_a_paper_on_screen_leads_to_its_numbers_and_over_a_family_link_it_does_not(ready, as_person, coordinator):
    browser = as_person(coordinator)
    for kind in ("use_guide", "stop_use_card"):
        address = reverse("paper_numbers", args=[ready.number, kind])
        read = browser.get(reverse("paper_view", args=[ready.number, kind])).content.decode()
        assert (f'href="{address}"' in read) == (kind == "use_guide")
        assert address not in render_html(kind, ready, screen=True, family="a-token")
        assert address not in render_html(kind, ready)
