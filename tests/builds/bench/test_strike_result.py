import uuid

import pytest
from django.urls import reverse

from builds.bench.progress import Bench
from builds.bench.rules import record_result, strike_result
from builds.record.rules import Refused
from tests.builds.bench.making import battery_step


@pytest.fixture
def result(build, builder):
    return record_result(battery_step(build), builder, outcome="passed", reading_typed="12.6")


def send(client, build, result, reason):
    address = reverse("result_strike", args=[build.number, result.pk])
    return client.post(address, {"once": uuid.uuid4(), "reason": reason})


def test_a_struck_result_no_longer_counts_and_stays_readable(build, result, builder, as_person):
    assert send(as_person(builder), build, result, "Read from another unit").status_code == 302
    result.refresh_from_db()
    assert result.struck_by == builder
    assert [state.code for state in Bench(build).states] == ["open"]
    page = as_person(builder).get(reverse("bench_section", args=[build.number, "incoming_test"])).content.decode()
    assert "Read from another unit" in page
    assert "<del>Passed, 12.6 V" in page


def test_the_result_before_it_counts_again(build, result, builder):
    later = record_result(result.step, builder, outcome="failed", reading_typed="11", note="Sags")
    assert [state.code for state in Bench(build).states] == ["failed"]
    strike_result(later, builder, "Meter was empty")
    assert [state.code for state in Bench(build).states] == ["passed"]


def test_striking_a_failed_result_leaves_its_nonconformance_open(build, result, builder):
    later = record_result(result.step, builder, outcome="failed", reading_typed="11", note="Sags")
    strike_result(later, builder, "Meter was empty")
    assert build.nonconformances.get().is_open


def test_it_needs_a_reason(build, result, builder, as_person):
    answer = send(as_person(builder), build, result, "")
    assert answer.status_code == 422
    assert "Enter the reason for striking" in answer.content.decode()
    with pytest.raises(Refused):
        strike_result(result, builder, "  ")


def test_it_is_struck_once(build, result, builder, as_person):
    strike_result(result, builder, "Wrong unit")
    assert send(as_person(builder), build, result, "Again").status_code == 422
    result.refresh_from_db()
    assert result.struck_reason == "Wrong unit"


def test_readers_may_not_strike_and_strangers_learn_nothing(
    build, result, reviewer, director, other_builder, as_person
):
    people = (reviewer, director, other_builder)
    assert [send(as_person(one), build, result, "No").status_code for one in people] == [403, 403, 404]
    result.refresh_from_db()
    assert not result.is_struck
