"""Text that builders read names nobody of the family."""

from django import forms

from clients.names import Names
from labsite.wording import label_of

INSTEAD = "{label} is read by builders. Write “the client” or “the caregiver” instead of a name"
WHICH = "{instead}: “{words}”"


class Nameless(forms.BaseForm):
    """For a form with a `client` whose fields in `read_by_builders` hold text that builders read."""

    read_by_builders = ()
    account = None  # who fills it in; a word is told only to somebody who may know it

    def clean(self):
        super().clean()
        names = Names(self.client)
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
