"""All cautions on one page: yes, no or unknown, and what is done about each yes."""

from django import forms

from clients import hooks
from clients.forms.nameless import Nameless
from clients.models import CautionAnswer
from labsite import seen
from labsite.forms import UNSEEN, LabForm
from labsite.marks import YesNoUnknown

Kind = CautionAnswer.Kind
PLAN = "{label}: what is done about it"
NO_PLAN = "Enter what is done about it: {label} is answered with yes"


def in_words(value):
    return dict(YesNoUnknown.choices).get(value, value) or "empty"


def _fields():
    fields = {}
    for kind in Kind:
        fields[kind.value] = forms.ChoiceField(label=kind.label, choices=YesNoUnknown.choices, widget=forms.RadioSelect)
        fields[f"{kind.value}_plan"] = forms.CharField(
            label=PLAN.format(label=kind.label), max_length=300, required=False
        )
    return fields


CautionBoxes = type("CautionBoxes", (LabForm,), _fields())


class CautionsForm(Nameless, CautionBoxes):
    client = None
    read_by_builders = family_texts = tuple(f"{kind.value}_plan" for kind in Kind)

    def __init__(self, *args, client, account, rows, **kwargs):
        self.client, self.account = client, account
        self.rows = {row.kind: row for row in rows}
        super().__init__(*args, initial=self._standing(), **kwargs)
        self.fields["seen"] = seen.SeenField()
        self.fields["seen"].fresh = seen.seal(self._standing(), client)

    def _standing(self):
        standing = {}
        for kind in Kind:
            row = self.rows.get(kind.value)
            standing[kind.value] = row.answer if row else ""
            standing[f"{kind.value}_plan"] = row.plan if row else ""
        return standing

    def clean(self):
        typed = super().clean() or self.cleaned_data
        for kind in Kind:
            name = f"{kind.value}_plan"
            if typed.get(kind.value) == YesNoUnknown.YES and not typed.get(name) and name not in self.errors:
                self.add_error(name, NO_PLAN.format(label=kind.label))
        self._refuse_unseen_changes()
        return typed

    def _refuse_unseen_changes(self):
        before, now = seen.unseal(self.data.get("seen"), self.client), self._standing()
        if before is None:
            self.add_error(None, UNSEEN)
            return
        for name, value in now.items():
            if value != before.get(name):
                self.add_error(name, self._changed(name, in_words(value), in_words(before.get(name))))

    def _changed(self, name, now, before):
        return (
            f"{self.fields[name].label} is now {now} (it was {before} when this page was opened). "
            "Check it and save again."
        )

    def save(self):
        """Only answers that changed are written, each signed by whoever gave it."""
        with hooks.saved_together():
            for kind in Kind:
                self._save_answer(kind, self.cleaned_data[kind.value], self.cleaned_data[f"{kind.value}_plan"])

    def _save_answer(self, kind, answer, plan):
        row = self.rows.get(kind.value)
        if row is None:
            CautionAnswer.objects.create(client=self.client, kind=kind, answer=answer, plan=plan, made_by=self.account)
        elif (row.answer, row.plan) != (answer, plan):
            row.give(answer, plan, self.account)
