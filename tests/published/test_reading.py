"""Readability (R): the published formulae, a known sentence, and what public advice asks of texts for families."""

import pytest
from textstat.textstat import textstatistics

from builds.engineering.reading import (
    FAMILY_GRADE,
    count,
    flesch_ease,
    flesch_kincaid_grade,
    perspicuity,
    reading_grade,
    syllables,
)
from tests.published.rows import DERIVED, MEMORY, REPRINT, SEEN, Row, checked

FORMULA = "US Veterans Affairs research page on both formulae"
PASSAGE = "quotation of an encyclopaedia passage"
KNOWN = "The Australian platypus is seemingly a hybrid of a mammal and reptilian creature."
# id, words, sentences, syllables, grade, ease
COUNTS = [
    ("R-02", 120, 10, 156, 4.4300, 84.6750),
    ("R-03", 100, 5, 150, 9.9100, 59.6350),
    ("R-04", 250, 20, 325, 4.6250, 84.1675),
    ("R-05", 13, 1, 24, 11.2646, 37.4554),
]


def counted_rows():
    for key, words, sentences, found, grade, ease in COUNTS:
        yield Row(f"{key} grade", FORMULA, DERIVED, flesch_kincaid_grade(words, sentences, found), grade, 0.001)
        yield Row(f"{key} ease", FORMULA, DERIVED, flesch_ease(words, sentences, found), ease, 0.001)


ROWS = [
    Row("R-01 grade", FORMULA, SEEN, flesch_kincaid_grade(10, 1, 20), 0.39 * 10 + 11.8 * 2 - 15.59, 1e-9),
    Row("R-01 ease", FORMULA, SEEN, flesch_ease(10, 1, 20), 206.835 - 1.015 * 10 - 84.6 * 2, 1e-9),
    *counted_rows(),
    Row("R-06", PASSAGE, SEEN, flesch_kincaid_grade(5.7, 1, 5.7 * 1.02), -1.3, 0.05),
    Row("R-07", PASSAGE, SEEN, flesch_kincaid_grade(1, 1, 1), -3.40, 1e-9),
    Row("R-08 grade", "encyclopaedia example", MEMORY, reading_grade(text=KNOWN, language="en").grade, 11.3, 0.05),
    Row("R-08 ease", "encyclopaedia example", MEMORY, reading_grade(text=KNOWN, language="en").ease, 37.5, 0.05),
    Row("R-09 number", "counting rules of the Flesch test", SEEN, syllables("1234", "en"), 1),
    Row("R-09 abbreviation", "counting rules of the Flesch test", SEEN, syllables("mm", "en"), 1),
    Row("R-09 heading", "counting rules of the Flesch test", SEEN,
        count("Charging the battery\n\nPlug it in.", "en").words, 3),
    Row("R-10", "NIH patient site advice, archived 2012: 6th to 7th grade", SEEN, FAMILY_GRADE, 6.0),
    Row("R-11", "US family-physician journal 2015: 5th to 6th or below", REPRINT, FAMILY_GRADE, 6.0),
]  # fmt: skip


@checked(ROWS)
def test_published_value(row):
    row.check()


def test_what_families_get_is_below_what_an_average_adult_reads():
    """R-12, AHRQ toolkit (mirror): 8th or 9th grade. R-13, CDC advice from memory: about 8th or lower."""
    assert FAMILY_GRADE < 8


@pytest.mark.parametrize(
    "text",
    [
        "Turn the switch off before you lift the seat. Pull the plug out of the wall and wait ten minutes.",
        "The supervising adult walks beside the chair at arm's length. Never charge a frozen battery.",
        "Immediately disconnect the electrical supply whenever the enclosure becomes noticeably warm or smells.",
    ],
)
def test_a_counting_library_agrees_on_plain_sentences(text):
    """Witness: textstat's own grade and ease."""
    witness = textstatistics()
    witness.set_lang("en_US")
    found = reading_grade(text=text, language="en")
    assert found.grade == pytest.approx(witness.flesch_kincaid_grade(text), abs=1e-6)
    assert found.ease == pytest.approx(witness.flesch_reading_ease(text), abs=1e-6)


def test_the_spanish_formula_is_the_library_s():
    """Witness: textstat's perspicuity, on words whose hyphens are all of their syllables; it starts from 206.84."""
    text = "Nunca toque los cables rotos. Guarde la llave lejos del carro."
    witness = textstatistics()
    witness.set_lang("es")
    assert reading_grade(text=text, language="es").ease == pytest.approx(witness.szigriszt_pazos(text), abs=0.0051)
    assert perspicuity(11, 2, 22) == pytest.approx(206.835 - 5.5 - 124.6)


@pytest.mark.parametrize(
    ("word", "parts"),
    [
        ("agua", "a-gua"), ("avión", "a-vión"), ("leer", "le-er"), ("oír", "o-ír"), ("día", "dí-a"),
        ("ciudad", "ciu-dad"), ("buey", "buey"), ("y", "y"), ("muy", "muy"), ("pingüino", "pin-güi-no"),
        ("vehículo", "ve-hí-cu-lo"), ("prohibido", "pro-hi-bi-do"), ("niño", "ni-ño"), ("cuida", "cui-da"),
        ("averigüe", "a-ve-ri-güe"), ("leyes", "le-yes"), ("después", "des-pués"), ("energía", "e-ner-gí-a"),
    ],
)  # fmt: skip
def test_spanish_syllables_follow_the_rules_of_spelling(word, parts):
    """Diphthong and hiatus as school grammars teach them; from memory."""
    assert syllables(word, "es") == len(parts.split("-"))
