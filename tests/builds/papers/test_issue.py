"""Issuing keeps the file, its digest and a copy number; what changes later supersedes it."""

import hashlib
from importlib import import_module

import pytest
from django.apps import apps

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
    assert guide.superseded_kinds == ["lab"]


@pytest.fixture
def renamed(ready, coordinator, guide):
    """The guide's lab has another phone; no new copy is issued yet."""
    lab = Lab.current()
    lab.phone = "555 0199"
    lab.save(update_fields=["phone"])
    return fresh(guide)


def test_a_copy_replaced_for_the_phone_takes_a_second_reason(ready, renamed):
    """Its words about the unit are judged as before, though no new copy is there yet."""
    seizures = ready.client.cautions.get(kind="seizures")
    seizures.answer, seizures.plan = "yes", "Keep the blue bag near"
    seizures.save(update_fields=["answer", "plan"])
    guide = fresh(renamed)
    assert guide.superseded_kinds == ["client-cautions", "lab"]
    assert guide.superseded_changes[0] == "The lab: phone was 555 0142, now 555 0199"
    assert any(one.startswith("Cautions") for one in guide.superseded_changes[1:])
    assert guide.superseded_at == renamed.superseded_at
    assert paper_evidence_of(ready, "use_guide")["current"] == "not issued"


def test_a_lab_that_is_renamed_again_is_no_second_reason(renamed, ready):
    lab = Lab.current()
    lab.phone = "555 0142"
    lab.save(update_fields=["phone"])
    assert fresh(renamed).superseded_changes == renamed.superseded_changes
    assert fresh(renamed).still_tells_the_unit


def test_a_new_configuration_is_a_second_reason(renamed, ready, coordinator):
    record.configure(again(ready), coordinator, "Measured the shoulder", shoulder_place=[0.3, 0.1, 0.7])
    assert fresh(renamed).superseded_kinds == ["configuration", "lab"]
    assert not fresh(renamed).still_tells_the_unit


def test_papers_that_were_replaced_before_kinds_were_kept_are_known_by_their_words(guide):
    migration = import_module("builds.migrations.0016_kinds_that_replaced_a_paper")
    for changes, kinds in (
        (["The lab: phone was 1, now 2", "The lab: hours was 3, now 4"], ["lab"]),
        (["The lab: phone was 1, now 2", "Configuration: side was left, now right"], []),
        (["Lab bench moved"], []),
        ([], []),
    ):
        IssuedPaper.objects.update(superseded_at=guide.made_at, superseded_changes=changes, superseded_kinds=[])
        migration.known_by_words(apps, None)
        assert fresh(guide).superseded_kinds == kinds


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
