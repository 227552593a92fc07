"""Reading: what counts as a word and a sentence, and what is refused."""

import pytest

from builds.engineering.finding import CHECK, FITS, UNKNOWN, EngineeringError
from builds.engineering.reading import Counts, count, reading_grade, syllables, text_of

EASY = "Turn it off. Pull the plug."
HARD = "Immediately disconnect the electrical installation whenever any irregularity becomes noticeable."


def test_an_easy_text_fits_and_a_hard_one_asks():
    assert reading_grade(text=EASY, language="en").findings[0].verdict == FITS
    assert reading_grade(text=HARD, language="en").findings[0].verdict == CHECK


def test_a_text_at_sixth_grade_exactly_fits_and_a_word_more_does_not():
    """12 words of one syllable in a sentence: grade 0.89. More words a sentence make it harder."""
    grades = [reading_grade(text=" ".join(["dog"] * n) + ".", language="en") for n in (12, 25, 26)]
    assert [found.findings[0].verdict for found in grades] == [FITS, FITS, CHECK]
    assert grades[1].grade == pytest.approx(0.39 * 25 + 11.8 - 15.59)
    assert grades[1].findings[0].limit == 6.0


def test_spanish_is_judged_by_its_ease_and_has_no_grade():
    easy = reading_grade(text="Apague el carro. Saque la llave.", language="es")
    hard = reading_grade(text="Desconecte inmediatamente la instalación eléctrica extraordinaria.", language="es")
    assert (easy.grade, hard.grade) == (None, None)
    assert [finding.verdict for finding in easy.findings] == [FITS, UNKNOWN]
    assert [finding.verdict for finding in hard.findings] == [CHECK, UNKNOWN]
    assert easy.ease > 65 > hard.ease


@pytest.mark.parametrize(
    ("text", "words", "sentences"),
    [
        ("Use 12.5 V only.", 4, 1),
        ("Use a plug, e.g. the red one.", 7, 1),
        ("Stop! Why? Wait.", 3, 3),
        ('She said "stop." Then it stopped.', 6, 2),
        ("No stop at the end", 5, 1),
        ("One line\nand the next.", 5, 1),
        ("It's a wall-mounted, well-known one.", 5, 1),
        ("Heading here\n\nA line. Another.", 3, 2),
        ("Heading\n\nOther heading", 3, 2),
        ("A line with far more than ten words in it is no heading\n\nEnd.", 14, 2),
        ("\u00bfListo? \u00a1Ya! Pare.", 3, 3),
    ],
)
def test_words_and_sentences(text, words, sentences):
    found = count(text, "en")
    assert (found.words, found.sentences) == (words, sentences)


def test_a_bare_sign_is_no_word():
    assert count("Wait - then go. ...", "en") == Counts(3, 1, 3)


@pytest.mark.parametrize(
    ("word", "number"), [("don\u2019t", 1), ("Switch", 1), ("battery", 3), ("mm", 1), ("12.5", 1), ("B2", 1)]
)
def test_english_syllables(word, number):
    assert syllables(word, "en") == number


@pytest.mark.parametrize(("name", "told"), [("text", "text"), ("language", "language")])
def test_what_is_unknown_is_named(name, told):
    found = reading_grade(**{"text": EASY, "language": "en", name: None})
    assert (found.grade, found.ease, found.findings[0].missing) == (None, None, told)


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"text": ""}, "1 word or more"),
        ({"text": " ... "}, "1 word or more"),
        ({"text": "a " * 100_001}, "200000 characters or fewer"),
        ({"language": "fr"}, "Language must be one of en, es"),
    ],
)
def test_nonsense_is_refused(wrong, words):
    with pytest.raises(EngineeringError, match=words):
        reading_grade(**{"text": EASY, "language": "en", **wrong})


def test_a_file_is_read(tmp_path):
    file = tmp_path / "guide.txt"
    file.write_text(EASY, encoding="utf-8")
    assert text_of(file) == EASY


def test_a_file_that_is_no_text_is_refused_without_its_folder(tmp_path):
    file = tmp_path / "photo.bin"
    file.write_bytes(b"\xff\xfe\x00\xd8")
    for path in (file, tmp_path, tmp_path / "none.txt"):
        with pytest.raises(EngineeringError, match="File must be a text file") as refused:
            text_of(path)
        assert str(tmp_path) not in str(refused.value)
