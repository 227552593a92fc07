"""A build at its end is a record: no room changes it any more, and the desk goes on with what is left to do."""

import pytest
from django.urls import reverse

from builds.record.holds import OVER
from tests.access.record import BENCH, CHECK, REVIEW
from tests.access.rows import all_rows
from tests.test_access import knock, sessions  # noqa: F401 a fixture

pytestmark = pytest.mark.django_db
# What was wrong is still settled, and a photo that shows somebody is taken from sight.
LEFT_TO_DO = {"nonconformance_close", "problem_settle", "problem_strike", "photo_strike"}
WORKS = [
    row for row in all_rows()
    if row.method == "GET" and row.expected in (BENCH, CHECK, REVIEW)
    or row.name in ("hold_ask", "hold_release", "calibration_accept", "fault_record")
]  # fmt: skip
DESK = {
    "build_people", "task_new", "task_done", "paper_issue", "contact_new", "contact_done", "contact_strike",
    "hand_off_edit", "signed_sheet_add", "teach_back_strike", "problem_new",
}  # fmt: skip


@pytest.fixture
def ended(world):
    before, world.build.stage = world.build.stage, OVER[0]
    world.build.save(update_fields=["stage"])
    yield world
    world.build.stage = before
    world.build.save(update_fields=["stage"])


def worker(row):
    return "coordinator" if row.expected["coordinator"] != 403 else "reviewer"


def test_no_room_works_on_a_build_at_its_end(ended, sessions):  # noqa: F811
    rows = [row for row in WORKS if ended.args.get(row.name, {}).get("number") == ended.build.number]
    assert len({row.name for row in rows}) > 40
    answers = {row.name: knock(sessions, ended, row, worker(row)) for row in rows}
    assert {name for name, answer in answers.items() if answer.status_code != 403} == LEFT_TO_DO
    refused = answers["timed_runs_new"].content.decode()
    assert f"Build {ended.build.number} is at its end: {ended.build.get_stage_display().lower()}." in refused


def test_the_desk_goes_on(ended, sessions):  # noqa: F811
    rows = [row for row in all_rows() if row.name in DESK and row.method == "GET"]
    answers = {row.name: knock(sessions, ended, row, "coordinator").status_code for row in rows}
    assert answers == dict.fromkeys(DESK, 200)


def test_what_may_not_be_changed_is_not_offered(ended, as_person):
    browser = as_person(ended.coordinator)
    number = [ended.build.number]
    for name, link in (("timed_runs", "timed_runs_new"), ("harness", "wire_run_new"), ("build_photos", "photo_add")):
        assert reverse(link, args=number) not in browser.get(reverse(name, args=number)).content.decode()
