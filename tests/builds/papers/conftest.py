"""One build whose papers may be issued, and the text of a PDF."""

import fcntl
import pickle
import re
from dataclasses import dataclass
from functools import lru_cache
from io import BytesIO

import pytest
from django.db import transaction
from pypdf import PdfReader

from builds.demo.factories.papers import make_build_with_papers_due
from builds.papers.render import render_html, render_pdf
from builds.record.models import Build
from labsite.models import Account
from labsite.roles import Role
from tests.builds.papers.packs import render_bench_packs, render_packs
from tests.factory import make_account, make_lab


@dataclass
class Settled:
    """A lab with a coordinator, a reviewer and a build whose papers may be issued."""

    coordinator: object
    reviewer: object
    number: int


@pytest.fixture(scope="module")
def settled(django_db_setup, django_db_blocker):
    """Made once for a module; each test takes back what it changes."""
    with django_db_blocker.unblock(), transaction.atomic():
        make_lab(walking_pace_m_s=1.2)
        coordinator = make_account(Role.COORDINATOR, full_name="Cora Ames")
        reviewer = make_account(Role.REVIEWER, full_name="Rhea Voss")
        build = make_build_with_papers_due(coordinator=coordinator, reviewer=reviewer)
        yield Settled(coordinator, reviewer, build.pk)
        transaction.set_rollback(True)


@pytest.fixture
def coordinator(db, request):
    """The one of the build that is ready, where a test asks for that build too."""
    return person(request, "coordinator") or make_account(Role.COORDINATOR, full_name="Cora Ames")


@pytest.fixture
def reviewer(db, request):
    return person(request, "reviewer") or make_account(Role.REVIEWER, full_name="Rhea Voss")


def person(request, role):
    if "settled" not in request.fixturenames:
        return None
    return Account.objects.get(pk=getattr(request.getfixturevalue("settled"), role).pk)


@pytest.fixture
def ready(settled, db):
    """A build of the one-hand stick, configured and released up to its papers."""
    return Build.objects.get(pk=settled.number)


@pytest.fixture(scope="session")
def packs(django_db_setup, django_db_blocker, tmp_path_factory, worker_id):
    """(plan, kind, language, print) -> the paper of a family."""
    return once("packs", render_packs, django_db_blocker, tmp_path_factory, worker_id)


@pytest.fixture(scope="session")
def bench_packs(django_db_setup, django_db_blocker, tmp_path_factory, worker_id):
    """(plan, kind, "en", "normal") -> the paper of the bench."""
    return once("bench_packs", render_bench_packs, django_db_blocker, tmp_path_factory, worker_id)


def once(name, render, blocker, factory, worker_id):
    """Rendered once and read by all, also where the suite runs on many cores."""
    shared = factory.getbasetemp()
    shared = shared if worker_id == "master" else shared.parent
    kept = shared / f"{name}.pickle"
    with (shared / f"{name}.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not kept.exists():
            with blocker.unblock(), transaction.atomic():
                kept.write_bytes(pickle.dumps(render()))
                transaction.set_rollback(True)
    return pickle.loads(kept.read_bytes())  # noqa: S301 - written above


def again(build):
    """The same build, with nothing remembered of what was read before."""
    return Build.objects.get(pk=build.pk)


def pages_of(pdf):
    """The text of each page, every run of white space one space."""
    return [re.sub(r"\s+", " ", page.extract_text()) for page in PdfReader(BytesIO(pdf)).pages]


@lru_cache(maxsize=64)
def pages_of_html(html):
    """Many tests read the same paper."""
    return pages_of(render_pdf(html))


def pdf_pages(kind, build, size="letter"):
    html = render_html(kind, again(build), size)
    return pages_of(render_pdf(html, build)) if build.photos.exists() else pages_of_html(html)


def pdf_text(kind, build, size="letter"):
    return " ".join(pdf_pages(kind, build, size))
