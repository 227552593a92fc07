"""Whether a text names the client or the family: one rule for everything that builders read or that hangs on the unit.

A name counts as a whole word, however its letters are cased and without regard to accents. Names that are everyday
words too ("May", "Rose", "Will"), and those of two letters ("Li", "Bo"), count only where they are written as a name,
with their capital; "An" or "Do" at the start of a sentence is no name.
"""

import re
import unicodedata
from functools import cached_property

from labsite.models import Account

WORD = re.compile(r"[^\W\d_]+")
SHORT = 2
TAKEN_OUT = "[name]"
# Everyday words that are names too, in English and in Spanish.
PLAIN_WORDS = frozenset(
    "april art august baker banks bell bill black brown cook cross dawn day drew faith field ford good grace grant "
    "green hall hill hope hunter joy june king lane little long love mark may park price ray rich rose short small "
    "stone strong summer west white will wood young the and "
    "bolt bush case chase driver foot hand head key lock page penny pin pipe reed rod sharp spring stick strap wheel "
    "wire blanca cruz flor luz mar paz rey sol de del la las los".split()
)
# Names that begin many a sentence.
FIRST_WORDS = frozenset(
    "am an and as at be by del do el en go he hi if in is it la las los me my no of on or so the to up us we".split()
)
# What stands around a word of the trade: "Li-ion", "12 Ah".
AFTER_TRADE, BEFORE_TRADE = re.compile(r"-ion\b", re.IGNORECASE), re.compile(r"\d\s?$")
# Letters that stay what they are when accents are taken off.
PLAIN_LETTERS = str.maketrans({"ł": "l", "ø": "o", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ı": "i"})
BEGINS = re.compile(r"(?:^|[.!?:]\s|[\n“”\"(•–-]\s*)\s*$")

TOLD = "This text names the client or the family: “{words}”. Write the case code instead."
NOT_TOLD = "This text may name the client or the family. Write the case code instead."


def folded(word):
    """The word without case and accents."""
    bare = "".join(one for one in unicodedata.normalize("NFKD", word) if not unicodedata.combining(one))
    return bare.casefold().translate(PLAIN_LETTERS)


def whole(text):
    """The text with each accented letter as one sign, so that a word is one word."""
    return unicodedata.normalize("NFC", str(text))


def words_of(text):
    return [found[0] for found in WORD.finditer(whole(text))]


class Names:
    """The names of one family, to be looked for in any text."""

    def __init__(self, client):
        person = getattr(client, "person", None)
        written = [str(person)] if person else []
        written += [one.name for one in client.caregivers.all()]
        words = {folded(word) for text in written for word in words_of(text)}
        self.words = {word for word in words if len(word) >= SHORT}

    @cached_property
    def ours(self):
        """Names of the lab's own people, read only where a word is found: a builder may share one with a family."""
        names = filter(None, map(str.strip, Account.objects.values_list("full_name", flat=True)))
        return [re.compile(rf"(?<!\w){re.escape(whole(name))}(?!\w)", re.IGNORECASE) for name in names]

    def found_in(self, *texts):
        """The words of these texts that name somebody, as they are written."""
        found = (match[0] for text in map(whole, texts) for match in WORD.finditer(text) if self._is_name(match, text))
        return list(dict.fromkeys(found))

    def taken_out(self, text, instead=TAKEN_OUT):
        text = whole(text)
        return WORD.sub(lambda match: instead if self._is_name(match, text) else match[0], text)

    def _is_name(self, match, text):
        word = folded(match[0])
        if word not in self.words or not self._is_written_as_one(match, word, text):
            return False
        spans = (found.span() for name in self.ours for found in name.finditer(text))
        return not any(start <= match.start() and match.end() <= end for start, end in spans)

    @staticmethod
    def _is_written_as_one(match, word, text):
        if len(word) > SHORT and word not in PLAIN_WORDS:
            return True
        if not match[0][0].isupper():
            return match[0][0] == match[0][0].upper()  # a script without capitals
        before, after = text[: match.start()], text[match.end() :]
        if AFTER_TRADE.match(after) or BEFORE_TRADE.search(before):
            return False
        return word not in FIRST_WORDS or not BEGINS.search(before)


def refusal(names, texts, account=None):
    """What to say of these texts, or nothing. Only who may know the name is told which word it is."""
    found = names.found_in(*texts)
    if not found:
        return ""
    knows = account is not None and account.sees_identity
    return TOLD.format(words="”, “".join(found)) if knows else NOT_TOLD
