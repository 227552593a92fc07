"""One whole case through the pages: from an empty database to the signed hand-off, four people signing in."""

import io
import re
import sys

import pytest
from django.core.management import call_command

from tests.browser_case import bench, desk, leaving
from tests.browser_case.pages import Person

PHONE = 360  # the builder works at the bench with a phone


@pytest.fixture
def lab_of_today(transactional_db, monkeypatch):
    """What a real lab starts with: the plans, and the first coordinator made by the command."""
    call_command("load_plans", stdout=io.StringIO())
    monkeypatch.setattr(sys, "stdin", io.StringIO(desk.PASSWORDS["cora"] + "\n"))
    call_command(
        "first_coordinator", "--username", "cora", "--full-name", "Cora Ames", "--password-stdin", stdout=io.StringIO()
    )


def people(browser, url):
    """The coordinator signs in and adds the others, who each sign in and choose a password."""
    cora = Person(browser, url).sign_in("cora", desk.PASSWORDS["cora"])
    desk.lab_settings(cora)
    others = []
    for username, one_time in desk.make_accounts(cora).items():
        person = Person(browser, url, width=PHONE if username == "bo" else 1280)
        desk.first_sign_in(person, username, one_time)
        others.append(person)
    return cora, *others


@pytest.mark.browser
def test_one_case_from_referral_to_the_signed_hand_off(lab_of_today, live_server, browser):
    cora, bo, olu, rhea = people(browser, live_server.url)
    desk.referral(cora)
    desk.intake(cora)
    desk.assessment(cora)
    desk.clearance(cora)
    desk.unit_and_power(cora)
    desk.start_build(cora)

    bench.incoming_test(bo, rhea)
    bench.teardown(bo)
    bench.adaptation(bo)
    bench.first_power(bo, olu, rhea)
    bench.commissioning(bo, rhea, cora)
    bench.fitting(bo)

    leaving.hand_over(cora)
    leaving.leave(cora, bo, rhea)

    papers_tell_this_case(leaving.kept_papers(cora))
    nobody_at_the_bench_reads_a_name(bo)
    assert [person.trouble for person in (cora, bo, olu, rhea)] == [[]] * 4


EQUIPMENT = "equipment U-201 · settings 4 · copy 1"  # families read plain words


def papers_tell_this_case(papers):
    for kind, text in papers.items():
        told = "unit U-201 · configuration 4 · copy 1" if kind == "as-built record" else EQUIPMENT
        assert told in text, kind
        assert "Lab phone: 555 0142" in text, kind
        # Cautions of the plan are on every paper.
        assert "A car, a pool or a fall down stairs can kill." in text, kind
    for kind in ("use guide", "supervision card", "hand-off sheet", "as-built record"):
        whose = "occupant" if kind == "as-built record" else "child"
        assert f"The stick is on the {whose}'s right." in papers[kind]
        assert "2.5 km/h (1.6 mph)" in papers[kind]  # 0.7 m/s: 0.7 x 3.6 and 0.7 / 0.44704 (NIST SP 811)
        assert "29.4 kg (65 lb) in all" in papers[kind]  # 65 lb are 29.48 kg; neither may say more
    for kind in ("use guide", "supervision card"):
        assert "Rescue medicine in the adult's pocket." in papers[kind]  # the client's own caution
        assert "Stop after 12 minutes" in papers[kind]
        assert "Pull plug behind the seat" in papers[kind]
        assert "press the stop switch. It is here: on the push handle, the red knob." in papers[kind]
    assert "Call the emergency number first: 911." in papers["use guide"]
    charging = papers["charging guide"]
    # 12 Ah from empty x 1.2 / 3 A = 4.8 h, up to the half hour 5 h: 15:30 to 20:30, before bedtime at 22:00.
    starts, ends = re.search(r"Plug in at (.+?) Take it off by (.+?) (?:Between|Never)", charging).groups()
    clock = re.compile(r"\d+:\d\d [ap]m \((\d\d:\d\d)\)")
    assert dict(zip(clock.findall(starts), clock.findall(ends), strict=True))["15:30"] == "20:30"
    assert "ever longer than 5 hours" in charging
    assert "Later than 5:00 pm (17:00)? Then wait" in charging
    assert "Use only the charger with the number CH-5" in charging
    assert all(adult in papers["hand-off sheet"] for adult in leaving.ADULTS)
    assert not any("Castellan" in papers[kind] for kind in papers if kind != "hand-off sheet")


def nobody_at_the_bench_reads_a_name(bo):
    for address in ("/builds/B-0001/", "/clients/C-1001/", "/builds/B-0001/papers/", "/search/?q=Castellan"):
        assert "Mirela" not in bo.open(address).text
        assert "Elena" not in bo.text
