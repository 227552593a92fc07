"""A family gets its copy; after an erasure it is nowhere, the record of the unit stands, and every page opens."""

import json
import re
from io import BytesIO
from zipfile import ZipFile

import pytest
from auditlog.models import LogEntry
from django.core.files.storage import default_storage
from django.urls import NoReverseMatch, get_resolver, reverse
from pypdf import PdfReader

from builds.models import (
    DiaryLine,
    DrawnSignature,
    FamilyLink,
    FamilyReport,
    HandOff,
    IssuedPaper,
    Photo,
    Problem,
    Translation,
)
from builds.papers import rules as papers
from builds.papers.models import PaperKind
from builds.papers.render import PaperError
from builds.personal.held import HELD, OF_THE_FAMILY
from builds.personal.sentences import let_go
from builds.personal.telling import name_in_copy
from builds.record import rules, voiding
from builds.record.holds import Stage
from clients.models import CautionAnswer, Client
from clients.naming import ERASED
from tests.builds.personal.conftest import REPORTS, SETTLED, TOLD, dump
from tests.instants import without_instants

pytestmark = pytest.mark.django_db
PRINTED = ("use_guide", "as_built", "restore_sheet")
LINK = re.compile(r'href="(/[^"#?]*)')


def found_in(text, told=TOLD):
    text = without_instants(text).casefold()
    return [what for what, said in told.items() if said.casefold() in text]


# The copy, as it was before


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
    assert {one["What happened"] for one in records["family report"]} == {*REPORTS, TOLD["third report"]}
    answers = ("Anyone hurt", "Smoke, fire, heat or moving by itself")
    told_of = {tuple(one[label] for label in answers) for one in records["family report"]}
    assert told_of == {("No", "No"), ("Unknown", "No")}
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


# Nowhere


def test_all_of_it_was_there_before(parted):
    """So that the next test looks for what could be found."""
    assert found_in(parted.before["dump"]) == [what for what in TOLD if what not in ("birth day", "link")]


def test_nothing_of_the_family_is_left_in_the_database(parted, build):
    lines = [line for line in dump().splitlines() if found_in(line)]
    assert [(line[:300], found_in(line)) for line in lines if "Bo Ottoline Lind" not in line] == []
    assert all(line.count("Ottoline") == line.count("Bo Ottoline Lind") for line in lines)


def test_nothing_of_the_family_is_left_in_the_files(parted, build):
    assert parted.files, "the files of the unit are kept"
    found = {}
    for path in parted.files:
        content = path.read_bytes()
        text = content.decode(errors="ignore")
        if content.startswith(b"%PDF"):
            text += " ".join(page.extract_text() for page in PdfReader(BytesIO(content)).pages)
        if found_in(text):
            found[path.name] = found_in(text)
    assert found == {}


def test_the_files_are_gone_from_the_storage(parted, build):
    assert all(parted.before["files"].values())
    kept = {one.file.name for one in build.photos.filter(shows_client=False)}
    assert {name for name in parted.before["files"] if default_storage.exists(name)} == kept
    assert {path.suffix for path in parted.files} <= {".jpg", ".txt"}
    assert len(parted.files) == len(kept) + build.captures.count()


def test_rows_go_and_what_the_unit_told_stays(build):
    assert not DiaryLine.objects.exists() and not DrawnSignature.objects.exists()
    places = Translation.objects.values_list("place", flat=True)
    assert places and not any(place.endswith(f"case {build.client.case_code}") for place in places)
    assert set(FamilyReport.objects.values_list("text", "photo")) == {(ERASED, "")}
    assert set(Problem.objects.values_list("text", "settled_note")) == {
        (f"Family link 1. Anyone hurt: no. {ERASED}", SETTLED),
        (f"Family link 1. Anyone hurt: unknown. {ERASED}", SETTLED),
        (ERASED, SETTLED),
    }
    assert f"Call the family about the problem they reported: {ERASED}" in build.tasks.values_list("text", flat=True)
    calls = [(one.stops_use, one.told_by_the_family) for one in build.tasks.exclude(problem=None).order_by("pk")]
    assert calls == [(False, True), (True, True), (False, True)]
    assert list(build.tasks.filter(text=ERASED).values_list("done_note", flat=True)) == ["Called them"]
    assert build.teach_backs.filter(adult=None).count() == build.teach_backs.count() > 0
    assert all(link.revoked_at and not link.word_hash for link in build.family_links.all())
    (shown,) = build.photos.filter(shows_client=True)
    assert (shown.file.name, shown.caption) == ("", "")
    assert build.photos.filter(caption=f"Wheel, as {ERASED} brought it").exists()


def test_the_trail_keeps_who_changed_what_kind_and_when(build, parted):
    result = build.steps.order_by("pk").first().results.get()
    (entry,) = LogEntry.objects.get_for_object(result).filter(action=LogEntry.Action.UPDATE)
    assert entry.changes["note"][1] == f"{ERASED} held the arm while Bo Ottoline Lind measured"
    assert LogEntry.objects.filter(additional_data__client=parted.client, changes={}).count() > 20


# What stays


def test_the_record_of_the_unit_is_as_it_was(build, parted):
    before = parted.before
    assert [(one.pk, one.hold, one.digest, one.voided_at) for one in build.hold_decisions.order_by("pk")] == before[
        "releases"
    ]
    assert list(build.configurations.order_by("pk").values()) == before["configurations"]
    assert list(build.parts.order_by("pk").values()) == before["parts"]
    assert list(build.wire_runs.order_by("pk").values()) == before["runs"]
    rows = build.issued_papers.order_by("pk")
    assert list(rows.values_list("kind", "copy_number", "digest", "superseded_at")) == before["papers"]
    assert {one.kind for one in rows if not one.file} >= {*OF_THE_FAMILY} & {one.kind for one in rows}


def test_releases_keep_the_measures_they_stood_on(build):
    release = build.hold_decisions.get(hold="hand_off", verdict="released")
    kept = {key: item["fields"] for key, item in release.evidence.items()}
    assert "kg" in kept["client-mass"]["mass"]
    assert kept["client-access"]["side"] == "Occupant's left" and "m" in kept["client-access"]["reach"]
    assert kept["client-cautions"]["answers"] == ERASED
    assert (kept["clearance"]["conditions"], kept["clearance"]["speed"]) == (ERASED, "0.9 m/s")
    ride = build.hold_decisions.get(hold="first_ride", verdict="released")
    assert list(ride.evidence["client-places"]["fields"]["slopes"]) == ["place 1"]


def test_a_name_in_a_note_is_gone_from_the_evidence_of_the_releases(build, parted):
    told = [item["fields"].get("note") for one in build.hold_decisions.all() for item in one.evidence.values()]
    (note,) = {one for one in told if one and "held the arm" in one}
    assert not note.startswith("Ottoline")
    assert "ottoline held the arm" in parted.before["dump"].casefold()


def test_nothing_is_void_and_nobody_is_called(build):
    assert [one.void_changes for one in build.hold_decisions.exclude(voided_at=None)] == []
    assert voiding.recheck(build) == [] and build.void_holds() == []
    assert not build.tasks.filter(done_at=None).exists()


def test_the_unit_still_comes_to_its_end(build, parted):
    crew = parted.people
    with pytest.raises(rules.Refused, match="is erased"):
        rules.move(build, Stage.ADAPTATION, crew["coordinator"], "Once more")
    assert rules.move(build, Stage.RETIRED, crew["coordinator"], "The frame is bent").stage == Stage.RETIRED


@pytest.mark.parametrize("kind", [PaperKind.USE_GUIDE, PaperKind.WHAT_WE_KEEP, PaperKind.AS_BUILT])
def test_no_paper_is_issued_any_more(build, parted, kind):
    assert papers.why_not(kind, build) == [
        f"The file of {build.client.case_code} is erased. No paper of this build is issued any more."
    ]
    with pytest.raises(PaperError, match="is erased"):
        papers.issue(build, kind, parted.people["coordinator"])


def test_working_papers_are_still_printed(build):
    assert not any("is erased" in reason for reason in papers.why_not(PaperKind.RESTORE_SHEET, build))


def test_no_copy_is_to_be_collected_from_nobody(build):
    build.issued_papers.update(superseded_at=build.made_at)
    assert papers.to_collect(build) == []


def test_an_erased_copy_says_so(build, parted, as_person):
    copy = IssuedPaper.objects.filter(build=build, kind=PaperKind.USE_GUIDE).first()
    answer = as_person(parted.people["coordinator"]).get(reverse("issued_paper", args=[build.number, copy.pk]))
    assert answer.status_code == 410 and "is erased, and this copy with it" in answer.text


@pytest.mark.parametrize("name", ["hand_off_edit", "contact_new", "family_link_new"])
def test_nothing_of_a_family_is_added_to_the_build(build, parted, as_person, name):
    browser = as_person(parted.people["coordinator"])
    for ask in (browser.get, browser.post):
        answer = ask(reverse(name, args=[build.number]))
        assert answer.status_code == 403 and "is erased" in answer.text


def test_an_erased_photo_says_so(build, parted, as_person):
    shown = Photo.objects.get(build=build, shows_client=True)
    answer = as_person(parted.people["director"]).get(reverse("photo", args=[build.number, shown.pk]))
    assert answer.status_code == 403 and "is erased" in answer.text


# Translations


def test_a_sentence_of_another_client_too_stays_theirs(parted, build):
    other, client = Client.objects.get(pk=parted.other), build.client
    caution = CautionAnswer.objects.filter(client=other).first()
    caution.answer, caution.plan = "yes", "Shade and water"
    caution.save(update_fields=["answer", "plan"])
    from builds.papers.translations import digest_of

    kept = Translation.objects.create(
        language="es", source="Shade and water", source_digest=digest_of("Shade and water"), text="Sombra y agua",
        place=f"Plan for “Heat” of case {client.case_code}", translated_by="A speaker", made_by=build.made_by,
    )  # fmt: skip
    assert let_go(client) == []
    kept.refresh_from_db()
    assert kept.place.endswith(f"of case {other.case_code}")


# Pages


def addresses_of(build):
    """Every address with the build's number and nothing else in it, and every kind of paper on screen."""
    found = set()
    for name in {name for name in get_resolver().reverse_dict if isinstance(name, str)}:
        kinds = PaperKind.values if name in ("paper_view", "paper_numbers") else PRINTED if name == "paper_pdf" else ()
        for more in ([], *([kind] for kind in kinds)):
            try:
                found.add(reverse(name, args=[build.number, *more]))
            except NoReverseMatch:
                continue
    return {one for one in found if one.startswith("/builds/")}


def is_print(address):
    return "/pdf" in address or "/beside/" in address


@pytest.mark.parametrize("person", ["coordinator", "builder", "reviewer", "director"])
def test_every_page_of_the_build_opens_and_names_nobody(person, build, parted, as_person):
    browser = as_person(parted.people[person])
    waiting = addresses_of(build) | {
        reverse("client_page", args=[build.client.case_code]), "/clients/", "/builds/", "/desk/", "/board/",
        f"/search/?q={build.client.case_code}", f"/search/?q={TOLD['family name']}",
    }  # fmt: skip
    seen, opened, trouble = set(), 0, {}
    while waiting:
        address = waiting.pop()
        seen.add(address)
        if is_print(address) and (person != "coordinator" or not any(f"/{kind}/" in address for kind in PRINTED)):
            continue
        answer = browser.get(address)
        if answer.status_code not in (200, 302, 403, 404, 405, 410, 422):
            trouble[address] = answer.status_code
        if answer.status_code != 200 or not answer["Content-Type"].startswith("text/html"):
            continue
        opened += 1
        if found_in(answer.text.replace("Bo Ottoline Lind", "").replace(f"q={TOLD['family name']}", "")):
            trouble[address] = found_in(answer.text)
        ours = {link for link in LINK.findall(answer.text) if build.number in link or build.client.case_code in link}
        waiting |= ours - seen
    assert trouble == {} or list(trouble) == [f"/search/?q={TOLD['family name']}"]
    assert opened > 15
