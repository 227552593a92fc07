"""A drawn signature is drawn anew, stands on one sheet, and is printed on the hand-off sheet only."""

import base64
import hashlib
from io import BytesIO

import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse
from PIL import Image, ImageDraw, PngImagePlugin

from builds.demo.factories.clients import CaregiverFactory
from builds.demo.factories.papers import teach_all
from builds.papers import rules as papers
from builds.papers import signing, teaching
from builds.papers.models import DrawnSignature
from builds.papers.render import render_html
from builds.record import rules as record
from builds.record.rules import Refused
from tests.builds.papers.conftest import again

PDF = b"%PDF-1.7\n%%EOF\n"


def drawing(size=(900, 300), line=((60, 220), (300, 60), (500, 240)), kind="PNG", mode="RGBA", **more):
    image = Image.new(mode, size, (0, 0, 0, 0) if mode == "RGBA" else "white")
    if line:
        ImageDraw.Draw(image).line(line, fill="black", width=5)
    held = BytesIO()
    image.save(held, kind, **more)
    return held.getvalue()


def sent(content):
    return signing.HEAD + base64.b64encode(content).decode()


@pytest.fixture
def taught(ready, coordinator, monkeypatch):
    monkeypatch.setattr(papers, "render_pdf", lambda html, build=None, **more: PDF)
    papers.issue(again(ready), "hand_off_sheet", coordinator)
    teach_all(again(ready), coordinator)
    return again(ready)


@pytest.fixture
def adult(taught):
    return teaching.supervising_adults(taught)[0]


def keep(build, account, adult):
    return signing.sign(again(build), account, adult=adult, drawing=signing.clean_drawing(sent(drawing())))


def test_what_is_kept_is_drawn_anew_and_cut_to_the_ink():
    note = PngImagePlugin.PngInfo()
    note.add_text("Comment", "where it was made")
    kept = signing.clean_drawing(sent(drawing(pnginfo=note))).read()
    image = Image.open(BytesIO(kept))
    assert (image.format, image.mode) == ("PNG", "L")
    assert 440 < image.width < 470
    assert b"where it was made" not in kept
    assert image.getpixel((0, 0)) == 255


def test_a_drawing_on_white_is_read_too():
    assert signing.clean_drawing(sent(drawing(mode="RGB"))).size > 0


@pytest.mark.parametrize(
    "text",
    [
        "",
        "hello",
        "data:image/svg+xml;base64,PHN2Zy8+",
        signing.HEAD,
        signing.HEAD + "not base64 !!",
        sent(b"\x89PNG\r\n\x1a\n and then nothing"),
        sent(drawing(kind="JPEG", mode="RGB")),
        sent(drawing()[:400]),
        sent(drawing(line=None)),
        sent(drawing(line=((10, 10), (12, 12)))),
        sent(drawing(size=(4000, 300))),
        signing.HEAD + "A" * signing.MOST_SIGNS,
        sent(drawing()) + "<script>",
    ],
    ids=lambda text: f"{text[:30]} {len(text)}",
)
def test_anything_else_is_refused_in_words(text):
    with pytest.raises(ValidationError, match="[Dd]raw the signature"):
        signing.clean_drawing(text)


def test_it_is_kept_with_who_when_and_the_digest_of_its_sheet(taught, coordinator, adult):
    row = keep(taught, coordinator, adult)
    assert row.paper_digest == hashlib.sha256(PDF).hexdigest() == row.paper.digest
    assert (row.adult, row.made_by) == (adult, coordinator)
    assert row.made_at is not None


def test_it_is_printed_on_the_hand_off_sheet_and_nowhere_else(taught, coordinator, adult):
    address = signing.address(taught, keep(taught, coordinator, adult))
    without_consent = {"clinician_summary"}  # it is not rendered at all
    for kind in set(papers.kinds(taught)) - without_consent:
        assert (address in render_html(kind, again(taught), draft=False)) is (kind == "hand_off_sheet"), kind


def test_the_print_engine_may_fetch_it(taught, coordinator, adult):
    row = keep(taught, coordinator, adult)
    assert signing.files(taught) == {signing.address(taught, row): row.image.path}


def test_it_goes_when_its_sheet_is_superseded(taught, coordinator, adult):
    keep(taught, coordinator, adult)
    record.configure(again(taught), coordinator, "The other hand tires less", side="right")
    assert signing.signatures(again(taught)) == []
    assert DrawnSignature.objects.count() == 1


def test_it_goes_with_the_person_and_so_does_its_file(
    taught, coordinator, adult, django_capture_on_commit_callbacks
):
    row = keep(taught, coordinator, adult)
    with django_capture_on_commit_callbacks(execute=True):
        adult.delete()
    assert not row.image.storage.exists(row.image.name)


def test_nobody_signs_before_the_teach_back_is_passed(taught, coordinator):
    late = CaregiverFactory(client=taught.client, name="Tomas Castellan", is_first_contact=False)
    with pytest.raises(Refused, match="No hand-off sheet is current"):
        keep(taught, coordinator, late)  # the sheet that was issued has no line for this adult
    papers.issue(again(taught), "hand_off_sheet", coordinator)
    with pytest.raises(Refused, match="Finish the teach-back first"):
        keep(again(taught), coordinator, late)


def test_nobody_signs_twice_or_without_a_sheet(taught, coordinator, adult):
    keep(taught, coordinator, adult)
    with pytest.raises(Refused, match="signed this sheet already"):
        keep(taught, coordinator, adult)
    papers.supersede(signing.sheet_to_sign(taught), ["Another phone of the lab"], "lab")
    with pytest.raises(Refused, match="No hand-off sheet is current"):
        keep(taught, coordinator, adult)


def test_a_sheet_that_was_changed_afterwards_is_not_signed(taught, coordinator, adult):
    sheet = signing.sheet_to_sign(taught)
    with open(sheet.file.path, "ab") as file:
        file.write(b"more")
    with pytest.raises(Refused, match="not the one that was issued"):
        keep(taught, coordinator, adult)


def test_the_page_keeps_what_was_drawn(taught, coordinator, adult, as_person):
    client = as_person(coordinator)
    address = reverse("hand_off_sign", args=[taught.number])
    answer = client.post(address, {"adult": adult.pk, "drawing": sent(drawing())})
    assert answer["Location"] == reverse("hand_off", args=[taught.number])
    page = client.get(answer["Location"]).text
    assert DrawnSignature.objects.get().paper_digest[:12] in page
    picture = client.get(reverse("hand_off_signature", args=[taught.number, DrawnSignature.objects.get().pk]))
    assert picture["Content-Type"] == "image/png"


@pytest.mark.parametrize("typed", [{}, {"adult": "999999"}, {"drawing": "nonsense"}])
def test_the_page_refuses_in_words(taught, coordinator, adult, as_person, typed):
    address = reverse("hand_off_sign", args=[taught.number])
    answer = as_person(coordinator).post(address, {"adult": adult.pk, **typed})
    assert answer.status_code == 422
    assert "raw the signature in the box" in answer.text
    assert not DrawnSignature.objects.exists()


def test_who_taught_is_kept_and_printed(ready, coordinator):
    adult = teaching.supervising_adults(ready)[0]
    for item, teacher in (("stop", "Pia Novak"), ("charge", "")):
        teaching.record_try(ready, coordinator, adult=adult, item=item, how="shown", right=True, taught_by=teacher)
    assert teaching.teachers(again(ready), adult) == ["Pia Novak", "Cora Ames"]
    assert f"{adult.name} was taught by Pia Novak, Cora Ames." in render_html("hand_off_sheet", again(ready))
