"""Which papers a build has, what the hand-off waits for, and what is never issued."""

import pytest
from django.urls import reverse

from builds.demo.factories.papers import PRESS, SOCKET, STICK, make_build_for, make_build_with_papers_due
from builds.papers import kinds, rules, sheet
from builds.papers.models import IssuedPaper, PaperKind
from builds.papers.render import PaperError
from builds.record.registry import reports
from tests.builds.papers.conftest import again
from tests.factory import make_lab


@pytest.mark.parametrize("plan", [STICK, PRESS, SOCKET])
def test_every_build_has_the_papers_of_the_bench_and_the_cards(db, plan):
    make_lab()
    have = kinds.kinds(make_build_for(plan))
    assert set(kinds.WORKSHOP) <= set(have)
    cards = {PaperKind.STOP_USE_CARD, PaperKind.STORAGE_CARD, PaperKind.USE_DIARY, PaperKind.TEACH_BACK_SHEET}
    assert cards <= set(have)


def test_each_paper_is_for_somebody_and_for_one_only():
    groups = [kinds.FOR_FAMILIES, kinds.WORKSHOP, (PaperKind.CLINICIAN_SUMMARY,)]
    assert sorted(kind for group in groups for kind in group) == sorted(PaperKind.values)


def test_the_hand_off_waits_for_what_the_plan_asks_and_nothing_else(ready):
    waited = [one.text for one in reports(ready)["papers"].conditions if one.text.endswith("is issued")]
    asked = ready.plan_revision.content["papers"]
    assert waited == [
        f"{kind.label} of the current configuration is issued" for kind in PaperKind if kind.value in asked
    ]
    assert len(waited) == 5


@pytest.mark.parametrize("plan", [STICK, PRESS, SOCKET])
def test_the_hand_off_sheet_names_what_the_family_of_this_plan_takes_home(ready, coordinator, plan):
    build = make_build_with_papers_due(plan)
    first = rules.issue(build, "stop_use_card", coordinator)
    given = sheet.papers_given(again(build))
    assert ("Charging guide (not issued yet)" in given) == (plan != SOCKET)
    assert {"Use guide (not issued yet)", "Storage card (not issued yet)", "Use diary (not issued yet)"} <= set(given)
    assert [one for one in given if one.startswith("Stop-use card")] == [sheet.a_copy(PaperKind.STOP_USE_CARD, first)]
    assert len(given) == len(kinds.family_pack(build)) - 2  # the sheet itself and what is signed with it


def test_a_title_that_is_a_sentence_stands_in_quotation_marks(ready, coordinator, as_person):
    page = as_person(coordinator).get(reverse("paper_issue", args=[ready.number, "what_we_keep"])).text
    assert "Issue the paper “What we keep about your child”" in page
    assert "the what we keep" not in as_person(coordinator).get(reverse("papers", args=[ready.number])).text
    assert (
        "Issue the use guide"
        in as_person(coordinator).get(reverse("paper_issue", args=[ready.number, "use_guide"])).text
    )


@pytest.mark.parametrize("kind", kinds.WORKING)
def test_a_paper_of_the_bench_is_there_before_anything_is_set_or_released(db, kind):
    from builds.papers.render import render_html

    make_lab()
    build = make_build_for()
    assert build.configuration().battery is None
    assert not build.hold_decisions.exists()
    html = render_html(kind, build)
    assert "Working copy: not for the family" in html
    assert "Draft: not for the family" not in html


@pytest.mark.parametrize("kind", kinds.WORKING)
def test_a_paper_of_the_bench_is_never_issued(ready, coordinator, as_person, kind):
    with pytest.raises(PaperError, match="It is not issued"):
        rules.issue(ready, kind, coordinator)
    answer = as_person(coordinator).get(reverse("paper_issue", args=[ready.number, kind]))
    assert answer.status_code == 404
    assert not IssuedPaper.objects.exists()


@pytest.mark.parametrize("kind", kinds.FOR_FAMILIES)
def test_every_paper_of_the_family_can_be_issued(ready, coordinator, kind):
    assert rules.issue(again(ready), kind, coordinator).is_current


@pytest.mark.parametrize("kind", kinds.NAMES_ADULTS)
def test_who_may_not_know_the_family_opens_no_paper_that_names_it(ready, builder, reviewer, as_person, kind):
    ready.builders.add(builder)
    for person in (builder, reviewer):
        client = as_person(person)
        for name in ("paper_view", "paper_pdf"):
            assert client.get(reverse(name, args=[ready.number, kind])).status_code == 403


@pytest.mark.parametrize("kind", [kind for kind in PaperKind if kind not in kinds.NAMES_ADULTS])
def test_a_builder_reads_every_other_paper(ready, builder, as_person, kind):
    ready.builders.add(builder)
    assert as_person(builder).get(reverse("paper_view", args=[ready.number, kind])).status_code == 200


def test_the_stop_use_card_goes_on_when_a_clearance_has_ended_and_the_unit_is_stopped(ready, coordinator):
    ready.client.clearances.update(expires_on="2026-01-02", given_on="2026-01-01")
    ready.unit.mark_do_not_use(coordinator, "It smelled hot")
    assert rules.why_not("use_guide", again(ready)) != []
    assert rules.why_not("stop_use_card", again(ready)) == []


def test_the_stop_use_card_waits_for_the_place_where_the_power_is_taken_away(ready, coordinator, reviewer):
    from builds.demo.factories.papers import make_build_with_papers_due

    build = make_build_with_papers_due(coordinator=coordinator, reviewer=reviewer, disconnect="")
    assert rules.why_not("stop_use_card", build) == ["The battery disconnect, and where it is, is unknown."]


def test_the_list_tells_who_each_paper_is_for(ready, coordinator, as_person):
    page = as_person(coordinator).get(reverse("papers", args=[ready.number])).text
    places = [page.index(text) for text in (
        "The hand-off waits for these", "More for the family and the clinician", "For the workshop",
    )]  # fmt: skip
    assert places == sorted(places)
    assert "It cannot be made:" in page
    assert reverse("paper_view", args=[ready.number, "clinician_summary"]) not in page
    assert reverse("paper_issue", args=[ready.number, "bench_checklist"]) not in page
