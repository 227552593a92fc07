"""One build whose papers may be issued, and the text of a PDF."""

import fcntl
import pickle
import re
from io import BytesIO

import pytest
from django.db import transaction
from pypdf import PdfReader

from builds.demo.factories.papers import make_build_with_papers_due
from builds.papers.render import render_html, render_pdf
from builds.record.models import Build
from tests.builds.papers.packs import render_packs
from tests.factory import make_lab


@pytest.fixture
def ready(db, coordinator, reviewer):
    """A build of the one-hand stick, configured and released up to its papers."""
    make_lab(walking_pace_m_s=1.2)
    return make_build_with_papers_due(coordinator=coordinator, reviewer=reviewer)


@pytest.fixture(scope="session")
def packs(django_db_setup, django_db_blocker, tmp_path_factory, worker_id):
    """(plan, kind, language, print) -> the paper. Rendered once, also where the suite runs on many cores."""
    shared = tmp_path_factory.getbasetemp()
    shared = shared if worker_id == "master" else shared.parent
    kept = shared / "packs.pickle"
    with (shared / "packs.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not kept.exists():
            with django_db_blocker.unblock(), transaction.atomic():
                kept.write_bytes(pickle.dumps(render_packs()))
                transaction.set_rollback(True)
    return pickle.loads(kept.read_bytes())  # noqa: S301 - written above


def again(build):
    """The same build, with nothing remembered of what was read before."""
    return Build.objects.get(pk=build.pk)


def pages_of(pdf):
    """The text of each page, every run of white space one space."""
    return [re.sub(r"\s+", " ", page.extract_text()) for page in PdfReader(BytesIO(pdf)).pages]


def pdf_pages(kind, build, size="letter"):
    return pages_of(render_pdf(render_html(kind, again(build), size), build))


def pdf_text(kind, build, size="letter"):
    return " ".join(pdf_pages(kind, build, size))
