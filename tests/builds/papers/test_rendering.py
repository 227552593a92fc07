"""Whatever people typed is text; nothing but this project's own files is ever fetched; nothing is left half done."""

from io import BytesIO

import pytest
from pypdf import PdfReader

from builds.demo.factories.bench import drawn_photo
from builds.papers import render
from builds.papers.render import PaperError, file_name, render_html, render_pdf, write_whole
from builds.record.models import Photo
from labsite.models import Lab
from tests.builds.papers.conftest import again, pages_of, pdf_text

HOSTILE = '<script>alert(1)</script> & "quoted" <img src="http://example.org/x.png"> <img src="file:///etc/passwd">'


@pytest.fixture
def opened(monkeypatch):
    """Every address that the engine asked for and got."""
    got = []
    own_file = render.own_file

    def watching(url, photos=None):
        found = own_file(url, photos)
        got.append(url)
        return found

    monkeypatch.setattr(render, "own_file", watching)
    return got


def hostile_everywhere(build):
    build.client.cautions.filter(kind="seizures").update(answer="yes", plan=HOSTILE)
    build.client.clearances.update(conditions=HOSTILE)
    build.client.caregivers.update(name=HOSTILE[:100])
    build.configurations.update(disconnect=HOSTILE, seat=HOSTILE, reason=HOSTILE)
    Lab.objects.update(hours=HOSTILE[:110], outside_hours=HOSTILE)
    build.wire_runs.update(deviation_reason=HOSTILE)


@pytest.mark.parametrize("kind", ["use_guide", "charging_guide", "supervision_card", "hand_off_sheet", "as_built"])
def test_what_was_typed_is_printed_as_text(ready, kind, opened):
    hostile_everywhere(ready)
    html = render_html(kind, again(ready))
    assert "<script>" not in html
    assert "<img src=" not in html.replace(f'<img src="/builds/{ready.number}/photos/', "")
    text = " ".join(pages_of(render_pdf(html, ready)))
    assert '<script>alert(1)</script> & "quoted"' in text
    assert [url for url in opened if not url.startswith("http://papers.invalid/static/")] == []


@pytest.mark.parametrize(
    "address",
    [
        "http://example.org/x.png",
        "https://example.org/x.png",
        "file:///etc/passwd",
        "ftp://example.org/x",
        "/etc/passwd",
        "http://papers.invalid/etc/passwd",
        "http://papers.invalid/static/../../etc/passwd",
        "http://papers.invalid/static/%2e%2e/%2e%2e/etc/passwd",
        "http://papers.invalid.example.org/static/css/print.css",
        "http://papers.invalid@example.org/static/css/print.css",
        "data:text/html,x",
    ],
)
def test_the_engine_is_refused_every_other_address(address):
    with pytest.raises(ValueError, match="Papers fetch nothing|no static file"):
        render.fetcher().fetch(address)


def test_the_engine_gets_our_own_style_and_face(opened):
    assert b"@page" in render.fetcher().fetch("http://papers.invalid/static/css/print.css").read()
    assert render.fetcher().fetch("http://papers.invalid/static/fonts/AtkinsonHyperlegible-Bold.ttf").read(4)


def test_images_put_into_the_html_by_force_are_not_fetched(opened):
    html = '<html lang="en"><title>x</title><p>x<img src="http://example.org/x.png"><img src="file:///etc/hostname">'
    render_pdf(html)
    assert opened == []


def test_the_face_is_ours_and_other_scripts_have_glyphs(ready):
    Lab.objects.update(hours="Понедельник, Δευτέρα, Thứ hai")
    reader = PdfReader(BytesIO(render_pdf(render_html("use_guide", again(ready)), ready)))
    fonts = {
        str(font.get_object()["/BaseFont"]) for page in reader.pages for font in page["/Resources"]["/Font"].values()
    }
    assert any("Atkinson" in name for name in fonts)
    text = " ".join(pages_of(render_pdf(render_html("use_guide", again(ready)), ready)))
    assert "Понедельник, Δευτέρα, Thứ hai" in text


def test_a_word_without_end_stays_on_the_page(ready):
    word = "W" * 119
    Lab.objects.update(hours=word)
    reader = PdfReader(BytesIO(render_pdf(render_html("supervision_card", again(ready)), ready)))
    joined = "".join(page.extract_text() for page in reader.pages).replace("\n", "")
    assert word in joined.replace(" ", "")
    edges = []
    reader.pages[0].extract_text(visitor_text=lambda text, cm, tm, font, size: edges.append(tm[4] * cm[0] + cm[4]))
    assert max(edges) < float(reader.pages[0].mediabox.width)


def test_photos_of_the_unit_are_printed_and_those_of_the_client_never(ready, coordinator):
    for caption, shows in (("The left side", False), ("Sitting in it", True)):
        photo = Photo(build=ready, caption=caption, shows_client=shows, made_by=coordinator)
        photo.file.save("x.jpg", drawn_photo(caption), save=False)
        photo.save(force_insert=True)
    text = pdf_text("as_built", ready)
    assert "The left side" in text
    assert "Sitting in it" not in text
    assert list(render.photo_files(again(ready)).values()) == [ready.photos.get(shows_client=False).file.path]


def test_an_unknown_size_is_refused_with_the_sizes(ready):
    with pytest.raises(PaperError, match="must be letter or a4, not a5"):
        render_html("use_guide", ready, "a5")


def test_file_names_carry_no_name(ready):
    name = file_name(ready, "use_guide", configuration=ready.configuration(), copy_number=2)
    assert name == f"{ready.number}-use-guide-c2-copy2.pdf"


def test_a_file_that_cannot_be_written_leaves_nothing(tmp_path, monkeypatch):
    def fail(*args):
        raise OSError("disk full")

    monkeypatch.setattr(render.os, "replace", fail)
    with pytest.raises(OSError, match="disk full"):
        write_whole(tmp_path / "a.pdf", b"x")
    assert list(tmp_path.iterdir()) == []
