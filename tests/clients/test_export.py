"""A family that asks gets everything that the lab keeps about the client, in one readable file, and nobody else's."""

import json
from io import BytesIO
from zipfile import ZipFile

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from builds.demo.factories import clients as make
from clients.export import NOT_TOLD, export, path_to_client, records
from clients.models import CaseMove, Client, GoalScore, Measure
from labsite.models import FileOpening
from tests.clients.conftest import at, send

# What `cleared` has, and a goal with its score.
KEPT = {
    "person file", "caregiver", "household", "place", "referral", "case move", "measure", "access profile",
    "sitting profile", "caution answer", "goal", "goal score", "consent", "clearance", "erasure",
}  # fmt: skip


@pytest.fixture
def exported(desk, cleared, coordinator):
    make.GoalScoreFactory(goal=cleared.goals.get(), made_by=coordinator, note="Looked on")
    cleared.measures.get(kind="mass").strike(coordinator, "Typed in pounds")
    return json.loads(told_by(desk, cleared))


def told_by(desk, client):
    """The text in the copy that is downloaded."""
    answer = desk.get(at("client_export", client))
    assert answer["Content-Disposition"] == f'attachment; filename="{client.case_code}.zip"'
    with ZipFile(BytesIO(b"".join(answer.streaming_content))) as box:
        return box.read(f"{client.case_code}.json").decode()


def test_every_kind_of_record_of_this_app_is_in_it(exported):
    ours = {str(model._meta.verbose_name) for model, _ in records()}
    assert ours == KEPT <= set(exported["records"])
    assert {kind for kind in KEPT if not exported["records"][kind]} == {"case move", "erasure"}


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
    text = told_by(desk, cleared)
    assert cleared.person.family_name in text and "Quillfeather" not in text
    assert len(json.loads(text)["records"]["person file"]) == 1


def test_the_export_is_written_down(desk, cleared, coordinator):
    desk.get(at("client_export", cleared))
    opening = FileOpening.objects.get()
    assert (opening.account, opening.case_code, opening.what) == (
        coordinator, cleared.case_code, "Export of the whole file",
    )  # fmt: skip


def test_the_page_before_says_what_is_in_it(desk, cleared):
    page = desk.get(at("client_copy", cleared)).text
    assert "Caregiver" in page and "It is not locked." in page
    assert at("client_export", cleared) in page


def test_who_looked_and_who_changed_are_in_it(desk, cleared, coordinator):
    desk.get(at("client_page", cleared))
    send(desk, at("person_edit", cleared), given_name="Zephyrine")
    told = json.loads(told_by(desk, cleared))
    assert {"Client page", "Person file"} <= {one["what"] for one in told["who looked"]}
    (change,) = [one for one in told["who changed"] if "Given name" in one["values"] and "update" in one["what"]]
    assert (change["who"], change["values"]["Given name"][1]) == (coordinator.full_name, "Zephyrine")


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
    with CaptureQueriesContext(connection) as few:
        export(cleared)
    for _ in range(3):
        make.MeasureFactory(client=cleared, made_by=coordinator)
    with django_assert_num_queries(len(few)):
        export(cleared)
