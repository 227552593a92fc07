"""How hard a text is that families will read: its level, its long sentences, its hard words. It refuses nothing."""

import re
from dataclasses import dataclass

from builds.engineering.finding import EngineeringError
from builds.engineering.reading import FAMILY_GRADE, reading_grade, syllables

LONGEST_SENTENCE = 20  # words
HARD_FROM = 3  # syllables; common practice of readability measures counts such words as hard
LONGEST_TEXT = 5_000
PLAIN = {}  # technical word -> what families read instead; the room of the papers brings it
_LATIN = re.compile(r"[A-Za-zÀ-ÖØ-öø-ÿ]")
_WORD = re.compile(r"[^\W\d_][\w'’-]*")
_END = re.compile(r"(?<=[.!?])\s+")


@dataclass(frozen=True)
class Wording:
    grade: float
    long: list  # whole sentences
    hard: list  # words
    trade: list  # (word of the trade, what to write instead)

    @property
    def is_easy(self):
        return self.grade <= FAMILY_GRADE and not (self.long or self.hard or self.trade)


def wording_of(text):
    """The wording of an English text; None where there is nothing to read."""
    text = str(text or "")[:LONGEST_TEXT]
    try:
        grade = reading_grade(text=text, language="en").grade
    except EngineeringError:
        return None
    words = dict.fromkeys(word.lower() for word in _WORD.findall(text))
    if not any(_LATIN.match(word) for word in words):
        return None  # another script has no level in this measure, and none is not an easy one
    return Wording(
        grade=max(grade, 0.0),
        long=[one for one in _END.split(text) if len(_WORD.findall(one)) > LONGEST_SENTENCE],
        hard=[word for word in words if syllables(word, "en") >= HARD_FROM],
        trade=[(word, plain) for word, plain in PLAIN.items() if re.search(rf"\b{re.escape(word)}\b", text, re.I)],
    )
