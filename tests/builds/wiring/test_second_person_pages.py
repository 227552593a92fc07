"""What the evidence and the ticket tell before both persons have checked a run."""

import json

from builds.demo.factories.wiring import check_runs
from builds.models import WireCheck
from builds.wiring import evidence
from tests.builds.wiring.making import fresh


def kept(build):
    return json.dumps([[one.key, one.fields] for one in evidence.report(fresh(build)).evidence], default=str)


def test_the_evidence_does_not_tell_the_first_ticks(build, builder):
    check_runs(build, builder)
    told = kept(build)
    WireCheck.objects.update(polarity="wrong", relief="not_seen")
    assert kept(build) == told


def test_who_may_not_check_is_told_why_and_gets_no_form(page, build, builder):
    check_runs(build, builder)
    run = build.wire_runs.first()
    text = page.get("second_check_run", run.pk).content.decode()
    assert "You did work on this build" in text
    assert 'name="polarity"' not in text
