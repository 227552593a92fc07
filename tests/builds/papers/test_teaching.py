"""Teach-back: the newest try of each adult at each item counts."""

import pytest

from builds.demo.factories.clients import CaregiverFactory
from builds.demo.factories.papers import teach_all
from builds.papers import teaching
from builds.record.registry import reports
from builds.record.rules import Refused
from tests.builds.papers.conftest import again


@pytest.fixture
def adult(ready):
    return teaching.supervising_adults(ready)[0]


def record(build, account, adult, right=True, item="stop"):
    return teaching.record_try(build, account, adult=adult, item=item, how="shown", right=right)


def state(build, adult, item="stop"):
    return next(cell.state for cell in teaching.cells_of(again(build), adult) if cell.item["code"] == item)


def test_the_newest_try_counts(ready, coordinator, adult):
    assert state(ready, adult) == "open"
    record(ready, coordinator, adult)
    assert state(ready, adult) == "passed"
    record(ready, coordinator, adult, right=False)
    assert state(ready, adult) == "again"


def test_a_struck_try_counts_no_more(ready, coordinator, adult):
    record(ready, coordinator, adult).strike(coordinator, "Another adult")
    assert state(ready, adult) == "open"


def test_every_adult_must_pass_every_item(ready, coordinator):
    teach_all(ready, coordinator)
    assert teaching.what_is_missing(again(ready)) == ""
    CaregiverFactory(client=ready.client, name="Tomas Castellan", relation="Grandfather", is_first_contact=False)
    missing = teaching.what_is_missing(again(ready))
    assert "adult 2 of 2: 8 of 8 items" in missing
    assert "Tomas" not in missing


def test_an_item_that_is_not_in_the_plan_is_refused(ready, coordinator, adult):
    with pytest.raises(Refused, match="not in the plan"):
        record(ready, coordinator, adult, item="dance")


def test_an_adult_who_does_not_supervise_is_refused(ready, coordinator, adult):
    adult.supervises = False
    with pytest.raises(Refused, match="not marked as supervising"):
        record(ready, coordinator, adult)


def test_another_charger_makes_it_stale_and_a_new_seat_does_not(ready, coordinator, adult):
    record(ready, coordinator, adult)
    charger = ready.configuration().charger
    charger.light_full = "blue"
    charger.save(update_fields=["light_full"])
    assert state(ready, adult) == "passed"
    charger.current_a = 1.0
    charger.save(update_fields=["current_a"])
    assert state(ready, adult) == "stale"


def test_evidence_names_no_adult(ready, coordinator, adult):
    teach_all(ready, coordinator)
    evidence = [one for one in reports(again(ready))["papers"].evidence if one.kind == "teach-back"]
    assert len(evidence) == 1
    assert adult.name not in str(evidence)
    assert len(evidence[0].fields["passed"]) == len(teaching.items(ready))
