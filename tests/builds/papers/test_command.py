"""`python manage.py papers BUILD --to DIR`: every paper, or one sentence."""

import pytest
from django.core.management import CommandError, call_command

from builds.papers import rules
from builds.papers.render import PaperError


def test_it_writes_every_paper_without_a_name_in_its_name(ready, tmp_path):
    call_command("papers", ready.number, "--to", str(tmp_path), "--size", "a4", verbosity=0)
    names = sorted(path.name for path in tmp_path.iterdir())
    kinds = [kind.replace("_", "-") for kind in rules.kinds(ready) if kind != "clinician_summary"]
    drafts = {"restore-sheet"}  # nothing is written down of its restore kit
    assert names == sorted(f"{ready.number}-{kind}-c2{'-draft' * (kind in drafts)}.pdf" for kind in kinds)
    assert all(path.read_bytes().startswith(b"%PDF-") for path in tmp_path.iterdir())


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
