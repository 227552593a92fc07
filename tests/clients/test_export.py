"""A family that asks gets everything that the lab keeps about the client, in one readable file, and nobody else's."""

import json

import pytest

from builds.demo.factories import clients as make
from clients.export import NOT_TOLD, export, path_to_client, records
from clients.models import CaseMove, Client, GoalScore, Measure
from labsite.models import FileOpening
from tests.clients.conftest import at

# What `cleared` has, and a goal with its score.
KEPT = {
    "person file", "caregiver", "household", "place", "referral", "case move", "measure", "access profile",
    "sitting profile", "caution answer", "goal", "goal score", "consent", "clearance",
}  # fmt: skip


@pytest.fixture
def exported(desk, cleared, coordinator):
    make.GoalScoreFactory(goal=cleared.goals.get(), made_by=coordinator, note="Looked on")
    cleared.measures.get(kind="mass").strike(coordinator, "Typed in pounds")
    answer = desk.get(at("client_export", cleared))
    assert answer["Content-Disposition"] == f'attachment; filename="{cleared.case_code}.json"'
    return json.loads(answer.content)


def test_every_kind_of_record_is_in_it(exported):
    assert set(exported["records"]) == KEPT
    assert [kind for kind, rows in exported["records"].items() if not rows] == ["case move"]


def test_values_stand_under_their_labels_as_a_person_reads_them(exported, cleared):
    (person,) = exported["records"]["person file"]
    assert person["Given name"] == cleared.person.given_name
    assert person["Birth date"] == str(cleared.person.birth_date)
    assert person["Sex, for growth charts only"] == "Unknown"
    (score,) = exported["records"]["goal score"]
    assert (score["Level"], score["Note"]) == ("-2, much less than expected", "Looked on")
    assert exported["records"]["clearance"][0]["Other conditions"] is None


def test_struck_entries_are_told_with_their_reason(exported):
    reasons = [row["Reason for striking"] for row in exported["records"]["measure"]]
    assert reasons.count("Typed in pounds") == 1


def test_nothing_of_another_client_is_in_it(desk, cleared, coordinator):
    make.make_cleared_client(coordinator, person__given_name="Zephyrine", person__family_name="Quillfeather")
    text = desk.get(at("client_export", cleared)).content.decode()
    assert cleared.person.family_name in text and "Quillfeather" not in text
    assert len(json.loads(text)["records"]["person file"]) == 1


def test_the_export_is_written_down(desk, cleared, coordinator):
    desk.get(at("client_export", cleared))
    opening = FileOpening.objects.get()
    assert (opening.account, opening.case_code, opening.what) == (
        coordinator, cleared.case_code, "Export of the whole file",
    )  # fmt: skip


def test_records_are_found_through_what_they_belong_to():
    assert (path_to_client(Measure), path_to_client(GoalScore), path_to_client(CaseMove), path_to_client(Client)) == (
        "client", "goal__client", "referral__client", "",
    )  # fmt: skip
    assert len(list(records())) == len(KEPT)


@pytest.mark.parametrize("model", [model for model, _ in records()])
def test_no_two_fields_share_a_label(model):
    """Or one of them would be missing from the file."""
    labels = [str(field.verbose_name) for field in model._meta.concrete_fields if field.name not in NOT_TOLD]
    assert len(labels) == len(set(labels))


def test_more_rows_take_no_more_queries(desk, cleared, coordinator, django_assert_num_queries):
    with django_assert_num_queries(len(KEPT) + 1):
        export(cleared)
    for _ in range(3):
        make.MeasureFactory(client=cleared, made_by=coordinator)
    with django_assert_num_queries(len(KEPT) + 1):
        export(cleared)
