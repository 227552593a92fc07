"""Names of any script, very long ones, text from right to left, nothing where something may be left out, and markup."""

import subprocess

import pytest
from pypdf import PdfReader

from builds.demo.factories.translations import translate, translate_record
from builds.papers import rules
from builds.papers.models import IssuedPaper
from builds.papers.render import PaperError, render_html, render_pdf
from labsite.models import Lab
from tests.builds.papers.conftest import again, pages_of

NAMES = {
    "Latin": "Þórdís Nguyễn-Łęcka",
    "Cyrillic": "Соломія Гнатюкевич",
    "Greek": "Ελευθερία Παπαδάκη",
    "Arabic": "رنا الصبّاغي",
    "Hebrew": "נועה בן־דוד",
    "Devanagari": "मीरा त्रिवेदिया",
    "Bengali": "অনন্যা সরকার",
    "Tamil": "கயல்விழி",
    "Thai": "สมหญิง ใจดี",
    "Chinese": "欧阳林海",
    "Japanese": "さくら 小野寺",
    "Korean": "김서연",
    "Armenian": "Անահիտ Պետրոսիկյան",
    "Georgian": "ნინო ბერიძე",
    "Ethiopic": "ሰላም ተስፋዬ",
}
LONG = "Maximiliana Theodora " * 5 + "de la Rosamundería"
MARKUP = "<b>Ana</b> & <script>alert(1)</script>"
HANGING = ("use_guide", "charging_guide", "supervision_card")


def with_name(build, name):
    build.client.caregivers.update(name=name)
    return again(build)


@pytest.mark.parametrize("script", NAMES)
def test_a_name_in_any_script_is_printed_without_boxes(ready, script):
    build = with_name(ready, NAMES[script])
    assert render_pdf(render_html("hand_off_sheet", build), build, must_have_fonts=True)


def test_a_paper_with_a_sign_that_no_font_has_is_read_but_not_issued(ready, coordinator):
    build = with_name(ready, "\U0010fffd")
    assert render_pdf(render_html("hand_off_sheet", build), build)
    with pytest.raises(PaperError, match="a sign that no font here has"):
        rules.issue(build, "hand_off_sheet", coordinator)
    assert not IssuedPaper.objects.exists()


@pytest.mark.parametrize("script", ["Latin", "Cyrillic", "Greek", "Chinese", "Armenian"])
def test_the_name_can_be_read_back(ready, script):
    build = with_name(ready, NAMES[script])
    assert NAMES[script] in " ".join(pages_of(render_pdf(render_html("hand_off_sheet", build), build)))


@pytest.mark.parametrize("print_size", ["normal", "large"])
def test_a_very_long_name_stays_on_the_page(ready, tmp_path, print_size):
    build = with_name(ready, LONG)
    path = tmp_path / "sheet.pdf"
    path.write_bytes(render_pdf(render_html("hand_off_sheet", build, print_size=print_size), build))
    width = float(PdfReader(path).pages[0].mediabox.width)
    found = subprocess.run(["pdftotext", "-bbox", str(path), "-"], capture_output=True, text=True, check=True).stdout
    edges = [float(part.split('"')[0]) for part in found.split('xMax="')[1:]]
    assert edges
    assert max(edges) <= width - 28  # a margin of 10 mm at the least


def test_text_from_right_to_left_stands_inside_a_sentence(ready):
    Lab.objects.update(name="מעבדה Alder Creek مختبر")
    text = " ".join(pages_of(render_pdf(render_html("use_guide", again(ready)), ready)))
    assert "Alder Creek" in text
    assert "Say the equipment number:" in text


@pytest.mark.parametrize("kind", HANGING)
@pytest.mark.parametrize("language", ["en", "es"])
def test_what_may_be_left_out_leaves_no_trace(ready, coordinator, kind, language):
    translate_record(ready, coordinator)
    Lab.objects.update(hours="", outside_hours="", name="", phone="")
    ready.client.clearances.update(conditions="", places=[], session_min=None)
    ready.configurations.update(ceiling_position="", disconnect="", seat="", mount="", supports=[])
    ready.configuration().charger.__class__.objects.update(light_charging="", light_full="")
    ready.client.places.update(hazards="")
    html = render_html(kind, again(ready), language=language)
    text = " ".join(pages_of(render_pdf(html, ready)))
    assert [word for word in ("None", "()", ": .", "%(", "aún no está traducida") if word in text] == []
    assert "<li></li>" not in html
    assert "<p></p>" not in html


@pytest.mark.parametrize("kind", [*HANGING, "hand_off_sheet", "stop_use_card", "teach_back_sheet"])
def test_markup_of_a_translation_is_text(ready, coordinator, kind):
    disconnect = ready.configuration().disconnect
    translate(disconnect, MARKUP, coordinator)
    translate_record(ready, coordinator)
    html = render_html(kind, with_name(ready, MARKUP), language="es")
    assert "<script>" not in html
    assert "<b>Ana" not in html
    assert "&lt;b&gt;Ana&lt;/b&gt;" in html or kind == "charging_guide"


def test_no_photo_is_on_a_paper_for_the_family(ready, coordinator):
    """The side is drawn. A photo would need the family's word; without it nothing is lost."""
    from builds.demo.factories.bench import drawn_photo
    from builds.record.models import Photo

    photo = Photo(build=ready, caption="Sitting in it", shows_client=True, made_by=coordinator)
    photo.file.save("x.jpg", drawn_photo("Sitting in it"), save=False)
    photo.save(force_insert=True)
    html = render_html("use_guide", again(ready))
    assert "<img" not in html
    assert '<figure class="side-picture">' in html
