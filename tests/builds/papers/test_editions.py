"""Each adult gets the papers in the language and the print that adult reads; the hand-off waits for every one."""

import pytest
from django.urls import reverse
from django.utils import translation

from builds.demo.factories.clients import CaregiverFactory
from builds.demo.factories.translations import translate_record
from builds.papers import handing_over, reprinting, rules, wanted
from builds.papers.models import IssuedPaper
from builds.papers.render import PaperError
from builds.record import rules as record
from builds.record.registry import reports
from tests.builds.papers.conftest import again, pages_of

SPANISH = {"language": "es", "print_size": "normal"}


@pytest.fixture
def family(ready, coordinator):
    """A mother who reads Spanish and a grandfather who reads English in large print."""
    ready.client.caregivers.update(language="es-mx")
    CaregiverFactory(client=ready.client, name="Tomas", relation="Grandfather", reading="large", is_first_contact=False)
    translate_record(ready, coordinator)
    return again(ready)


def guide_condition(build):
    conditions = reports(again(build))["papers"].conditions
    return next(one for one in conditions if one.text.startswith("Use guide"))


def test_the_hand_off_waits_for_each_edition(family, coordinator):
    assert [str(one) for one in wanted.editions(family, "use_guide")] == [
        "English, large print", "Spanish, normal print",
    ]  # fmt: skip
    rules.issue(family, "use_guide", coordinator)
    found = guide_condition(family)
    assert not found.met
    assert found.why == "It is not issued yet: English, large print; Spanish, normal print."
    rules.issue(family, "use_guide", coordinator, print_size="large")
    rules.issue(family, "use_guide", coordinator, **SPANISH)
    assert guide_condition(family).met


def test_large_print_serves_whoever_reads_normal_print(ready, coordinator):
    rules.issue(ready, "use_guide", coordinator, print_size="large")
    assert guide_condition(ready).met


def test_a_workshop_paper_is_in_english_only(family, coordinator):
    assert wanted.editions(family, "as_built") == [wanted.Edition()]
    with pytest.raises(PaperError, match="printed in en, not es"):
        rules.issue(family, "as_built", coordinator, language="es")


def test_spanish_needs_no_interpreter_and_polish_does(family):
    assert handing_over.is_understood(family)
    family.client.caregivers.update(language="pl")
    assert handing_over.other_languages(again(family)) == ["Polish"]
    assert handing_over.language_sentences(again(family))[0].startswith("This paper is not available in Polish.")
    with translation.override("es"):
        assert handing_over.language_sentences(again(family))[0].startswith("No tenemos este papel en polaco.")
    assert not handing_over.is_understood(again(family))


def test_a_copy_keeps_its_language_and_its_successor_has_the_same(family, coordinator):
    paper = rules.issue(family, "use_guide", coordinator, given_to="Elena", **SPANISH)
    assert (paper.language, paper.print_size, paper.edition) == ("es", "normal", "Spanish, normal print")
    assert "Guía de uso" in " ".join(pages_of(paper.file.open("rb").read()))
    record.configure(again(family), coordinator, "Slower", ceiling_m_s=0.5)
    found = reprinting.reprint(again(family), coordinator)
    assert found.refused == [] or "not released" in found.refused[0][1]
    assert {one.language for one in found.issued} <= {"es"}


def test_a_form_offers_first_what_is_missing(family, coordinator, as_person):
    rules.issue(family, "use_guide", coordinator, print_size="large")
    client, address = as_person(coordinator), reverse("paper_issue", args=[family.number, "use_guide"])
    page = client.get(address).text
    assert "checked" in page.split('value="es"')[1][:120]
    sent = {"size": "a4", "language": "es", "print_size": "normal", "given_to": "Elena"}
    assert client.post(address, sent).status_code == 302
    assert set(IssuedPaper.objects.values_list("language", "print_size")) == {("en", "large"), ("es", "normal")}
    page = client.get(reverse("papers", args=[family.number])).text
    assert "Spanish, normal print" in page


def test_a_paper_is_read_in_another_edition(family, coordinator, as_person):
    address = reverse("paper_view", args=[family.number, "use_guide"])
    page = as_person(coordinator).get(f"{address}?language=es&print_size=large").text
    assert '<html lang="es" class="large">' in page
    assert "Desconecte la batería." in page
    refused = as_person(coordinator).get(f"{address}?language=pl")
    assert refused.status_code == 422
    assert "printed in en and es, not pl" in refused.text


def test_a_change_of_what_an_adult_reads_is_told_to_the_hand_off(family, coordinator):
    for edition in wanted.editions(family, "use_guide"):
        rules.issue(family, "use_guide", coordinator, language=edition.language, print_size=edition.print_size)
    assert guide_condition(family).met
    adult = family.client.caregivers.get(relation="Mother")
    adult.reading = "large"
    adult.save(update_fields=["reading"])
    assert not guide_condition(family).met


def test_an_adult_who_reads_in_pictures_gets_them_before_the_hand_off(ready, coordinator):
    def asks_for_pictures():
        conditions = reports(again(ready))["papers"].conditions
        return [one.met for one in conditions if one.text.startswith("Picture page")]

    assert asks_for_pictures() == []
    ready.client.caregivers.update(reading="pictures")
    assert asks_for_pictures() == [False]
    rules.issue(again(ready), "picture_page", coordinator)
    assert asks_for_pictures() == [True]
