"""The family packs of many builds at once: this process reads the record, the others only draw.

Working out the words takes a small part of the time and needs the database; drawing takes the rest and needs none.
"""

from collections import deque
from concurrent.futures import FIRST_COMPLETED, ProcessPoolExecutor, wait
from multiprocessing import get_context
from pathlib import Path

from builds.papers import rules
from builds.papers.drawing import Sheet, draw, ready
from builds.papers.facts import Facts
from builds.papers.kinds import family_pack
from builds.papers.render import file_name, files_of, render_html

WAITING = 4  # papers in line for each process: enough to keep it busy, few enough to hold in memory


def sheets(builds, folder, size=None):
    """The papers of every pack, worked out one after the other as they are asked for."""
    for build in builds:
        facts, files = Facts(build), files_of(build)
        place = Path(folder) / build.number
        for kind in family_pack(build):
            is_draft = bool(rules.why_not(kind, build, facts))
            name = file_name(build, kind, configuration=facts.configuration, draft=is_draft)
            yield Sheet(render_html(kind, build, size, facts=facts), files, str(place / name))


def draw_all(many, processes):
    """(path, empty or what went wrong) of every sheet, as each is done."""
    if processes == 1:
        yield from map(draw, many)
        return
    with ProcessPoolExecutor(processes, mp_context=get_context("spawn"), initializer=ready) as pool:
        yield from _as_they_come(pool, many, processes * WAITING)


def _as_they_come(pool, many, most):
    line = deque()
    for sheet in many:
        line.append(pool.submit(draw, sheet))
        if len(line) >= most:
            done, rest = wait(line, return_when=FIRST_COMPLETED)
            line = deque(rest)
            yield from (one.result() for one in done)
    yield from (one.result() for one in line)
