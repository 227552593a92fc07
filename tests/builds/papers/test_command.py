"""`python manage.py papers BUILD --to DIR`: every paper, or one sentence."""

import datetime

import pytest
from django.core.management import CommandError, call_command
from django.utils import timezone

from builds.papers import batch, rules
from builds.papers.models import PaperKind
from builds.papers.render import PaperError
from tests.builds.papers.conftest import pages_of


def test_it_writes_every_paper_without_a_name_in_its_name(ready, tmp_path):
    call_command("papers", ready.number, "--to", str(tmp_path), "--size", "a4", verbosity=0)
    names = sorted(path.name for path in tmp_path.iterdir())
    kinds = [kind.replace("_", "-") for kind in rules.kinds(ready) if kind != "clinician_summary"]
    drafts = {"restore-sheet"}  # nothing is written down of its restore kit
    assert names == sorted(f"{'DRAFT-' * (kind in drafts)}{ready.number}-{kind}-c2.pdf" for kind in kinds)
    assert all(path.read_bytes().startswith(b"%PDF-") for path in tmp_path.iterdir())


def test_a_draft_says_so_on_each_page_and_takes_the_place_of_what_might_leave(ready, tmp_path, monkeypatch):
    name = f"{ready.number}-use-guide-c2.pdf"
    monkeypatch.setattr(rules, "kinds", lambda build: [PaperKind.USE_GUIDE, PaperKind.RESTORE_SHEET])
    for marked, others in ((False, {f"DRAFT-{name}"}), (True, {name})):
        ready.unit.__class__.objects.update(do_not_use_at=timezone.now() if marked else None)
        call_command("papers", ready.number, "--to", str(tmp_path), verbosity=0)
        names = {path.name for path in tmp_path.iterdir()}
        assert not names & others and len(names) == 2
    drafts = [path for path in tmp_path.iterdir() if path.name.startswith("DRAFT-")]
    assert len(drafts) == 2
    for path in drafts:
        assert all("DRAFT" in page.upper() for page in pages_of(path.read_bytes())), path.name


@pytest.mark.parametrize("command", ["papers", "papers_pack"])
def test_in_the_evening_it_prints_the_day_of_the_lab(ready, tmp_path, monkeypatch, command):
    """At 19:30 of 1 March in the lab a server that counts by UTC is in 2 March already."""
    evening = datetime.datetime(2027, 3, 2, 1, 30, tzinfo=datetime.UTC)
    monkeypatch.setattr(timezone, "now", lambda: evening)
    monkeypatch.setattr(rules, "kinds", lambda build: [PaperKind.USE_GUIDE])
    monkeypatch.setattr(batch, "family_pack", lambda build: [PaperKind.USE_GUIDE])
    with timezone.override(None):
        assert timezone.localdate() == datetime.date(2027, 3, 2)
        call_command(command, ready.number, "--to", str(tmp_path), verbosity=0)
    (paper,) = tmp_path.rglob("*.pdf")
    text = " ".join(pages_of(paper.read_bytes()))
    assert "printed 1 Mar 2027" in text and "2 Mar 2027" not in text


@pytest.mark.parametrize(
    ("arguments", "said"),
    [(["B-9999"], "There is no build B-9999"), (None, "must be letter or a4, not a5")],
)
def test_a_wrong_argument_is_told_in_one_line(ready, tmp_path, arguments, said):
    arguments = arguments or [ready.number, "--size", "a5"]
    with pytest.raises(CommandError) as refused:
        call_command("papers", *arguments, "--to", str(tmp_path))
    assert said in str(refused.value)
    assert "\n" not in str(refused.value)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_cannot_be_is_told(ready, tmp_path):
    (tmp_path / "file").write_text("x")
    with pytest.raises(CommandError, match="cannot be made"):
        call_command("papers", ready.number, "--to", str(tmp_path / "file" / "in"))


def test_a_failing_paper_leaves_no_file(ready, tmp_path, monkeypatch):
    from builds.management.commands import papers

    made = []

    def fails_at_the_third(html, build=None):
        made.append(html)
        if len(made) == 3:
            raise PaperError("The paper could not be made into a PDF.")
        return b"%PDF-"

    monkeypatch.setattr(papers, "render_pdf", fails_at_the_third)
    with pytest.raises(CommandError, match="Supervision card: The paper could not"):
        call_command("papers", ready.number, "--to", str(tmp_path))
    assert list(tmp_path.iterdir()) == []
