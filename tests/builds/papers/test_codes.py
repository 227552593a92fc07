"""The code of an issued copy: printed in its foot, looked up by anybody, told nothing but whether it still holds."""

import re

import pytest
from django.test import Client
from django.urls import reverse

from builds.demo.factories.papers import PRESS, SOCKET, STICK, make_build_with_papers_due
from builds.demo.factories.translations import translate_record
from builds.papers import codes
from builds.papers import rules as papers
from builds.papers.family.rules import must_stop
from builds.papers.render import render_html, render_pdf
from builds.record import releasing
from builds.record import rules as record
from builds.record.holds import Standing
from builds.record.models import Build
from labsite.models import Lab
from tests.builds.papers.conftest import again, pages_of
from tests.factory import make_lab

ADDRESS = "/paper/"


@pytest.fixture
def guide(ready, coordinator):
    return papers.issue(ready, "use_guide", coordinator, given_to="Elena Castellan")


def look_up(typed):
    return Client().get(ADDRESS, {"code": typed})


def test_signs_that_look_alike_are_left_out():
    assert not set(codes.SIGNS) & set("0O1IL2Z5S8BUV")
    assert len(codes.SIGNS) ** codes.LENGTH > 10**10


def test_every_copy_has_its_own_code_and_prints_it(ready, coordinator, guide):
    other = papers.issue(again(ready), "use_guide", coordinator)
    assert guide.code != other.code
    pages = pages_of(guide.file.open("rb").read())
    for page in pages:
        assert f"copy 1 · code {codes.as_printed(guide.code)}" in page
    assert f"Is this paper still true? Tell the lab this code: {codes.as_printed(guide.code)}" in pages[-1]


def test_the_public_address_is_printed_where_there_is_one(ready):
    Lab.objects.update(public_address="https://lab.example.org/")
    text = render_html("use_guide", ready, draft=False, code="ACDEFGHJ")
    assert "Is this paper still true? Type code ACDE-FGHJ at lab.example.org/paper" in text


@pytest.mark.parametrize("plan", [STICK, PRESS])
@pytest.mark.parametrize("size", ["letter", "a4"])
@pytest.mark.parametrize("language", ["en", "es"])
def test_a_card_with_its_code_stays_on_its_sheet(coordinator, reviewer, plan, size, language):
    make_lab(walking_pace_m_s=1.2, public_address="https://equipment.lab.example.org")
    build = make_build_with_papers_due(plan, coordinator=coordinator, reviewer=reviewer)
    translate_record(build, coordinator)
    for kind, sides in (("supervision_card", 1), ("stop_use_card", 2)):
        card = render_html(kind, again(build), size, language=language, copy_number=12, draft=False, code="ACDEFGHJ")
        pages = pages_of(render_pdf(card, build))
        assert len(pages) == sides, kind
        assert pages[-1].count("ACDE-FGHJ") == 2


@pytest.mark.parametrize("size", ["letter", "a4"])
@pytest.mark.parametrize("language", ["en", "es"])
def test_the_code_of_a_toys_storage_card_takes_no_second_side(coordinator, reviewer, size, language):
    make_lab(walking_pace_m_s=1.2, public_address="https://equipment.lab.example.org")
    build = make_build_with_papers_due(SOCKET, coordinator=coordinator, reviewer=reviewer)
    translate_record(build, coordinator)
    card = render_html("storage_card", again(build), size, language=language, draft=False, code="ACDEFGHJ")
    (page,) = pages_of(render_pdf(card, build))
    assert page.count("ACDE-FGHJ") == 2


def test_a_draft_has_no_code(ready):
    assert "still true" not in render_html("use_guide", ready)


@pytest.mark.parametrize("change", [str, str.lower, lambda code: f" {code[:3]} {code[3:]} ", codes.as_printed])
def test_a_current_paper_is_current_however_its_code_is_typed(guide, change):
    answer = look_up(change(guide.code))
    assert answer.status_code == 200
    assert ">Current<" in answer.text


def test_it_tells_nothing_of_the_paper(ready, guide):
    text = look_up(guide.code).text
    for said in (ready.number, ready.unit.number, "Use guide", "Elena", ready.client.case_code):
        assert said not in text


def test_a_replaced_paper_says_whom_to_call(ready, coordinator, guide):
    record.configure(again(ready), coordinator, "The other hand tires less", side="right")
    text = look_up(guide.code).text
    assert "Replaced, call us" in text
    assert Lab.current().phone in text


@pytest.mark.parametrize("state", [{"stage": "returned"}, {"stage": "retired"}, {"standing": "cancelled"}])
def test_a_paper_of_a_unit_that_the_family_has_no_longer_is_not_current(ready, guide, state):
    Build.objects.filter(pk=ready.pk).update(**state)
    assert "Replaced, call us" in look_up(guide.code).text


def test_a_paper_is_not_current_while_its_build_is_on_hold(ready, coordinator, guide):
    record.set_standing(ready, Standing.ON_HOLD, coordinator, "Looked at after a fall")
    assert "Replaced, call us" in look_up(guide.code).text
    assert must_stop(again(ready))


def test_a_paper_is_not_current_while_its_unit_must_not_be_used(ready, coordinator, guide):
    ready.unit.mark_do_not_use(coordinator, "Cracked")
    assert "Replaced, call us" in look_up(guide.code).text


def test_a_paper_is_not_current_while_a_release_is_void(ready, coordinator, guide):
    ready.hold_decisions.order_by("-pk").first().void(["A client who grew"])
    assert "Replaced, call us" in look_up(guide.code).text


def test_a_refusal_after_a_void_release_makes_no_paper_current(ready, coordinator, guide):
    """The newest decision is then the refusal, and the release that the family has is still void."""
    decision = ready.hold_decisions.order_by("-pk").first()
    decision.void(["A client who grew"])
    releasing.refuse(again(ready), decision.hold, coordinator, "Weigh the client first")
    assert decision.hold in again(ready).void_holds()
    assert must_stop(again(ready))
    assert "Replaced, call us" in look_up(guide.code).text


def answer_in(text):
    return re.search(r'family-answer">(.*?)<', text)[1]


@pytest.mark.parametrize("typed", ["ACDEFGHJ", "ACDE", "0O1I-LBSZ", "<script>", "x" * 5000, "АСDЕ-FGHJ", "a\x00b"])
def test_unknown_and_mistyped_codes_are_answered_alike(guide, typed):
    answer = look_up(typed)
    assert answer.status_code == 200
    assert answer_in(answer.text) == "We do not know this code"
    assert "<script>" not in answer.text.partition("<main")[2]


def test_nobody_looks_up_without_end(guide):
    statuses = [look_up("ACDEFGHJ").status_code for _ in range(21)]
    assert statuses == [200] * 20 + [429]
    answer = look_up(guide.code)
    assert answer.status_code == 429 and "Too many tries. Wait 10 minutes, or call the lab." in answer.text
    assert Client().get(ADDRESS, {"code": guide.code}, REMOTE_ADDR="10.0.0.7").status_code == 200


@pytest.mark.django_db
def test_the_page_is_kept_nowhere_and_listed_nowhere():
    answer = Client().get(reverse("paper_check"))
    assert "no-store" in answer["Cache-Control"]
    assert "noindex" in answer["X-Robots-Tag"]
