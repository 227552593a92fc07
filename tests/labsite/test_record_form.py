"""Nobody saves over a change they never saw, and a form writes its own fields only."""

import re

import pytest
from django import forms
from django.db import connection
from django.template.loader import render_to_string
from django.test.utils import CaptureQueriesContext

from labsite.forms import QuantityField, RecordForm
from labsite.models import Lab


class LabFactsForm(RecordForm):
    walking_pace_m_s = forms.FloatField(label="Walking pace", required=False)

    class Meta:
        model = Lab
        fields = ["phone", "units", "walking_pace_m_s"]


@pytest.fixture
def stored(db):
    return Lab.objects.create(name="Alder Creek", phone="555 0100", hours="9 to 17")


def seen_on(form):
    return re.search(r'name="seen" value="([^"]*)"', render_to_string("components/_form.html", {"form": form}))[1]


def posted(seen, **changes):
    return {"phone": "555 0100", "units": "metric", "walking_pace_m_s": "", "seen": seen, **changes}


def test_a_change_is_saved(stored):
    form = LabFactsForm(posted(seen_on(LabFactsForm(instance=stored)), phone="555 0199"), instance=stored)
    assert form.is_valid(), form.errors
    form.save()
    assert Lab.objects.get().phone == "555 0199"
    assert form.changed_labels == ["Lab phone"]


def test_only_the_forms_own_fields_are_written(stored):
    form = LabFactsForm(posted(seen_on(LabFactsForm(instance=stored)), phone="555 0199"), instance=stored)
    assert form.is_valid()
    Lab.objects.update(hours="8 to 12")
    with CaptureQueriesContext(connection, ) as queries:
        form.save()
    update = next(q["sql"] for q in queries if q["sql"].startswith("UPDATE"))
    assert '"hours"' not in update
    assert Lab.objects.get().hours == "8 to 12"


def change_meanwhile(stored, **typed):
    seen = seen_on(LabFactsForm(instance=stored))
    Lab.objects.update(phone="555 0177", units="us")
    return LabFactsForm(posted(seen, **typed), instance=Lab.objects.get())


def test_a_change_made_meanwhile_is_named(stored):
    form = change_meanwhile(stored, phone="555 0199")
    assert not form.is_valid()
    assert form.errors["phone"] == [
        "Lab phone is now 555 0177 (it was 555 0100 when this page was opened). Check it and save again."
    ]
    assert form.errors["units"] == [
        "Units is now US (lb, in) (it was Metric (kg, cm) when this page was opened). Check it and save again."
    ]
    assert "walking_pace_m_s" not in form.errors


def test_a_second_save_is_a_decision(stored):
    refused = change_meanwhile(stored, phone="555 0199")
    assert not refused.is_valid()
    again = LabFactsForm(posted(seen_on(refused), phone="555 0199"), instance=Lab.objects.get())
    assert again.is_valid(), again.errors
    again.save()
    assert Lab.objects.get().phone == "555 0199"


def test_the_refused_page_keeps_what_was_typed(stored):
    assert change_meanwhile(stored, phone="555 0199")["phone"].value() == "555 0199"


def test_a_change_to_another_field_does_not_matter(stored):
    seen = seen_on(LabFactsForm(instance=stored))
    Lab.objects.update(hours="8 to 12")
    assert LabFactsForm(posted(seen), instance=Lab.objects.get()).is_valid()


@pytest.mark.parametrize("token", ["", "made-up", "abc:def:ghi"])
def test_a_page_without_its_signed_values_is_not_saved(stored, token):
    form = LabFactsForm(posted(token, phone="555 0199"), instance=stored)
    assert form.non_field_errors() == [
        "This page did not say which values it was opened with. Check them and save again."
    ]


def test_the_signed_values_of_another_record_do_not_count(stored):
    other = Lab.objects.create(name="Birch Hill", phone="555 0100")
    assert not LabFactsForm(posted(seen_on(LabFactsForm(instance=other))), instance=stored).is_valid()


def test_an_entry_that_is_gone_is_told(stored):
    seen = seen_on(LabFactsForm(instance=stored))
    Lab.objects.all().delete()
    form = LabFactsForm(posted(seen), instance=stored)
    assert form.non_field_errors() == ["This entry is no longer there. Go back and look for it."]


def test_a_new_record_needs_no_signed_values(db):
    form = LabFactsForm({"phone": "555 0100", "units": "us", "walking_pace_m_s": "1.2"})
    assert form.is_valid(), form.errors
    assert form.save().pk == Lab.objects.get().pk


def test_an_unknown_quantity_reads_as_unknown(stored):
    class ReachForm(RecordForm):
        walking_pace_m_s = QuantityField("length", metric_unit="m", required=False, label="Reach")

        class Meta:
            model = Lab
            fields = ["walking_pace_m_s"]

    seen = seen_on(ReachForm(instance=stored))
    Lab.objects.update(walking_pace_m_s=1.25)
    form = ReachForm({"walking_pace_m_s": "", "seen": seen}, instance=Lab.objects.get())
    assert form.errors["walking_pace_m_s"] == [
        "Reach is now 1.25 m (it was unknown when this page was opened). Check it and save again."
    ]


def test_limits_of_the_record_are_told_in_the_labels_words(db):
    from clients.models import Goal

    class GoalForm(RecordForm):
        class Meta:
            model = Goal
            fields = ["importance"]

    assert GoalForm({"importance": "4"}).errors["importance"] == ["Importance (1 to 3) must be 3 or less"]


def test_a_form_that_drops_a_field_can_save_an_existing_record(stored):
    class ShorterForm(LabFactsForm):
        def __init__(self, *args, **kwargs):
            super().__init__(*args, **kwargs)
            del self.fields["units"]

    form = ShorterForm(posted(seen_on(ShorterForm(instance=stored)), phone="555 0199"), instance=stored)
    assert form.is_valid(), form.errors
