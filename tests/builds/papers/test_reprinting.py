"""When the configuration moves on, every copy that is out there is listed and gets a new one in one go."""

import pytest
from django.urls import reverse

from builds.papers import reprinting, rules
from builds.record import rules as record
from tests.builds.papers.conftest import again


@pytest.fixture
def out_there(ready, coordinator, monkeypatch):
    """Two guides with two people and a charging guide, all replaced by a new configuration."""
    monkeypatch.setattr(rules, "render_pdf", lambda html, build=None, **more: b"%PDF-1.7\n%%EOF\n")
    for given_to, size in (("Elena", "letter"), ("Tomas", "a4")):
        rules.issue(again(ready), "use_guide", coordinator, given_to=given_to, size=size)
    rules.issue(again(ready), "charging_guide", coordinator, given_to="Elena")
    record.configure(again(ready), coordinator, "Measured the shoulder", shoulder_place=[0.3, 0.1, 0.7])
    release_again(ready, coordinator)
    return again(ready)


def release_again(build, account):
    from builds.demo.factories.papers import release_up_to_papers

    release_up_to_papers(build, account)


def current(build):
    return sorted((one.kind, one.given_to, one.size) for one in rules.current(again(build)))


def test_each_place_gets_its_own_new_copy(out_there, coordinator):
    done = reprinting.reprint(out_there, coordinator)
    assert current(out_there) == [
        ("charging_guide", "Elena", "letter"), ("use_guide", "Elena", "letter"), ("use_guide", "Tomas", "a4"),
    ]  # fmt: skip
    assert done.refused == []
    assert {one.configuration.number for one in done.issued} == {3}


def test_the_old_copies_still_wait_to_be_collected(out_there, coordinator):
    reprinting.reprint(out_there, coordinator)
    assert len(rules.to_collect(again(out_there))) == 3


def test_what_has_its_new_copy_is_not_printed_again(out_there, coordinator):
    reprinting.reprint(out_there, coordinator)
    done = reprinting.reprint(again(out_there), coordinator)
    assert (done.issued, done.refused) == ([], [])


def test_a_copy_that_came_back_needs_no_new_one(out_there, coordinator):
    for paper in rules.to_collect(out_there):
        rules.collect(paper)
    assert reprinting.without_successor(again(out_there)) == []


def test_what_may_not_be_issued_is_told_with_its_reason(out_there, coordinator):
    out_there.client.household.delete()
    done = reprinting.reprint(again(out_there), coordinator)
    assert {kind for kind, why in done.refused} >= {"charging_guide"}
    assert all("Not known for charging" in why for kind, why in done.refused if kind == "charging_guide")


def test_the_ticket_lists_them_and_one_click_prints_them(out_there, coordinator, as_person):
    client = as_person(coordinator)
    ticket = client.get(reverse("ticket", args=[out_there.number])).text
    assert "Old copies to collect" in ticket
    assert "given to Tomas" in ticket
    assert reverse("papers_reprint", args=[out_there.number]) in ticket
    page = client.post(reverse("papers_reprint", args=[out_there.number]), follow=True).text
    assert "Use guide, copy 4, is issued and kept." in page
    assert reverse("papers_reprint", args=[out_there.number]) not in page


def test_builders_read_the_list_without_names(out_there, builder, as_person):
    out_there.builders.add(builder)
    ticket = as_person(builder).get(reverse("ticket", args=[out_there.number])).text
    assert "Old copies to collect" in ticket
    assert "Tomas" not in ticket
    assert reverse("papers_reprint", args=[out_there.number]) not in ticket
