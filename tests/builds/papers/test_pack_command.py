"""`python manage.py papers_pack --to DIR`: the family packs of many builds, in several processes, or one sentence."""

import pytest
from django.core.management import CommandError, call_command

from builds.demo.factories.papers import make_build_with_papers_due
from builds.papers import batch, render
from builds.papers.kinds import FOR_FAMILIES, family_pack
from builds.papers.render import PaperError


def files_in(folder):
    return sorted(str(path.relative_to(folder)) for path in folder.rglob("*.pdf"))


def expected(*builds):
    names = [kind.replace("_", "-") for kind in FOR_FAMILIES]
    return sorted(f"{one.number}/{one.number}-{name}-c2.pdf" for one in builds for name in names)


@pytest.mark.django_db(transaction=True)
def test_two_processes_write_what_one_would(coordinator, reviewer, tmp_path):
    from tests.factory import make_lab

    make_lab(walking_pace_m_s=1.2)
    builds = [make_build_with_papers_due(coordinator=coordinator, reviewer=reviewer) for _ in range(2)]
    call_command("papers_pack", *(one.number for one in builds), "--to", str(tmp_path), "--processes", "2")
    assert files_in(tmp_path) == expected(*builds)
    assert all(path.read_bytes().startswith(b"%PDF-") for path in tmp_path.rglob("*.pdf"))


@pytest.fixture
def quick(monkeypatch):
    """Papers that are drawn at once: what is tested is not the drawing."""
    monkeypatch.setattr(render, "render_pdf", lambda html, files=None: b"%PDF-")


def test_one_process_needs_no_others(ready, tmp_path, quick, monkeypatch):
    monkeypatch.setattr(batch, "ProcessPoolExecutor", None)
    call_command("papers_pack", ready.number, "--to", str(tmp_path), "--processes", "1")
    assert files_in(tmp_path) == expected(ready)


def test_without_numbers_it_takes_the_builds_in_use(ready, tmp_path, quick, capsys):
    call_command("papers_pack", "--to", str(tmp_path), "--processes", "1")
    assert "0 papers of 0 builds" in capsys.readouterr().out
    type(ready).objects.update(stage="in_use")
    call_command("papers_pack", "--to", str(tmp_path), "--processes", "1")
    assert f"{len(family_pack(ready))} papers of 1 builds" in capsys.readouterr().out


def test_what_may_not_leave_is_marked_as_a_draft(ready, tmp_path, quick):
    ready.client.clearances.all().delete()
    call_command("papers_pack", ready.number, "--to", str(tmp_path), "--processes", "1")
    names = files_in(tmp_path)
    assert f"{ready.number}/DRAFT-{ready.number}-use-guide-c2.pdf" in names
    assert f"{ready.number}/{ready.number}-stop-use-card-c2.pdf" in names


def test_one_paper_that_fails_is_told_and_the_others_are_there(ready, tmp_path, monkeypatch, capsys):
    def fails_once(html, files=None):
        if "Use diary" in html.split("</title>")[0]:
            raise PaperError("The paper could not be made into a PDF.")
        return b"%PDF-"

    monkeypatch.setattr(render, "render_pdf", fails_once)
    with pytest.raises(CommandError, match="1 papers could not be made"):
        call_command("papers_pack", ready.number, "--to", str(tmp_path), "--processes", "1")
    assert "use-diary" in capsys.readouterr().err
    assert len(files_in(tmp_path)) == len(FOR_FAMILIES) - 1


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["B-9999"], "There is no build B-9999"),
        (["--size", "a5"], "must be letter or a4, not a5"),
        (["--processes", "0"], "from 1 to 64, not 0"),
        (["--processes", "65"], "from 1 to 64, not 65"),
    ],
)
def test_a_wrong_argument_is_told_in_one_line(ready, tmp_path, arguments, said):
    with pytest.raises(CommandError) as refused:
        call_command("papers_pack", *arguments, "--to", str(tmp_path))
    assert said in str(refused.value)
    assert "\n" not in str(refused.value)


def test_a_folder_that_cannot_be_is_told(ready, tmp_path):
    (tmp_path / "file").write_text("x")
    with pytest.raises(CommandError, match="cannot be made"):
        call_command("papers_pack", ready.number, "--to", str(tmp_path / "file" / "in"))


def test_papers_are_worked_out_as_they_are_asked_for(ready):
    """So that two hundred packs are never held in memory at once."""
    asked = []

    def watched():
        for build in (ready, ready):
            asked.append(build)
            yield build

    many = batch.sheets(watched(), "x")
    next(many)
    assert len(asked) == 1
