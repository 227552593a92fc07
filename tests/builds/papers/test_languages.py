"""A sentence that was changed is not printed in its old translation; the coordinator sees who has read what."""

import datetime

import pytest
from django.urls import reverse
from django.utils import timezone

from builds.demo.factories.papers import make_build_with_papers_due
from builds.demo.factories.switches import OF_A_RIDE_ON
from builds.demo.factories.translations import SPANISH, TRANSLATOR, translate, translate_record
from builds.papers import catalogue, languages, rules
from builds.papers.models import IssuedPaper
from builds.papers.render import PaperError, render_html
from builds.papers.sentences import OF_EARLIER_REVISIONS, plan_sentences
from builds.papers.translations import CatalogueReading, Translation, digest_of
from builds.plans.document import read_plan
from builds.plans.loading import DATA
from builds.record import rules as record
from labsite.models import Lab
from tests.builds.papers.conftest import again

WAS = "pull the red plug behind the seat, on the adult's side"
NOW = "pull the blue plug under the seat"
NOT_YET = "Esta frase aún no está traducida: pregunte al laboratorio."
READ_TODAY = {"read_by": "Amaro Villaseca", "read_on": str(datetime.date(2026, 1, 5))}


@pytest.fixture
def spanish(ready, coordinator):
    ready.client.caregivers.update(language="es")
    translate_record(ready, coordinator)
    return again(ready)


def line_of(build, text):
    return next(line for line in languages.lines_of(again(build), "es") if line.source.text == text)


def address(build, text, name="sentence_translate"):
    return reverse(name, args=[build.number, "es", digest_of(text)])


def reasons(build):
    return rules.why_not("use_guide", again(build), language="es")


def test_a_sentence_without_translation_keeps_the_paper_and_is_named(ready, coordinator):
    found = " ".join(reasons(ready))
    assert f"Not translated into Spanish: “{WAS}” (Battery disconnect of build {ready.number})." in found
    with pytest.raises(PaperError, match="Not translated into Spanish"):
        rules.issue(ready, "use_guide", coordinator, language="es")


def test_with_every_sentence_translated_the_paper_may_leave(spanish):
    assert reasons(spanish) == []
    assert SPANISH[WAS] in render_html("use_guide", spanish, language="es")


def test_a_changed_sentence_makes_its_translation_stale_and_the_paper_says_so(spanish, coordinator):
    record.configure(again(spanish), coordinator, "Moved the plug", disconnect=NOW)
    page = render_html("use_guide", again(spanish), language="es")
    assert SPANISH[WAS] not in page
    assert f'[{NOT_YET} <span lang="en">{NOW}</span>]' in page
    line = line_of(spanish, NOW)
    assert (line.state, line.before.text) == ("stale", SPANISH[WAS])
    assert any(NOW in reason for reason in reasons(spanish))


def test_a_sentence_that_is_no_matter_of_safety_is_printed_with_the_english_beside_it(spanish):
    Lab.objects.update(hours="Weekdays in the morning")
    assert reasons(spanish) == []
    assert f'[{NOT_YET} <span lang="en">Weekdays in the morning</span>]' in render_html(
        "use_guide", again(spanish), language="es"
    )


def test_what_a_plan_of_the_lab_says_is_looked_for_too(spanish):
    content = spanish.plan_revision.content
    content["do_not_use_when"] = [*content["do_not_use_when"], "The moon is full."]
    type(spanish.plan_revision).objects.filter(pk=spanish.plan_revision.pk).update(content=content)
    assert any("“The moon is full.”" in reason for reason in reasons(spanish))


# Said by earlier revisions of the plan of the stick, and by it no more.
EARLIER = [
    "Ask the lab before you change it.",
    "Stop the unit with the stop switch.",
    "Say what you do when something is wrong, and whom you call.",
    "Plug the battery in with nobody in the seat. Do the wheels stay still?",
    "Seat the child and close the straps, hips first.",
]


@pytest.mark.parametrize("sentence", EARLIER)
def test_a_build_of_an_earlier_revision_keeps_its_spanish(sentence):
    assert sentence not in plan_sentences(read_plan(DATA / "one-hand-stick.toml"))
    assert sentence in OF_EARLIER_REVISIONS
    assert catalogue.translated(sentence, "es")


def test_markup_in_a_missing_sentence_is_text(spanish, coordinator):
    record.configure(again(spanish), coordinator, "Tried", disconnect="<script>alert(1)</script>")
    page = render_html("use_guide", again(spanish), language="es")
    assert "<script>" not in page
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in page


def test_a_translation_that_names_the_child_keeps_the_paper(spanish, coordinator):
    name = spanish.client.person.given_name
    Translation.objects.filter(source=WAS).update(text=f"jale el conector de {name}")
    assert reasons(spanish) == ["A Spanish sentence names the client or the family. Take the name out of it."]


def test_the_coordinator_translates_and_the_paper_may_leave(ready, coordinator, as_person):
    client = as_person(coordinator)
    ready.client.caregivers.update(language="es")
    page = client.get(reverse("build_sentences", args=[ready.number, "es"])).text
    assert "Not translated" in page
    hours = ("Stop using the equipment and leave a message", "Monday to Friday, 9:00 to 17:00")
    for source in (WAS, *OF_A_RIDE_ON.values(), *hours):
        typed = {"text": SPANISH[source], "translated_by": TRANSLATOR}
        assert client.post(address(ready, source), typed).status_code == 302
    assert reasons(ready) == []
    assert "Not read yet" in client.get(reverse("papers", args=[ready.number])).text
    assert Translation.objects.get(source=WAS).made_by == coordinator


def edit(client, build, source, **typed):
    """Open the form, as a person does, and send it with these changes."""
    form = client.get(address(build, source)).context["form"]
    kept = {name: form.initial.get(name) or "" for name in ("text", "translated_by", "read_by", "read_on")}
    return client.post(address(build, source), {**kept, "seen": form.fields["seen"].fresh, **typed})


def test_a_changed_translation_was_not_read_and_its_papers_are_replaced(spanish, coordinator, as_person):
    rules.issue(spanish, "use_guide", coordinator, language="es")
    rules.issue(spanish, "use_guide", coordinator)
    answer = edit(as_person(coordinator), spanish, WAS, text="jale la clavija roja detrás del asiento")
    assert answer.status_code == 302
    row = Translation.objects.get(source=WAS)
    assert not row.is_read
    spanish_copy, english_copy = IssuedPaper.objects.order_by("copy_number")
    assert spanish_copy.superseded_changes == [f"The Spanish for “{WAS}” was changed."]
    assert english_copy.is_current


def test_a_reading_by_a_speaker_is_kept_with_who_and_when(spanish, coordinator, as_person):
    Translation.objects.update(read_by="", read_on=None)
    client = as_person(coordinator)
    assert edit(client, spanish, WAS, read_by="Amaro").status_code == 422
    assert edit(client, spanish, WAS, **READ_TODAY).status_code == 302
    assert Translation.objects.get(source=WAS).is_read
    later = timezone.localdate() + datetime.timedelta(days=2)
    assert edit(client, spanish, WAS, read_by="Amaro", read_on=str(later)).status_code == 422


def test_the_catalogue_is_read_in_one_version(spanish, coordinator, as_person, monkeypatch):
    client = as_person(coordinator)
    assert "Nobody has read this version yet" in client.get(reverse("paper_languages")).text
    assert client.post(reverse("catalogue_read", args=["es"]), READ_TODAY).status_code == 302
    assert CatalogueReading.objects.get().version == catalogue.version("es")
    assert "read by Amaro Villaseca" in client.get(reverse("paper_languages")).text
    assert languages.standing(again(spanish), "es").is_done
    monkeypatch.setattr(catalogue, "version", lambda language: "another")
    assert not languages.standing(again(spanish), "es").catalogue_is_read


def test_the_catalogue_is_there_to_be_read(coordinator, lab, as_person):
    page = as_person(coordinator).get(reverse("paper_catalogue", args=["es"])).text
    assert "Desconecte la batería." in page
    assert as_person(coordinator).get(reverse("paper_catalogue", args=["en"])).status_code == 404


def test_without_a_compiled_catalogue_nothing_leaves_in_that_language(spanish, monkeypatch):
    monkeypatch.setattr(catalogue, "sentences", lambda language: {})
    assert reasons(spanish) == ["The Spanish sentences of the papers are not compiled. Run: make setup"]


def test_one_translation_serves_every_build_with_these_words(spanish, coordinator):
    other = make_build_with_papers_due(coordinator=coordinator)
    assert reasons(other) == []


def test_white_space_changes_no_sentence(ready, coordinator):
    translate(f"  {WAS}\n", "así", coordinator)
    assert line_of(ready, WAS).text == "así"
