"""The catalogue of each language: whole, up to date with the sources, with the same numbers and names in its places."""

import re

import pytest
from django.core.management import CommandError, call_command

from builds.papers import catalogue, extracting
from builds.papers.catalogue import SOURCE, file_of, languages, paper_language

OTHERS = [code for code in languages() if code != SOURCE]
PLACES = re.compile(r"%\(\w+\)s|%s|\{\w*\}|%%")


@pytest.fixture(params=OTHERS)
def language(request):
    return request.param


def test_there_is_another_language():
    assert "es" in OTHERS


def test_it_is_compiled_from_what_stands_in_the_source(language):
    """Run make setup where this fails: the compiled file is older than the catalogue."""
    written = file_of(language, "po").read_text()
    assert len(catalogue.sentences(language)) == len(re.findall(r"^msgid ", written, re.MULTILINE)) - 1


def test_no_sentence_is_empty_or_guessed(language):
    written = file_of(language, "po").read_text()
    assert re.findall(r'(?m)^msgid ((?:"[^"\n]+"\n?)+)msgstr ""\n(?!")', written) == []
    assert re.findall(r"(?m)^#,.*fuzzy", written) == []
    assert [source for source, text in catalogue.sentences(language).items() if not text.strip()] == []


def test_every_sentence_of_papers_and_plans_is_in_it(language):
    """Run manage.py catalogue where this fails, and translate what is new."""
    assert extracting.merged(language) == file_of(language, "po").read_text()


def test_numbers_and_names_have_the_same_places(language):
    wrong = {
        source: text
        for source, text in catalogue.sentences(language).items()
        if sorted(PLACES.findall(source)) != sorted(PLACES.findall(text))
    }
    assert wrong == {}


def test_a_question_stays_a_question_and_a_sentence_ends(language):
    wrong = [
        (source, text)
        for source, text in catalogue.sentences(language).items()
        if (source[-1] == "?") != (text[-1] == "?") or (source[-1] == ".") != (text[-1] == ".")
    ]
    assert wrong == []


def test_spanish_questions_open():
    texts = catalogue.sentences("es").values()
    assert [text for text in texts if text.count("?") != text.count("¿") or text.count("!") != text.count("¡")] == []


def test_a_changed_source_sentence_has_no_translation(language, monkeypatch):
    changed = extracting.source_text().replace("Unplug the battery after each use.", "Unplug the battery each time.")
    monkeypatch.setattr(extracting, "source_text", lambda: changed)
    now = extracting.merged(language)
    assert 'msgid "Unplug the battery each time."\nmsgstr ""\n' in now
    with pytest.raises(CommandError, match="out of date"):
        call_command("catalogue", "--check")


@pytest.mark.parametrize(
    ("code", "read"), [("es", "es"), ("es-mx", "es"), ("en-gb", "en"), ("en", "en"), ("pl", None), ("est", None)]
)
def test_a_speaker_of_a_variety_reads_the_language(code, read):
    assert paper_language(code) == read
