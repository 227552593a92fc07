"""Collect every sentence of the papers for the translators: from code, from templates, and from the plans that come
with the program. A changed sentence is a new one, and has no translation until somebody writes it."""

import re
import subprocess
import tempfile
from pathlib import Path

from django.conf import settings
from django.utils.translation.template import templatize

from builds.papers.catalogue import file_of
from builds.papers.kinds import FOR_FAMILIES
from builds.papers.sentences import plan_sentences
from builds.plans.document import read_plan
from builds.plans.loading import DATA

APPS = ("labsite", "clients", "builds")
KEYWORDS = (
    *("_", "gettext_noop", "gettext_lazy", "noop", "ngettext_lazy:1,2", "pgettext:1c,2", "pgettext_lazy:1c,2"),
    *("npgettext:1c,2,3",),
)
WIDTH = "--width=110"
FOLDERS = ("family", "papers")


def source_text():
    """Everything that there is to translate, as a template for translators."""
    root = Path(settings.BASE_DIR)
    with tempfile.TemporaryDirectory() as place:
        names = [str(path.relative_to(root)) for app in APPS for path in sorted((root / app).rglob("*.py"))]
        names += [_put(place, name, text) for name, text in [*_templates(root), *_titles(), *_plans()]]
        found = _run(
            "xgettext", "--language=Python", "--from-code=UTF-8", "--add-comments=Translators", "--add-location=file",
            "--output=-", WIDTH, *[f"--keyword={one}" for one in KEYWORDS], f"--directory={root}",
            f"--directory={place}", *names,
        )  # fmt: skip
    found = re.sub(r"\.(html|svg|toml|py)\.py\b", r".\1", found.replace("charset=CHARSET", "charset=UTF-8"))
    return re.sub(r'"POT-Creation-Date:.*\n', "", found)


def _put(place, name, text):
    path = Path(place) / f"{name}.py"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text)
    return f"{name}.py"


def _templates(root):
    for path in sorted(path for folder in FOLDERS for path in (root / "templates" / folder).rglob("*.*")):
        yield str(path.relative_to(root)), templatize(path.read_text(), origin=str(path))


def _titles():
    """The titles of what families get; a new paper's is found without anybody marking it."""
    return [("builds/papers/models.py", "\n".join(f"gettext_noop({kind.label!r})" for kind in FOR_FAMILIES))]


def _plans():
    for path in sorted(DATA.glob("*.toml")):
        lines = [f"gettext_noop({text!r})" for text in plan_sentences(read_plan(path))]
        yield str(path.relative_to(settings.BASE_DIR)), "\n".join(lines)


def merged(language):
    """The catalogue as it should stand: every sentence of now, with the translations that still belong to one."""
    with tempfile.TemporaryDirectory() as place:
        template = Path(place) / "papers.pot"
        template.write_text(source_text())
        options = ("--quiet", "--no-fuzzy-matching", WIDTH)
        whole = _run("msgmerge", *options, str(file_of(language, "po")), str(template))
        (Path(place) / "whole.po").write_text(whole)
        return _run("msgattrib", "--no-obsolete", "--no-fuzzy", WIDTH, str(Path(place) / "whole.po"))


def _run(*command):
    done = subprocess.run(command, capture_output=True, text=True, check=False)  # noqa: S603
    if done.returncode:
        raise OSError(f"{command[0]}: {done.stderr.strip()}")
    return done.stdout
