"""Papers timed side by side: ours beside the print engine alone, a long as-built beside a short one, two cores.

Run: .venv/bin/python tests/bench/bench_papers.py [--only long] [--packs 200]
"""

import argparse
import multiprocessing
import os
import shutil
import sys
import tempfile
import threading
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
LIMIT = 1.15  # the family pack beside the engine alone on the same HTML
LIMIT_LONG = 1.3  # a page of an as-built of 100 pages beside one of 10
LIMIT_CORES = 1.6  # processes of a batch by two that are at work or ready for a core, start included
ROUNDS = 3
ALL = ("pack", "long", "batch")
LONG = 100
FEWEST = 4  # packs that are drawn by one process, to compare with two
TRIED = 4  # copies of every row, to see how much they add


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


def pack():
    """The family pack: our time beside that of the engine alone on the same HTML."""
    from builds.demo.factories.papers import make_build_with_papers_due
    from builds.papers.kinds import family_pack
    from builds.papers.render import fetcher, render_html

    build = make_build_with_papers_due()
    htmls = {kind: render_html(kind, build) for kind in family_pack(build)}
    fetch = fetcher(build)
    ours, alone = [], []
    for _ in range(ROUNDS):
        alone.append(timed(lambda: [engine_alone(html, fetch) for html in htmls.values()]))
        ours.append(timed(lambda: whole_pack(build.pk)))
    mine, engine = min(ours), min(alone)
    heading = f"family pack, {len(htmls)} papers"
    print(f"{heading:<34}{'ours':>10}{'engine alone':>15}{'ratio':>9}{'limit':>9}")
    print(f"{'seconds, best of ' + str(ROUNDS):<34}{mine:>10.3f}{engine:>15.3f}{mine / engine:>9.2f}{LIMIT:>9.2f}")
    return mine / engine <= LIMIT


def whole_pack(pk):
    """As a person gets it: read the build, work out the facts, render each paper."""
    from builds.papers.facts import Facts
    from builds.papers.kinds import family_pack
    from builds.papers.render import render_html, render_pdf
    from builds.record.models import Build

    build = Build.objects.select_related("client", "unit__type", "plan_revision__plan").get(pk=pk)
    facts = Facts(build)
    for kind in family_pack(build):
        render_pdf(render_html(kind, build, facts=facts), build)


def long():
    """An as-built of about 100 pages beside one of about 10, both of the same kinds of rows."""
    from builds.demo.factories.papers import SOCKET, make_build_with_papers_due

    build = make_build_with_papers_due(SOCKET)
    short_s, short_pages = as_built(build)
    copies(build, 0, TRIED)
    grown = pages_in(made(build)) - short_pages
    copies(build, TRIED, round((LONG - short_pages) * TRIED / grown))
    long_s, long_pages = as_built(build)
    a_short, a_long = short_s / short_pages, long_s / long_pages
    ratio = a_long / a_short
    print(f"{'as-built record':<34}{'short':>10}{'long':>15}{'ratio':>9}{'limit':>9}")
    print(f"{'pages':<34}{short_pages:>10}{long_pages:>15}")
    print(f"{'seconds at work a page, best of ' + str(ROUNDS):<34}{a_short:>10.4f}{a_long:>15.4f}"
          f"{ratio:>9.2f}{LIMIT_LONG:>9.2f}")  # fmt: skip
    return ratio <= LIMIT_LONG


def as_built(build):
    """(seconds at work, pages) of the whole way from the record to the PDF; other work on the machine counts not."""
    seconds = min(timed(lambda: made(build), time.process_time) for _ in range(ROUNDS))
    return seconds, pages_in(made(build))


def made(build):
    from builds.papers.render import render_html, render_pdf
    from builds.record.models import Build

    again = Build.objects.select_related("client", "unit__type", "plan_revision__plan").get(pk=build.pk)
    return render_pdf(render_html("as_built", again), again)


def pages_in(pdf):
    from io import BytesIO

    from pypdf import PdfReader

    return len(PdfReader(BytesIO(pdf)).pages)


def copies(build, first, end):
    """Every row of the record once more, for each number from the first up to the end."""
    from builds.bench.models import BuildStep
    from builds.parts.models import BuildPart
    from builds.record.models import Nonconformance
    from builds.wiring.models import WireFuse, WireRun

    account = build.made_by
    kept = {model: list(model.objects.filter(build=build)) for model in (BuildStep, BuildPart, WireRun, WireFuse)}
    kept = {model: [row for row in rows if "~" not in getattr(row, "code", "")] for model, rows in kept.items()}
    parts = [row for row in kept[BuildPart] if row.find_number < 100]
    for number in range(first, end):
        for model in (BuildStep, WireRun, WireFuse):
            model.objects.bulk_create(copy_of(row, code=f"{row.code}~{number}") for row in kept[model])
        BuildPart.objects.bulk_create(copy_of(row, find_number=row.find_number + 100 * (number + 1)) for row in parts)
        Nonconformance.objects.bulk_create(
            Nonconformance(build=build, text=f"Wire {one} was bare, found at round {number}", made_by=account)
            for one in range(6)
        )


def copy_of(row, **other):
    fields = {field.attname: getattr(row, field.attname) for field in row._meta.concrete_fields if field.name != "id"}
    return type(row)(**{**fields, **other})


def batch(packs):
    """Many family packs by two processes, and how many of the two were at work; some of them by one, to compare."""
    from builds.demo.factories.accounts import AccountFactory
    from builds.demo.factories.papers import make_build_with_papers_due
    from labsite.roles import Role

    people = {"coordinator": AccountFactory(role=Role.COORDINATOR), "reviewer": AccountFactory(role=Role.REVIEWER)}
    builds = [make_build_with_papers_due(**people) for _ in range(packs)]
    some = builds[: max(FEWEST, packs // 10)]
    one, _ = drawn(some, 1)
    two, cores = drawn(builds, 2)
    heading = f"{packs} family packs, {len(some)} by one"
    print(f"{heading:<34}{'one':>10}{'two processes':>15}{'at work':>9}{'limit':>9}")
    print(f"{'seconds a pack':<34}{one / len(some):>10.3f}{two / len(builds):>15.3f}{cores:>9.2f}{LIMIT_CORES:>9.2f}")
    load = os.getloadavg()[0]
    if load > 2.5:
        print(f"The machine was busy with other work too (load {load:.1f}): the seconds are longer than they need be.")
    return cores >= LIMIT_CORES


def drawn(builds, processes):
    """(seconds, how many processes were at work or ready for a core, on average) of the command's own work."""
    from builds.papers.batch import draw_all, sheets

    folder, seen, over = tempfile.mkdtemp(prefix="packs-"), [], threading.Event()
    watcher = threading.Thread(target=watch, args=(seen, over))
    start = time.perf_counter()
    watcher.start()
    wrong = [problem for _, problem in draw_all(sheets(builds, folder), processes) if problem]
    over.set()
    watcher.join()
    shutil.rmtree(folder)
    if wrong:
        sys.exit(f"{len(wrong)} papers could not be made: {wrong[0]}")
    return time.perf_counter() - start, sum(seen) / max(1, len(seen))


def watch(seen, over):
    """How many drawing processes run or wait for a core, a few times a second; other work on the machine counts not."""
    while not over.wait(0.25):
        seen.append(sum(is_at_work(one.pid) for one in multiprocessing.active_children()))


def is_at_work(pid):
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0] == "R"
    except OSError:
        return False


def engine_alone(html, fetch):
    from weasyprint import HTML

    from builds.papers.render import HOME, VARIANT

    HTML(string=html, base_url=f"{HOME}/", url_fetcher=fetch).write_pdf(pdf_variant=VARIANT)


def timed(work, clock=time.perf_counter):
    start = clock()
    work()
    return clock() - start


def main():
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--only", choices=ALL, action="append", help="one of them; all where it is left out")
    asked.add_argument("--packs", type=int, default=12, help="how many packs the batch draws (12)")
    given = asked.parse_args()
    return in_a_database_of_its_own(lambda: measure(given.only or ALL, given.packs))


def measure(what, packs):
    from builds.demo.factories.accounts import LabFactory

    LabFactory()
    todo = {"pack": pack, "long": long, "batch": lambda: batch(packs)}
    good = [todo[one]() for one in what]
    return 0 if all(good) else 1


if __name__ == "__main__":
    sys.exit(main())
