"""What says who a family is, in any text: found and taken out, the names of the lab's own people left standing.

`names` looks for the words of a name, wherever somebody writes; this looks for whole numbers and addresses too, and
serves only where a file is erased.
"""

import re

from clients.names import Names, folded, words_of
from labsite.figures import day

ERASED = "[erased]"
LETTERS = r"[^\W\d_]"
LEAST_DIGITS = 5  # of a phone number: fewer may be any number


class Identity(Names):
    """The names of one family, those who signed for it too, with its address, its numbers and the birth date."""

    def __init__(self, client, more=()):
        super().__init__(client)
        person = getattr(client, "person", None)
        caregivers = list(client.caregivers.all())
        signed = [*(one.signer for one in client.consents.all()), *more]
        self.words |= {folded(word) for name in signed for word in words_of(name) if len(word) > 1}
        told = [*signed, *(text for one in caregivers for text in (one.name, one.phone, one.email))]
        if person:
            told += [str(person), person.family_name, person.given_name, person.address]
            told += [*person.address.splitlines(), *born(person.birth_date)]
        whole = {" ".join(text.split()) for text in told}
        parts = [spaced(text) for text in sorted(whole, key=len, reverse=True) if is_telling(text)]
        self.whole = re.compile("|".join(parts) or "(?!)", re.IGNORECASE)

    def out_of(self, value):
        """The same value, text or what JSON holds, with no name in it; keys are words of the house."""
        if isinstance(value, str):
            text = self.whole.sub(ERASED, value)
            return self.taken_out(text, ERASED) if self.found_in(text) else text
        if isinstance(value, list):
            return [self.out_of(one) for one in value]
        if isinstance(value, dict):
            return {key: self.out_of(one) for key, one in value.items()}
        return value


def born(birth_date):
    """The ways in which people here write the day."""
    if birth_date is None:
        return []
    return [f"{birth_date:%Y-%m-%d}", f"{birth_date.day} {birth_date:%B %Y}", day(birth_date)]


def spaced(text):
    """The text wherever it stands, whatever white space it is broken with."""
    inside = r"\s+".join(re.escape(part) for part in text.split())
    before = rf"(?<!{LETTERS})" if text[:1].isascii() and text[:1].isalpha() else r"(?<!\d)"
    after = rf"(?!{LETTERS})" if text[-1:].isascii() and text[-1:].isalpha() else r"(?!\d)"
    return f"{before}{inside}{after}"


def is_telling(text):
    """A number has some digits; a plain word is looked for as a word of a name and not as a whole."""
    digits = sum(sign.isdigit() for sign in text)
    if digits and not re.search(LETTERS, text):
        return digits >= LEAST_DIGITS
    return len(text) > 1 and not (text.isascii() and text.isalpha())
