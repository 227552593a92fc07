"""Two languages side by side: the same lines, in the same order, on one sheet for the interpreter."""

import pytest
from django.urls import reverse

from builds.demo.factories.papers import PRESS, SOCKET, STICK, make_build_with_papers_due
from builds.demo.factories.translations import translate_record
from builds.papers import beside, rules
from builds.papers.kinds import FOR_FAMILIES
from builds.papers.render import PaperError
from tests.builds.papers.conftest import again, pages_of


@pytest.mark.parametrize("plan", [STICK, PRESS, SOCKET])
def test_every_paper_has_the_same_lines_in_both_languages(ready, coordinator, plan):
    build = make_build_with_papers_due(plan)
    translate_record(build, coordinator)
    for kind in [kind for kind in rules.kinds(build) if kind in FOR_FAMILIES]:
        found = beside.pairs(kind, build, "es")
        assert "h1" in {tag for tag, _, _ in found}
        assert len(found) > 15


def test_a_line_stands_beside_its_translation(ready, coordinator, as_person):
    translate_record(ready, coordinator)
    found = {english: spanish for _, english, spanish in beside.pairs("use_guide", again(ready), "es")}
    assert found["Unplug the battery first."] == "Primero desconecte la batería."
    assert found["The load limit is 29.5 kg (65 lb) in all."] == "Aguanta 29.5 kg (65 lb) de peso en total."
    answer = as_person(coordinator).get(reverse("paper_beside", args=[ready.number, "use_guide", "es"]))
    text = " ".join(pages_of(answer.content))
    assert "Use guide: English and Spanish" in text
    assert "Primero desconecte la batería." in text
    assert "DRAFT" not in text.upper()


def test_what_is_not_translated_makes_it_a_draft(ready):
    assert "Draft: not for the family" in beside.render_beside("use_guide", ready, "es")


@pytest.mark.parametrize(("kind", "language"), [("as_built", "es"), ("use_guide", "pl"), ("use_guide", "en")])
def test_there_is_nothing_to_set_beside(ready, kind, language):
    with pytest.raises(PaperError):
        beside.render_beside(kind, ready, language)
