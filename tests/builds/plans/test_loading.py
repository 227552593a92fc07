"""Loading plans: once, again, changed, and by command."""

import copy
from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from builds.plans.document import read_plan
from builds.plans.loading import DATA, load_content, load_folder
from builds.plans.models import Plan, PlanRevision
from builds.plans.schema import PlanError

pytestmark = pytest.mark.django_db


@pytest.fixture
def content():
    return read_plan(DATA / "press-switch.toml")


def test_the_command_loads_three_plans_once():
    said = [StringIO(), StringIO()]
    for out in said:
        call_command("load_plans", stdout=out)
    assert Plan.objects.count() == PlanRevision.objects.count() == 3
    assert said[0].getvalue().count(": loaded") == 3
    assert said[1].getvalue().count(": unchanged") == 3


def test_what_is_loaded_is_what_the_file_says(content):
    revision, is_new = load_content(content, "press-switch.toml")
    revision.refresh_from_db()
    assert is_new
    assert revision.content == content
    assert (revision.plan.code, revision.plan.equipment) == ("press-switch", "ride_on")
    assert revision.number == content["revision"]


def test_changed_content_under_the_same_number_is_refused(content):
    load_content(content, "press-switch.toml")
    content["bom"][0]["quantity"] = 2
    now = content["revision"]
    told = rf"press-switch.toml: revision: revision {now} is loaded already.*number {now + 1}"
    with pytest.raises(PlanError, match=told):
        load_content(content, "press-switch.toml")
    assert PlanRevision.objects.get().content["bom"][0]["quantity"] == 1


def test_a_new_number_makes_a_new_revision_and_keeps_the_old(content):
    first, _ = load_content(content, "a.toml")
    changed = {**copy.deepcopy(content), "revision": content["revision"] + 1, "name": "Press switch, second issue"}
    second, _ = load_content(changed, "a.toml")
    assert second.plan == first.plan and second.plan.current() == second
    assert Plan.objects.get().name == "Press switch, second issue"
    first.refresh_from_db()
    assert first.content == content


def test_an_older_number_is_refused(content):
    load_content({**content, "revision": 3}, "a.toml")
    with pytest.raises(PlanError, match="revision: is 2; revision 3 is loaded already"):
        load_content({**content, "revision": 2}, "a.toml")


def test_a_plan_does_not_change_its_kind_of_equipment(content):
    load_content(content, "a.toml")
    with pytest.raises(PlanError, match="equipment: is toy"):
        load_content({**content, "equipment": "toy", "revision": content["revision"] + 1}, "a.toml")


def test_one_bad_file_loads_none(tmp_path):
    (tmp_path / "a.toml").write_text((DATA / "press-switch.toml").read_text())
    (tmp_path / "b.toml").write_text('code = "half"')
    with pytest.raises(CommandError, match="b.toml: "):
        call_command("load_plans", folder=tmp_path)
    assert not Plan.objects.exists()


def test_an_empty_folder_is_said(tmp_path):
    with pytest.raises(PlanError, match="there is no"):
        load_folder(tmp_path)
