"""What lies under a build or a client is found through it only: with another one's number or code it is not there."""

import pytest
from django.urls import get_resolver

from builds.record.models import Build
from tests.access.rows import all_rows
from tests.test_access import knock, sessions  # noqa: F401 a fixture

OWNERS = ("number", "case_code")
KEYS = {"pk", "adult"}


def arguments_of(name):
    """The names in the address of this url."""
    return {one for possibilities, *_ in get_resolver().reverse_dict.getlist(name) for _, names in possibilities
            for one in names}  # fmt: skip


def owner_in(name):
    """What the address says of the owner of the row that it names by its key; nothing where it names none."""
    names = arguments_of(name)
    return next((owner for owner in OWNERS if owner in names and KEYS & names), None)


ROWS = [each for each in all_rows() if owner_in(each.name)]


class Elsewhere:
    """The same world, asked with the number of another client's build, or with another client's code."""

    def __init__(self, world):
        other = Build.objects.exclude(client=world.client).order_by("serial").first()
        self.swapped = {
            world.build.number: other.number,
            world.client.case_code: other.client.case_code,
            other.client.case_code: world.client.case_code,
        }
        self.args = {each.name: self.moved(world.args[each.name]) for each in ROWS}

    def moved(self, kept):
        return {key: self.swapped[value] if key in OWNERS else value for key, value in kept.items()}


@pytest.mark.django_db
def test_every_kind_of_row_is_asked_for():
    """Stands first, so that pytest-django knows the module needs a database."""
    assert {each.name for each in ROWS} >= {
        "step_record", "result_strike", "wire_run_edit", "wire_check_strike", "wire_fuse_edit", "switching_part_edit",
        "photo", "issued_paper", "problem_settle", "task_done", "nonconformance_close", "calibration_accept",
        "timed_runs_strike", "contact_done", "teach_back_try", "teach_back_strike", "restore_item_strike",
        "build_part_edit", "hold_decision", "measure_strike", "clearance_strike", "caregiver_edit", "place_edit",
    }  # fmt: skip


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_it_is_not_found_under_another_owner(row, world, sessions):  # noqa: F811
    elsewhere = Elsewhere(world)
    assert elsewhere.args[row.name] != world.args[row.name]
    assert knock(sessions, elsewhere, row, "coordinator").status_code == 404
