"""The five papers of one build: our time beside that of the print engine alone on the same HTML.

Run: .venv/bin/python tests/bench/bench_papers.py
"""

import os
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
LIMIT = 1.2
ROUNDS = 3


def in_a_database_of_its_own(work):
    """Run the work against a fresh test database and return what it returns."""
    sys.path.insert(0, str(ROOT))
    os.environ["DJANGO_SETTINGS_MODULE"] = "tests.settings"
    import django

    django.setup()
    from django.test.utils import setup_databases, setup_test_environment, teardown_databases

    setup_test_environment()
    from django.conf import settings

    settings.MIGRATION_MODULES = {app.label: None for app in django.apps.apps.get_app_configs()}
    databases = setup_databases(verbosity=0, interactive=False)
    try:
        return work()
    finally:
        teardown_databases(databases, verbosity=0)


def compare():
    from builds.demo.factories.accounts import LabFactory
    from builds.demo.factories.papers import make_build_with_papers_due
    from builds.papers import rules
    from builds.papers.render import fetcher, render_html

    LabFactory()
    build = make_build_with_papers_due()
    kinds = rules.kinds(build)
    htmls = {kind: render_html(kind, build) for kind in kinds}
    fetch = fetcher(build)
    ours, alone = [], []
    for _ in range(ROUNDS):
        alone.append(timed(lambda: [engine_alone(html, fetch) for html in htmls.values()]))
        ours.append(timed(lambda: all_papers(build.pk)))
    mine, engine = min(ours), min(alone)
    print(f"{'five papers':<24}{'ours':>10}{'engine alone':>15}{'ratio':>9}{'limit':>9}")
    print(f"{'seconds, best of ' + str(ROUNDS):<24}{mine:>10.3f}{engine:>15.3f}{mine / engine:>9.2f}{LIMIT:>9.2f}")
    return 0 if mine / engine <= LIMIT else 1


def all_papers(pk):
    """As a person gets them: read the build, work out the facts, render each paper."""
    from builds.papers import rules
    from builds.papers.facts import Facts
    from builds.papers.render import render_html, render_pdf
    from builds.record.models import Build

    build = Build.objects.select_related("client", "unit__type", "plan_revision__plan").get(pk=pk)
    facts = Facts(build)
    for kind in rules.kinds(build):
        render_pdf(render_html(kind, build, facts=facts), build)


def engine_alone(html, fetch):
    from weasyprint import HTML

    from builds.papers.render import HOME, VARIANT

    HTML(string=html, base_url=f"{HOME}/", url_fetcher=fetch).write_pdf(pdf_variant=VARIANT)


def timed(work):
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


if __name__ == "__main__":
    sys.exit(in_a_database_of_its_own(compare))
