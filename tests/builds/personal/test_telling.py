"""A family that asks gets what the builds hold of it: words, photos, signatures, papers, and the trail."""

import json
from io import BytesIO
from zipfile import ZipFile

import pytest

from builds.models import FamilyLink
from builds.papers.models import HandOff
from builds.personal.held import HELD
from builds.personal.telling import name_in_copy
from tests.builds.personal.conftest import REPORTS, TOLD

pytestmark = pytest.mark.django_db


@pytest.fixture
def box(parted):
    with ZipFile(BytesIO(parted.copy)) as box:
        yield box


@pytest.fixture
def told(box):
    (name,) = [name for name in box.namelist() if name.endswith(".json")]
    return json.loads(box.read(name))


def test_everything_of_the_family_is_told(told):
    text = json.dumps(told, ensure_ascii=False).casefold()
    assert [what for what, said in TOLD.items() if said.casefold() not in text] == ["birth day", "link"]


def test_words_stand_under_their_labels(told):
    records = told["records"]
    assert {one["What happened"] for one in records["family report"]} == set(REPORTS)
    assert records["diary line"][0]["Note"] == "We laughed at the ducks"
    assert {one["adult"] for one in records["teach back"]} == {f"{TOLD['caregiver']} ({TOLD['relation']})"}
    assert "Leopoldina Frost" in {one["Given to"] for one in records["issued paper"]}
    assert records["translation"][0]["Translation"] == "Un estanque de patos"
    assert "The great-aunt told of a birthday" in {one["What came of it"] for one in records["planned contact"]}


def test_every_kind_that_is_held_is_in_it(told):
    assert {str(held.model._meta.verbose_name) for held in HELD} <= set(told["records"])


def test_photos_signatures_and_papers_are_beside_the_text(told, box):
    named = {
        one[label] for kind, label in (
            ("family report", "photo"), ("drawn signature", "image"), ("photo", "file"), ("issued paper", "file"),
            ("hand off", "Scan or photo of the signed sheet"),
        ) for one in told["records"][kind] if one.get(label)
    }  # fmt: skip
    there = {name for name in box.namelist() if not name.endswith(".json")}
    assert there <= named and told["This file is missing"] == []
    assert {name.rpartition(".")[2] for name in there} == {"jpg", "png", "pdf"}
    assert all(box.read(name) for name in there)
    assert len(told["records"]["photo"]) == 1, "only the photo that shows the client"


def test_no_secret_of_a_link_is_told(told, parted):
    link = FamilyLink.objects.first()
    text = json.dumps(told)
    assert "Works until" in told["records"]["family link"][0]
    assert link.key_digest not in text and "word_hash" not in text and "word hash" not in text


def test_who_changed_it_is_told_of_the_builds_too(told):
    changes = {one["what"] for one in told["who changed"]}
    assert {"create: family report", "create: diary line", "update: planned contact", "create: person file"} <= changes
    assert all(one["who"] and one["when"] for one in told["who changed"])


def test_a_signed_sheet_gets_an_ending_that_a_computer_knows():
    sheet = HandOff(signed_sheet="signed/B-0001/abc", signed_sheet_type="application/pdf")
    (held,) = [held for held in HELD if held.model is HandOff]
    assert name_in_copy(held, sheet) == "signed/B-0001/abc.pdf"
