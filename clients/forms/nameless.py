"""Text that builders read names nobody of the family."""

from django import forms

from clients.names import PLAIN_WORDS, Names  # noqa: F401 offered here
from labsite.wording import label_of

SHORTEST = 3
INSTEAD = "{label} is read by builders. Write “the client” or “the caregiver” instead of a name"
WHICH = "{instead}: “{words}”"


def family_names(client):
    """Every name of the client and the caregivers."""
    return Names(client)


def names_somebody(text, names):
    return bool(names.found_in(text))


class Nameless(forms.BaseForm):
    """For a form with a `client` whose fields in `read_by_builders` hold text that builders read."""

    read_by_builders = ()
    account = None  # who fills it in; a word is told only to somebody who may know it

    def clean(self):
        super().clean()
        names = family_names(self.client)
        for name in self.read_by_builders:
            if found := names.found_in(self.cleaned_data.get(name) or ""):
                self.add_error(name, self._instead(name, found))
        return self.cleaned_data

    def _instead(self, name, found):
        instead = INSTEAD.format(label=label_of(self, name))
        knows = self.account is not None and self.account.sees_identity
        return WHICH.format(instead=instead, words="”, “".join(found)) if knows else instead

    @property
    def client(self):
        return self.instance.client
