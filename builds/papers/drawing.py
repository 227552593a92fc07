"""One paper drawn by a process of its own, which opens no database.

A fresh process loads this module before it knows any settings, so nothing of Django may be imported at its top.
"""

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Sheet:
    """One paper ready to be drawn: its HTML, the files that it may show, and where it goes."""

    html: str
    files: dict
    path: str


def ready():
    """A fresh process learns the settings."""
    import django

    django.setup()


def draw(sheet):
    """Draw one paper and write it whole. Returns (path, empty) or (path, what went wrong)."""
    from builds.papers import render

    try:
        Path(sheet.path).parent.mkdir(parents=True, exist_ok=True)
        render.put_paper(sheet.path, render.render_pdf(sheet.html, files=sheet.files))
    except render.PaperError as error:
        return sheet.path, str(error)
    except OSError as error:
        return sheet.path, f"It could not be written: {error.strerror}."
    return sheet.path, ""
