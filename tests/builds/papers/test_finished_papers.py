"""What holds for every paper of a family: three plans, both languages, both prints, read from the finished PDF."""

import re

import pytest

from builds.engineering.reading import FAMILY_EASE_SPANISH, FAMILY_GRADE, count, reading_grade
from builds.papers.catalogue import translated
from builds.papers.kinds import NOTHING_TO_DO_WITH_IT
from builds.papers.terms import technical_words
from tests.builds.papers.packs import LANGUAGES, PRINTS

pytestmark = pytest.mark.django_db  # so that there is a database for the session's papers

LONGEST = 20
FIRST = "Local codes come first. So does the judgement of the responsible clinician and engineer."
# What is the same in every language: names, codes and numbers of the record.
CLOCK = r"\d+:\d\d [ap]m \(\d\d:\d\d\)"
SAME = re.compile(r"^(Alder Creek Adaptive Equipment Lab|Elena Castellan|Femi Okonjo|Ruth Hartigan|Jana Vasek|No"
                  rf"|C-\d+|U-\d+|CH-\d+|BAT-\d+|[\d\W]*|{CLOCK}( → {CLOCK})?)$")  # fmt: skip
LEAST_PT = {"normal": 12.0, "large": 16.0}
BODY_PT = {"normal": 12.0, "large": 18.0}
ROUNDING = 0.01


def of(packs, language, print_size="normal"):
    return [paper for paper in packs.values() if (paper.language, paper.print_size) == (language, print_size)]


def name(paper):
    return f"{paper.plan} {paper.kind} {paper.language} {paper.print_size}"


def test_every_paper_of_three_plans_is_there(packs):
    assert len({paper.plan for paper in packs.values()}) == 3
    assert {paper.language for paper in packs.values()} == set(LANGUAGES)
    assert len(of(packs, "en")) == len(of(packs, "es", "large")) >= 25
    assert all(paper.pages for paper in packs.values())


def test_no_english_is_left_on_a_spanish_paper(packs):
    left = {}
    for paper in of(packs, "es"):
        english = set(packs[paper.plan, paper.kind, "en", "normal"].blocks)
        found = [block for block in paper.blocks if block in english and not SAME.match(block)]
        if found:
            left[name(paper)] = found
    assert left == {}


def test_nothing_on_a_spanish_paper_says_that_it_is_not_translated(packs):
    assert [name(paper) for paper in of(packs, "es") if "aún no está traducida" in paper.text] == []


@pytest.mark.parametrize("print_size", PRINTS)
@pytest.mark.parametrize("language", LANGUAGES)
def test_every_page_tells_equipment_settings_and_its_number(packs, language, print_size):
    equipment, settings, page, of_ = {
        "en": ("equipment", "settings", "Page", "of"), "es": ("equipo", "ajustes", "Página", "de"),
    }[language]  # fmt: skip
    for paper in of(packs, language, print_size):
        for number, text in enumerate(paper.pages, 1):
            assert f"{equipment} {paper.number} · {settings} 2" in text, name(paper)
            assert f"{page} {number} {of_} {len(paper.pages)}" in text, name(paper)
            assert "555 0142" in text


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_paper_says_who_comes_first(packs, language):
    first = translated(FIRST, language)
    assert [name(paper) for paper in of(packs, language) if first not in paper.text] == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_large_print_says_the_same_as_normal_print(packs, language):
    for paper in of(packs, language):
        assert packs[paper.plan, paper.kind, language, "large"].blocks == paper.blocks


# Reading level, on the finished text. Grade: Flesch-Kincaid; ease: Szigriszt-Pazos. The limits are the issue's own.


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_reading_level_is_that_of_the_sixth_grade(packs, language):
    found = {}
    for paper in of(packs, language):
        read = reading_grade(text="\n\n".join(paper.blocks), language=language)
        found[name(paper)] = read.grade if language == "en" else read.ease
    assert len(found) >= 25
    if language == "en":
        assert {paper: grade for paper, grade in found.items() if grade > FAMILY_GRADE} == {}
    else:
        assert {paper: ease for paper, ease in found.items() if ease < FAMILY_EASE_SPANISH} == {}


def sentences(paper):
    for block in paper.blocks:
        yield from re.split(r"(?<=[.!?])\s+", block)


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_sentence_is_longer_than_twenty_words(packs, language):
    long = {
        sentence
        for paper in of(packs, language)
        for sentence in sentences(paper)
        if re.search(r"\w", sentence) and count(sentence, language).words > LONGEST
    }
    assert long == set()


@pytest.mark.parametrize("language", LANGUAGES)
def test_families_read_no_word_of_the_trade(packs, language):
    found = {}
    for paper in of(packs, language):
        text = " ".join(paper.blocks).lower()
        words = [word for word in technical_words(language) if re.search(rf"\b{re.escape(word)}(s|es)?\b", text)]
        if words:
            found[name(paper)] = words
    assert found == {}


# Print


def sizes(pages):
    """(size in points, text) of everything printed, as the PDF scales it."""
    found = []

    def visit(text, cm, tm, font, size):
        if text.strip():
            scale = abs(tm[3] * cm[3] - tm[2] * cm[1]) or abs(tm[0] * cm[0])
            found.append((size * scale, text.strip()))

    for page in pages:
        page.extract_text(visitor_text=visit)
    return found


@pytest.mark.parametrize("print_size", PRINTS)
@pytest.mark.parametrize("language", LANGUAGES)
def test_nothing_is_printed_smaller_than_it_may_be(packs, language, print_size):
    least = LEAST_PT[print_size] - ROUNDING
    small = {
        name(paper): found
        for paper in of(packs, language, print_size)
        if (found := [one for one in sizes(paper.reader.pages) if one[0] < least])
    }
    assert small == {}


@pytest.mark.parametrize("print_size", PRINTS)
def test_most_of_the_text_has_the_size_of_the_body(packs, print_size):
    for paper in of(packs, "en", print_size):
        found = sizes(paper.reader.pages)
        at_least = sum(len(text) for size, text in found if size >= BODY_PT[print_size] - ROUNDING)
        assert at_least / sum(len(text) for _, text in found) > 0.6, name(paper)


def test_a_caution_says_hazard_harm_and_what_to_do(packs):
    """In both languages, under the word that ANSI Z535.4 gives that degree of harm."""
    for paper in [*of(packs, "en"), *of(packs, "es")]:
        if paper.kind in NOTHING_TO_DO_WITH_IT:
            continue
        signal = {"en": "WARNING", "es": "ADVERTENCIA"}[paper.language]
        assert signal in paper.text, name(paper)


def test_the_picture_page_shows_its_pictures_on_one_page_and_the_words_on_its_back(packs):
    for (plan, kind, language, print_size), paper in packs.items():
        if kind == "picture_page" and print_size == "normal":
            assert len(paper.pages) == 2, plan
            assert paper.html.count('role="img"') >= 5, plan
            words = [block for block in paper.blocks[: paper.blocks.index("555 0142")] if re.search(r"[a-z]{3}", block)]
            assert len(words) <= 4, plan  # its title, what the side picture says, and where to stop it
            assert "911" in paper.pages[0], plan
            where = {"en": ("push handle", "underside"), "es": ("barra de empuje", "parte de abajo")}[language]
            assert where[plan == "switch-socket"] in paper.pages[0], plan


def test_the_card_on_the_unit_is_one_page_and_its_picture_names_the_sides(packs):
    sides = {"en": "left right front", "es": "izquierda derecha frente"}
    for (_plan, kind, language, print_size), paper in packs.items():
        if kind == "supervision_card" and print_size == "normal":
            assert len(paper.pages) == 1, name(paper)
        if kind in ("supervision_card", "picture_page"):
            assert sides[language] in paper.pages[0], name(paper)


def test_the_picture_page_of_a_toy_shows_no_ride(packs):
    html = packs["switch-socket", "picture_page", "en", "normal"].html
    assert "Only one child rides." not in html
    assert "Take the batteries out." in html
