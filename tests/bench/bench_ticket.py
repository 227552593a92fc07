"""The ticket of a small and of a full build: queries and time, side by side.

Run: .venv/bin/python tests/bench/bench_ticket.py
"""

import time

from bench_papers import in_a_database_of_its_own

MOST_QUERIES = 25
ROUNDS = 5


def compare():
    from builds.demo.factories.accounts import LabFactory
    from builds.demo.factories.record import full_build, make_build, make_crew

    LabFactory()
    crew = make_crew()
    small, full = make_build("switch-socket", crew), full_build(crew)
    print(f"{'ticket of':<34}{'queries':>9}{'limit':>7}{'seconds, best of ' + str(ROUNDS):>22}")
    counts = [tell(build, crew.coordinator) for build in (small, full)]
    return 0 if max(counts) <= MOST_QUERIES and len(set(counts)) == 1 else 1


def tell(build, account):
    from django.db import connection
    from django.test import Client
    from django.test.utils import CaptureQueriesContext
    from django.urls import reverse

    browser, address = Client(), reverse("ticket", args=[build.number])
    browser.force_login(account)
    browser.get(address)
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        with CaptureQueriesContext(connection) as asked:
            browser.get(address)
        times.append(time.perf_counter() - start)
    words = f"{build.steps.count()} steps, {build.wire_runs.count()} wire runs"
    print(f"{words:<34}{len(asked):>9}{MOST_QUERIES:>7}{min(times):>22.3f}")
    return len(asked)


if __name__ == "__main__":
    raise SystemExit(in_a_database_of_its_own(compare))
