"""Names of a family in any text: found and taken out, the names of the lab's own people left standing."""

import re

from clients.forms.nameless import PLAIN_WORDS, SHORTEST
from labsite.figures import day
from labsite.models import Account

ERASED = "[erased]"
LETTERS = r"[^\W\d_]"
SHORTEST_WHOLE = 2  # a whole name in scripts that need two signs for one
LEAST_DIGITS = 5  # of a phone number: fewer may be any number


class Names:
    """What says who somebody is: whole names, addresses and numbers, and each word of a name."""

    def __init__(self, client, more=()):
        person = getattr(client, "person", None)
        caregivers = list(client.caregivers.all())
        names = [one.name for one in caregivers] + [one.signer for one in client.consents.all()] + list(more)
        reached = [text for one in caregivers for text in (one.phone, one.email)]
        if person:
            names += [str(person), person.family_name, person.given_name]
            reached += [person.address, *person.address.splitlines(), *born(person.birth_date)]
        self._words = {word for name in names for word in re.findall(f"{LETTERS}+", name) if len(word) >= SHORTEST}
        self._whole = {" ".join(text.split()) for text in [*names, *reached]}
        self._pattern = None

    @property
    def pattern(self):
        """The lab's own people first: a builder may share a word of a name with a family."""
        if self._pattern is None:
            ours = [re.escape(name) for name in Account.objects.values_list("full_name", flat=True) if name.strip()]
            whole = [spaced(text) for text in sorted(self._whole, key=len, reverse=True) if is_telling(text)]
            plain = [word for word in self._words if word.lower() in PLAIN_WORDS]
            other = [word for word in self._words if word.lower() not in PLAIN_WORDS]
            parts = [f"(?i:{'|'.join(whole)})"] if whole else []
            parts += [alone(f"(?i:{either(other)})")] if other else []
            parts += [alone(f"(?:{either(plain)})")] if plain else []
            keep = f"(?P<ours>{'|'.join(ours)})" if ours else "(?P<ours>(?!))"
            self._pattern = re.compile("|".join([keep, *(f"(?:{part})" for part in parts)]))
        return self._pattern

    def out_of(self, value):
        """The same value, text or what JSON holds, with no name in it."""
        if isinstance(value, str):
            return self.pattern.sub(lambda found: found[0] if found["ours"] else ERASED, value)
        if isinstance(value, list):
            return [self.out_of(one) for one in value]
        if isinstance(value, dict):
            return {key: self.out_of(one) for key, one in value.items()}  # keys are words of the house
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


def alone(pattern):
    return f"(?<!{LETTERS}){pattern}(?!{LETTERS})"


def either(words):
    return "|".join(re.escape(word) for word in sorted(words))


def is_telling(text):
    """A number has some digits; one plain word is looked for as a word, and not at all when it is very short."""
    digits = sum(sign.isdigit() for sign in text)
    if digits and not re.search(LETTERS, text):
        return digits >= LEAST_DIGITS
    return len(text) >= SHORTEST_WHOLE and not (text.isascii() and text.isalpha())
