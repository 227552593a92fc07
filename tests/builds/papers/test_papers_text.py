"""What the papers say, read back from the PDF."""

from io import BytesIO

import pytest
from pypdf import PdfReader

from builds.demo.factories.papers import PRESS, SOCKET, STICK, make_build_with_papers_due
from builds.papers import rules
from builds.papers.kinds import FOR_FAMILIES, NOTHING_TO_DO_WITH_IT
from builds.papers.models import PaperKind
from builds.papers.render import render_html, render_pdf
from tests.builds.papers.conftest import pages_of, pdf_pages, pdf_text

FAMILY = ("use_guide", "charging_guide", "supervision_card", "hand_off_sheet")
# The clinician summary needs a consent that this build does not have; it has tests of its own.
PRINTED = [kind for kind in PaperKind.values if kind != PaperKind.CLINICIAN_SUMMARY]
FIRST = "Local codes come first. So does the judgement of the responsible clinician and engineer."
# 8.5 x 11 in and 210 x 297 mm (ISO 216) in points of 1/72 in, rounded.
POINTS = {"letter": (612, 792), "a4": (595, 842)}


def number_line(kind, build):
    """What stands at the foot: the family's words on a paper for families, the workshop's own on others."""
    unit, settings = build.unit.number, build.configuration().number
    if kind in FOR_FAMILIES:
        return f"equipment {unit} · settings {settings}"
    return f"unit {unit} · configuration {settings}"


@pytest.mark.parametrize("size", ["letter", "a4"])
@pytest.mark.parametrize("kind", PRINTED)
def test_every_page_tells_unit_phone_configuration_date_and_its_number(ready, kind, size):
    pages = pdf_pages(kind, ready, size)
    for number, text in enumerate(pages, 1):
        assert number_line(kind, ready) in text
        assert "Lab phone: 555 0142" in text
        assert "printed " in text
        assert f"Page {number} of {len(pages)}" in text


@pytest.mark.parametrize("size", ["letter", "a4"])
@pytest.mark.parametrize("kind", [kind for kind in PRINTED if kind not in NOTHING_TO_DO_WITH_IT])
def test_every_paper_carries_cautions_and_who_comes_first(ready, kind, size):
    text = pdf_text(kind, ready, size)
    assert FIRST in text
    for caution in ready.plan_revision.content["cautions"]:
        assert caution["hazard"] in text
        assert caution["can_happen"] in text
        assert all(line in text for line in caution["do"])


@pytest.mark.parametrize("kind", ["use_guide", "supervision_card", "hand_off_sheet", "as_built"])
def test_side_ceiling_and_load_limit_are_told(ready, kind):
    text = pdf_text(kind, ready)
    whose = "occupant" if kind == "as_built" else "child"  # families read the plain word only
    assert f"The stick is on the {whose}'s left." in text
    assert whose == "occupant" or "occupant" not in text
    assert "2.9 km/h (1.8 mph)" in text  # 0.8 m/s: 0.8 x 3.6 and 0.8 / 0.44704 (NIST SP 811)
    assert "The load limit is 29.5 kg (65 lb) in all." in text  # 29.5 / 0.45359237 = 65.04


def test_the_other_side_is_told_when_it_is_set(ready, coordinator, reviewer):
    build = make_build_with_papers_due(coordinator=coordinator, reviewer=reviewer, side="right")
    assert "The stick is on the child's right." in pdf_text("use_guide", build)


def test_charge_plan_is_in_clock_times(ready):
    text = pdf_text("charging_guide", ready)
    # 12 Ah from empty x 1.2 / 1.5 A = 9.6 h, up to the half hour 10 h; from 16:00 that ends after bedtime at 22:30,
    # so it starts when an adult gets up, 06:30.
    assert "6:30 am (06:30)" in text
    assert "4:30 pm (16:30)" in text
    assert "Never longer than 10 hours" in text
    assert "Later than 12:30 pm (12:30)? Then wait" in text
    assert f"charger with the number {ready.configuration().charger.number}" in text


def test_guide_tells_session_places_disconnect_checks_and_when_not_to_use_it(ready):
    text = pdf_text("use_guide", ready)
    assert "Stop after 20 minutes and take a rest." in text
    assert "Use it only here: yard or garden; path away from cars; clinic or lab." in text
    assert "pull the red plug behind the seat, on the adult's side" in text
    content = ready.plan_revision.content
    assert all(line in text for line in [*content["check_before_use"], *content["do_not_use_when"]])


@pytest.mark.parametrize("size", ["letter", "a4"])
@pytest.mark.parametrize("plan", [STICK, PRESS, SOCKET])
def test_the_card_is_one_page(ready, plan, size):
    build = make_build_with_papers_due(plan)
    assert len(pdf_pages("supervision_card", build, size)) == 1


@pytest.mark.parametrize("size", ["letter", "a4"])
def test_pages_have_the_size_that_was_asked_for(ready, size):
    pdf = render_pdf(render_html("use_guide", ready, size), ready)
    box = PdfReader(BytesIO(pdf)).pages[0].mediabox
    assert (round(float(box.width)), round(float(box.height))) == POINTS[size]


@pytest.mark.parametrize("kind", PRINTED)
def test_the_pdf_is_tagged_and_says_title_and_language(ready, kind):
    reader = PdfReader(BytesIO(render_pdf(render_html(kind, ready), ready)))
    catalog = reader.trailer["/Root"]
    assert catalog["/MarkInfo"]["/Marked"]
    assert catalog["/Lang"] == "en"
    assert "/StructTreeRoot" in catalog
    assert reader.metadata.title == f"{PaperKind(kind).label} for {ready.unit.number}"


def test_a_toy_has_no_speed_and_no_charging_paper(ready):
    build = make_build_with_papers_due(SOCKET)
    assert PaperKind.CHARGING_GUIDE not in rules.kinds(build)
    text = pdf_text("use_guide", build)
    assert "top speed" not in text
    assert "press the switch" in text


@pytest.mark.parametrize("kind", FAMILY)
@pytest.mark.parametrize("plan", [STICK, PRESS])
def test_sentences_for_families_have_twenty_words_or_fewer(ready, kind, plan):
    import re

    html = render_html(kind, make_build_with_papers_due(plan))
    html = re.sub(r"(?s)<head>.*?</head>|<svg.*?</svg>", "", html)
    blocks = re.split(r"</?(?:p|li|h1|h2|h3|dt|dd|td|th|caption|figcaption|div|tr)\b[^>]*>", html)
    sentences = [one for block in blocks for one in re.split(r"[.!?](?:\s|$)", re.sub(r"<[^>]+>", " ", block))]
    assert [one.split() for one in sentences if len(one.split()) > 20] == []


def test_no_paper_says_none_or_unknown_where_a_line_may_be_left_out(ready, coordinator):
    ready.client.household.delete()
    for kind in ("use_guide", "supervision_card", "hand_off_sheet"):
        text = " ".join(pages_of(render_pdf(render_html(kind, ready), ready)))
        assert "None" not in text
        assert " unknown" not in text
