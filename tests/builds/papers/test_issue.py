"""Issuing keeps the file, its digest and a copy number; what changes later supersedes it."""

import hashlib

import pytest

from builds.demo.factories.papers import teach_all
from builds.papers import rules, teaching
from builds.papers.evidence import paper_evidence, state_of
from builds.papers.models import IssuedPaper
from builds.papers.render import PaperError
from builds.record import rules as record
from builds.record.models import Build
from labsite.models import Lab
from tests.builds.papers.conftest import again, pages_of


@pytest.fixture(scope="module")
def issued(settled):
    """Rendered once for the module, which takes seconds; no test changes the kept file."""
    build = Build.objects.get(pk=settled.number)
    return rules.issue(build, "use_guide", settled.coordinator, given_to="Elena Castellan", size="a4").pk


@pytest.fixture
def guide(issued, db):
    return fresh(IssuedPaper(pk=issued))


def fresh(paper):
    return IssuedPaper.objects.get(pk=paper.pk)


def test_the_kept_file_is_what_was_issued(guide):
    content = guide.file.open("rb").read()
    assert hashlib.sha256(content).hexdigest() == guide.digest
    assert rules.is_unharmed(guide)
    assert "copy 1" in pages_of(content)[0]
    assert "castellan" not in guide.file.name.lower()


def test_copies_are_numbered(ready, coordinator, guide):
    assert rules.issue(ready, "use_guide", coordinator).copy_number == 2
    assert fresh(guide).is_current


def test_another_side_supersedes_papers_and_teach_back(ready, coordinator, guide):
    teach_all(ready, coordinator)
    record.configure(again(ready), coordinator, "The other hand tires less", side="right")
    assert not fresh(guide).is_current
    assert any("side was Occupant's left, now Occupant's right" in line for line in fresh(guide).superseded_changes)
    assert teaching.what_is_missing(again(ready)).startswith("Still to show or say")
    assert any("side was" in line for line in teaching.why_stale(again(ready)))


def test_any_later_configuration_supersedes_what_carries_the_old_number(ready, coordinator, guide):
    record.configure(again(ready), coordinator, "Measured the shoulder", shoulder_place=[0.3, 0.1, 0.7])
    assert fresh(guide).superseded_changes == ["Configuration 3 came: Measured the shoulder"]


def test_a_changed_caution_plan_supersedes_the_guide(ready, guide):
    caution = ready.client.cautions.get(kind="seizures")
    caution.answer, caution.plan = "yes", "Keep the blue bag near"
    caution.save(update_fields=["answer", "plan"])
    assert not fresh(guide).is_current


def test_another_phone_of_the_lab_replaces_the_copies_and_stops_no_unit(ready, coordinator, guide):
    before = paper_evidence_of(ready, "use_guide")
    lab = Lab.current()
    lab.phone = "555 0199"
    lab.save(update_fields=["phone"])
    guide = fresh(guide)
    assert not guide.is_current and guide.superseded_changes == ["The lab: phone was 555 0142, now 555 0199"]
    assert paper_evidence_of(ready, "use_guide") == before and before["current"] == "current"
    assert state_of(again(ready), "use_guide") == "superseded"  # a release from now on waits for the new copy
    assert guide in rules.to_collect(again(ready))
    guide.superseded_changes += ["Configuration: side was left, now right"]
    assert not guide.still_tells_the_unit


def paper_evidence_of(build, kind):
    return {one.key: one.fields for one in paper_evidence(again(build))}[f"paper:{kind}"]


def test_other_hours_supersede_the_charging_guide(ready, coordinator):
    paper = rules.issue(ready, "charging_guide", coordinator)
    home = ready.client.household
    home.sleep_time = home.sleep_time.replace(hour=21)
    home.save(update_fields=["sleep_time"])
    assert any("sleep was 22:30, now 21:30" in line for line in fresh(paper).superseded_changes)


def test_an_unrelated_note_supersedes_nothing(ready, coordinator, guide):
    ready.problems.create(text="It squeaks", made_by=coordinator)
    assert fresh(guide).is_current


def test_superseded_copies_are_listed_until_they_are_collected(ready, coordinator, guide):
    record.configure(again(ready), coordinator, "Slower", ceiling_m_s=0.5)
    assert rules.to_collect(again(ready)) == [guide]
    rules.collect(fresh(guide))
    assert rules.to_collect(again(ready)) == []


def test_a_current_copy_is_not_collected(guide):
    with pytest.raises(PaperError, match="current"):
        rules.collect(guide)


def test_a_failing_engine_leaves_no_row_and_no_file(ready, coordinator, monkeypatch, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    before = list(IssuedPaper.objects.all())

    def fail(*args, **kwargs):
        raise RuntimeError("engine")

    monkeypatch.setattr("weasyprint.HTML.write_pdf", fail)
    with pytest.raises(PaperError, match="could not be made into a PDF"):
        rules.issue(ready, "use_guide", coordinator)
    assert list(IssuedPaper.objects.all()) == before
    assert [path for path in tmp_path.rglob("*") if path.is_file()] == []


def test_a_row_that_cannot_be_kept_leaves_no_file(ready, coordinator, monkeypatch, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path

    def fail(*args, **kwargs):
        raise RuntimeError("database")

    monkeypatch.setattr(IssuedPaper, "save", fail)
    with pytest.raises(RuntimeError):
        rules.issue(ready, "use_guide", coordinator)
    assert [path for path in tmp_path.rglob("*") if path.is_file()] == []


def test_a_changed_wire_run_supersedes_the_as_built_but_no_guide(ready, coordinator, guide):
    record_paper = rules.issue(again(ready), "as_built", coordinator)
    run = again(ready).wire_runs.first()
    run.gauge = "18 AWG"
    run.save(update_fields=["gauge"])
    assert any(f"{run.code}: gauge was" in line for line in fresh(record_paper).superseded_changes)
    assert fresh(guide).is_current
