"""How hard a text is to read: counts, the English grade, and the Spanish ease."""

import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from builds.engineering import guards
from builds.engineering.finding import CHECK, FITS, EngineeringError, Finding, shown_inputs, unknown

# 1. Flesch-Kincaid grade and Flesch reading ease, as a US Veterans Affairs research page gives them.
ENGLISH = "Flesch-Kincaid grade, US Veterans Affairs research page"
ENGLISH_FORMULA = "0.39 x words a sentence + 11.8 x syllables a word - 15.59; for families sixth grade or below"
# 2. Perspicuity of Szigriszt-Pazos (1992), and its five bands by Barrio-Cantalejo and others (2008): both from memory.
SPANISH = "perspicuity of Szigriszt-Pazos 1992, bands of Barrio-Cantalejo 2008 (from memory)"
# 3. What families get is at sixth grade or below: the lowest of what public advice asks for (NIH 2012: 6th to 7th).
FAMILY_GRADE = 6.0
# In those bands: fairly easy, primary school.
FAMILY_EASE_SPANISH = 65.0
LANGUAGES = ("en", "es")
LONGEST_TEXT = 200_000
# A paragraph this short without a full stop is a heading, and headings are left out of the count.
LONGEST_HEADING = 10
# A small letter goes on with the sentence, so that "e.g. a wall" is one.
_SENTENCE_END = re.compile(r"(?<=[.!?])[\"'\u201d\u2019)]*(?:\s+(?![a-z\u00e0-\u00ff])|$)")
_WORD = re.compile(r"[^\W_](?:[^\s]*[^\W_])?")
_SPANISH_SYLLABLE = re.compile(r"[iu\u00fcy]*[aeo\u00e1\u00e9\u00f3\u00ed\u00fa][iu\u00fcy]*|[iu\u00fcy]+")


@dataclass(frozen=True)
class ReadingGrade:
    grade: float | None
    ease: float | None
    findings: tuple


@dataclass(frozen=True)
class Counts:
    words: int
    sentences: int
    syllables: int


def reading_grade(*, text, language):
    """The school grade a text asks for, and how easy it reads.

    English: grade = 0.39 W/S + 11.8 Y/W - 15.59, ease = 206.835 - 1.015 W/S - 84.6 Y/W, with words W, sentences S
    and syllables Y. Spanish: ease = 206.835 - W/S - 62.3 Y/W, and no grade.
    Parameters: text, up to 200,000 signs [-]; language: en or es [-]; each may be None. Returns grade [school
    years], ease, 100 easy and 0 hard [-], findings. A formula counts; it does not see whether the words are known
    or the order makes sense: ask a reader, too. Raises EngineeringError. Sources 1 to 3.

    >>> read = reading_grade(text="Turn it off. Then pull the plug out of the wall.", language="en")
    >>> round(read.grade, 2), round(read.ease, 1), read.findings[0].verdict
    (-1.64, 116.7, 'fits')
    """
    guards.choice("Language", language, LANGUAGES)
    missing = [label for label, fact in {"text": text, "language": language}.items() if fact is None]
    if missing:
        found = unknown("reading grade", missing, formula=ENGLISH_FORMULA, source=ENGLISH)
        return ReadingGrade(None, None, (found,))
    counts = count(text, language)
    inputs = shown_inputs(words=(counts.words, ""), sentences=(counts.sentences, ""), syllables=(counts.syllables, ""))
    if language == "es":
        ease = perspicuity(counts.words, counts.sentences, counts.syllables)
        return ReadingGrade(None, ease, _spanish_findings(ease, inputs))
    grade = flesch_kincaid_grade(counts.words, counts.sentences, counts.syllables)
    ease = flesch_ease(counts.words, counts.sentences, counts.syllables)
    return ReadingGrade(grade, ease, (_english_finding(grade, inputs),))


def flesch_kincaid_grade(words, sentences, syllables):
    """School grade [school years] from counts of words, sentences and syllables [-]. Source 1.

    >>> round(flesch_kincaid_grade(120, 10, 156), 2)
    4.43
    """
    return 0.39 * words / sentences + 11.8 * syllables / words - 15.59


def flesch_ease(words, sentences, syllables):
    """English reading ease [-], 100 easy and 0 hard, from counts of words, sentences and syllables [-]. Source 1.

    >>> round(flesch_ease(120, 10, 156), 3)
    84.675
    """
    return 206.835 - 1.015 * words / sentences - 84.6 * syllables / words


def perspicuity(words, sentences, syllables):
    """Spanish reading ease [-], 100 easy and 0 hard, from counts of words, sentences and syllables [-]. Source 2.

    >>> round(perspicuity(120, 10, 240), 3)
    70.235
    """
    return 206.835 - words / sentences - 62.3 * syllables / words


def count(text, language):
    """Words, sentences and syllables of a text, without its headings.

    Parameters: text, up to 200,000 signs [-]; language: en or es [-]. Returns Counts [-]. A number is a word of one
    syllable, and 12.5 ends no sentence. Not for tables or lists of parts. Raises EngineeringError.
    Source: counting rules of the Flesch test.

    >>> count("Charging\\n\\nPlug it in at 12.5 V. Wait.", "en")
    Counts(words=7, sentences=2, syllables=7)
    """
    if len(text) > LONGEST_TEXT:
        raise EngineeringError(f"Text must be {LONGEST_TEXT} characters or fewer, not {len(text)}.")
    sentences = [words for sentence in _sentences(text) if (words := _WORD.findall(sentence))]
    if not sentences:
        raise EngineeringError("Text must have 1 word or more, not none.")
    words = [word for sentence in sentences for word in sentence]
    return Counts(len(words), len(sentences), sum(syllables(word, language) for word in words))


def syllables(word, language):
    """Syllables of a word [-]: English by a pronouncing dictionary, else by its hyphens; Spanish by its vowels.

    Parameters: word [-]; language: en or es [-]. Returns [-], at least 1. Source: CMU Pronouncing Dictionary; rules
    of Spanish spelling (from memory).

    >>> syllables("supervision", "en"), syllables("vehículo", "es"), syllables("12.5", "en")
    (4, 4, 1)
    """
    plain_word = word.replace("\u2019", "'")
    if any(sign.isdigit() for sign in plain_word):
        return 1
    if language == "es":
        return max(1, len(_SPANISH_SYLLABLE.findall(plain_word.lower())))
    return max(1, _english().syllable_count(plain_word))


def text_of(path):
    """The text of a file [-]. Raises EngineeringError where there is none that can be read."""
    told = f"File must be a text file of {LONGEST_TEXT} characters or fewer that can be read, not {Path(path).name!r}."
    try:
        with Path(path).open(encoding="utf-8") as file:
            return file.read(LONGEST_TEXT + 1)
    except (OSError, ValueError) as error:
        raise EngineeringError(told) from error


@cache
def _english():
    """The counting library, loaded with its dictionary at the first word."""
    from textstat.textstat import textstatistics

    counting = textstatistics()
    counting.set_lang("en_US")
    return counting


def _sentences(text):
    """Sentences of the paragraphs that are none of them a heading; where all are headings, each is a sentence."""
    paragraphs = [part.strip() for part in re.split(r"\n\s*\n", text) if part.strip()]
    running = [part for part in paragraphs if not _is_heading(part)] or paragraphs
    return [sentence for part in running for sentence in _SENTENCE_END.split(part)]


def _is_heading(paragraph):
    return paragraph[-1] not in ".!?:;\"'\u201d\u2019)" and len(_WORD.findall(paragraph)) <= LONGEST_HEADING


def _english_finding(grade, inputs):
    verdict = FITS if grade <= FAMILY_GRADE else CHECK
    return Finding("reading grade", grade, "", FAMILY_GRADE, verdict, ENGLISH_FORMULA, ENGLISH, inputs)


def _spanish_findings(ease, inputs):
    formula = "206.835 - words a sentence - 62.3 x syllables a word; for families fairly easy, 65 or more"
    verdict = FITS if ease >= FAMILY_EASE_SPANISH else CHECK
    lacks = "a published grade formula for Spanish; the reading ease stands in for it"
    return (
        Finding("reading ease", ease, "", FAMILY_EASE_SPANISH, verdict, formula, SPANISH, inputs),
        unknown("reading grade", lacks, formula=formula, source=SPANISH, inputs=inputs),
    )
