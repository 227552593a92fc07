"""What a family reads on its phone: short, plain, and in its own language, errors included."""

import re
from pathlib import Path
from uuid import uuid4

import pytest
from django.conf import settings
from django.utils import timezone
from django.utils.translation.template import templatize

from builds.demo.factories.translations import translate_record
from builds.engineering.reading import FAMILY_EASE_SPANISH, FAMILY_GRADE, count, reading_grade
from builds.papers import catalogue
from builds.papers.family import links
from tests.builds.papers.family.conftest import WORD, at, door

LONGEST = 20  # words a sentence
MARKED = re.compile(r"""n?gettext(?:_lazy)?\((?:u)?(['"])(.+?)\1[,)]|\b_\((['"])(.+?)\3\)""")


def sentences():
    """Every sentence of the family's pages, in English."""
    found = []
    for path in sorted((Path(settings.BASE_DIR) / "templates/family").glob("*.html")):
        found += [one[1] or one[3] for one in MARKED.findall(templatize(path.read_text(), origin=path.name))]
    for name in ("forms", "views"):
        text = (Path(settings.BASE_DIR) / f"builds/papers/family/{name}.py").read_text()
        found += [one[1] or one[3] for one in MARKED.findall(text)]
    return sorted(set(found))


def test_they_are_found():
    assert len(sentences()) > 60
    assert {"Your pages", "Say if anyone is hurt", "Something is wrong"} <= set(sentences())


def as_text(lines):
    """A text of paragraphs; what names a button or a field is a heading and does not count."""
    return "\n\n".join(re.sub(r"%\(\w+\)s", "five", line) for line in lines)


@pytest.mark.parametrize("language", ["en", "es"])
def test_no_sentence_is_long(language):
    lines = [catalogue.translated(line, language) for line in sentences()]
    parts = [part for line in lines for part in re.split(r"(?<=[.!?:])\s", line)]
    assert [part for part in parts if count(part, language).words > LONGEST] == []


def test_english_is_at_sixth_grade_or_below():
    assert reading_grade(text=as_text(sentences()), language="en").grade <= FAMILY_GRADE


def test_spanish_is_fairly_easy():
    spanish = [catalogue.translated(line, "es") for line in sentences()]
    assert reading_grade(text=as_text(spanish), language="es").ease >= FAMILY_EASE_SPANISH


def test_every_sentence_has_its_spanish():
    assert [line for line in sentences() if catalogue.translated(line, "es") is None] == []


@pytest.fixture
def spanish(build, coordinator):
    return links.make_link(build, coordinator, days=30, language="es", word=WORD)


def test_the_pages_are_in_the_language_of_the_link(stranger, spanish):
    page = stranger.get(door(spanish)).text
    assert '<html lang="es">' in page
    assert "Escriba su palabra" in page
    stranger.post(door(spanish), {"word": WORD})
    assert "Sus páginas" in stranger.get(door(spanish)).text


def test_a_guide_is_in_that_language_once_everything_for_safety_is_translated(stranger, spanish, build, coordinator):
    stranger.post(door(spanish), {"word": WORD})
    address = at(spanish, "family_paper", kind="use_guide")
    assert '<html lang="en">' in stranger.get(address).text
    translate_record(build, coordinator)
    page = stranger.get(address).text
    assert '<html lang="es">' in page
    assert "Guía de uso" in page


def test_what_the_lab_wrote_itself_is_translated_or_said_to_be_missing(stranger, spanish, build, coordinator):
    assert "no está traducida" in stranger.get(door(spanish)).text
    translate_record(build, coordinator)
    assert "de lunes a viernes" in stranger.get(door(spanish)).text


def test_refusals_are_in_that_language(stranger, spanish):
    stranger.post(door(spanish), {"word": WORD})
    english = set(sentences())
    asked = {
        "family_report": [
            {}, {"hurt": "x", "text": "y" * 3000, "danger": "x", "shows_client": "x"},
            {"hurt": "no", "danger": "no", "text": "a\x00b"},
        ],
        "family_diary": [
            {}, {"used_on": "x", "minutes": "NaN"}, {"used_on": timezone.localdate(), "minutes": "9999"},
            {"used_on": timezone.localdate(), "minutes": "5", "place": "x" * 99, "note": "y" * 999},
        ],
    }  # fmt: skip
    for name, cases in asked.items():
        for typed in cases:
            answer = stranger.post(at(spanish, name), {**typed, "once": uuid4()})
            assert answer.status_code == 422
            summary = re.search(r'error-summary.*?<ul>(.*?)</ul>', answer.text, re.DOTALL)[1]
            said = [re.sub(r"<.*?>", "", line).strip() for line in re.findall(r"<li>(.*?)</li>", summary)]
            assert said
            assert not set(said) & english
            assert all(any(line == catalogue.translated(one, "es") for one in english) for line in said), said


def test_the_wait_after_too_many_tries_is_told_in_that_language(stranger, spanish):
    for _ in range(5):
        page = stranger.post(door(spanish), {"word": "wrong"}).text
    assert re.search(r"Demasiados intentos\. Espere hasta .*\(\d\d:\d\d\)\. O llame al laboratorio", page)
    assert re.search(r"Hora del laboratorio ahora: .*\(\d\d:\d\d\)", page)


def test_a_stranger_reads_the_quiet_page_in_the_language_of_the_browser(stranger, db):
    answer = stranger.get("/family/nonsense/", headers={"accept-language": "es-MX,es;q=0.9"})
    assert "Este enlace ya no funciona" in answer.text
