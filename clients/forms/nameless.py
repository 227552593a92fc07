"""Text that builders read names nobody of the family."""

import re

from django import forms

from labsite.wording import label_of

SHORTEST = 3
# Names that are also plain words count only when written as a name.
PLAIN_WORDS = frozenset(
    "april art august baker banks bell bill black brown cook cross dawn day drew faith field ford good grace grant "
    "green hall hill hope hunter joy june king lane little long love mark may park price ray rich rose short small "
    "stone strong summer west white will wood young the and".split()
)
INSTEAD = "{label} is read by builders. Write “the client” or “the caregiver” instead of a name"


def family_names(client):
    """Every name of the client and the caregivers, word by word."""
    person = getattr(client, "person", None)
    texts = [person.given_name, person.family_name] if person else []
    texts += [caregiver.name for caregiver in client.caregivers.all()]
    words = {word for text in texts for word in re.findall(r"[^\W\d_]+", text)}
    return {word for word in words if len(word) >= SHORTEST}


def names_somebody(text, names):
    plain = {name.lower() for name in names} - PLAIN_WORDS
    return any(word in names or word.lower() in plain for word in re.findall(r"[^\W\d_]+", text))


class Nameless(forms.BaseForm):
    """For a form with a `client` whose fields in `read_by_builders` hold text that builders read."""

    read_by_builders = ()

    def clean(self):
        super().clean()
        names = family_names(self.client)
        for name in self.read_by_builders:
            if names_somebody(self.cleaned_data.get(name) or "", names):
                self.add_error(name, INSTEAD.format(label=label_of(self, name)))
        return self.cleaned_data

    @property
    def client(self):
        return self.instance.client
