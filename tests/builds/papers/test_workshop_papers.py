"""What the papers of the bench say, read back from the PDF or the page; and that they name nobody's family."""

import re

import pytest

from builds.bench.models import BuildStep, Section
from builds.demo.factories.bench import drawn_photo, pass_step
from builds.demo.factories.papers import PRESS, SOCKET, make_build_for, make_build_with_papers_due
from builds.demo.factories.parts import RestoreItemFactory, RestoreKitFactory
from builds.papers import kinds, rules
from builds.papers.bench_paper import initials
from builds.papers.facts import Facts
from builds.papers.render import render_html
from builds.record.models import Photo
from tests.builds.papers.conftest import again, pages_of, pdf_text
from tests.builds.papers.test_as_built import identifying
from tests.factory import make_lab


def text_of(kind, build):
    """What the paper says, without its marks of layout."""
    html = re.sub(r"(?s)<head>.*?</head>|<svg.*?</svg>", " ", render_html(kind, again(build)))
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html)).replace("&#x27;", "'").replace("&amp;", "&")


@pytest.mark.parametrize("kind", kinds.WORKING)
def test_it_carries_no_personal_data(ready, kind):
    ready.client.person.address = "12 Weir Lane"
    ready.client.person.save(update_fields=["address"])
    client = again(ready).client
    adult = client.caregivers.first()
    secret = [*identifying(client), client.person.birth_date.isoformat(), adult.email, "12 Weir Lane", "14 Mar"]
    text = pdf_text(kind, ready)
    assert [word for word in filter(None, secret) if word in text] == []


@pytest.mark.parametrize("kind", kinds.WORKING)
def test_a_name_that_somebody_wrote_is_found(ready, kind):
    step = ready.steps.first()
    step.title = f"Ask {ready.client.person.given_name} to sit"
    step.save(update_fields=["title"])
    assert any("names the client" in reason for reason in rules.why_not(kind, again(ready)))


@pytest.mark.parametrize("kind", kinds.WORKING)
@pytest.mark.parametrize("plan", [PRESS, SOCKET])
def test_other_plans_have_them_too(db, plan, kind):
    make_lab()
    text = text_of(kind, make_build_with_papers_due(plan))
    assert "None" not in text.replace("None.", "").replace("None without", "").replace("None fitted", "")


# The checklist


def test_the_checklist_has_every_step_with_its_limits_and_what_must_be_seen(ready):
    text = text_of("bench_checklist", ready)
    for step in ready.steps.all():
        assert f"{step.code} {step.title}" in text
        assert step.must_see in text
        assert step.reading_label in text
    assert "from 12.6 to 13.2 V" in text  # the plan's I2
    assert "178 mm or less" in text  # the plan's A2


def test_what_is_done_is_filled_in_and_counted(ready, builder):
    build = make_build_for(builders=[builder])
    step = build.steps.get(code="I2")
    pass_step(step, builder, reading_typed="12.8 V")
    row = text_of("bench_checklist", build).split("I2 ")[1].split("I3 ")[0]
    assert "12.8 V Passed" in row
    assert "Failed" not in row  # no box to tick any more
    assert initials(builder) in row
    assert "Incoming test: 1 of 11 done" in text_of("bench_checklist", build)


def test_a_step_that_is_open_has_boxes_and_space_for_the_unit(ready):
    row = text_of("bench_checklist", ready).split("I3 ")[1].split("I4 ")[0]
    assert re.search(r"V Passed Failed", row)


def test_notes_of_the_bench_are_not_printed(ready, builder):
    build = make_build_for(builders=[builder])
    pass_step(build.steps.get(code="I5"), builder, note="The aunt brought it on Monday")
    assert "aunt" not in text_of("bench_checklist", build)


def test_a_hold_point_that_is_not_released_says_stop(db):
    make_lab()
    text = text_of("bench_checklist", make_build_for())
    for label in ("Sound unit", "First power", "First ride"):
        assert f"Hold point {label}: not released. Stop here" in text


def test_a_hold_point_that_is_released_says_who_and_when(ready):
    released = ready.hold_decisions.get(hold="first_power")
    assert f"by {released.made_by}." in text_of("bench_checklist", ready)


def test_a_struck_step_is_not_asked_for(ready, coordinator):
    step = ready.steps.get(code="I6")
    step.strike(coordinator, "Not for this unit")
    assert step.title not in text_of("bench_checklist", ready)


def test_initials_are_those_of_the_name(builder):
    builder.full_name = "Ben van der Okoye"
    assert initials(builder) == "BVDO"


# The commissioning sheet


def test_the_tests_stand_in_their_order_with_limit_and_source(ready):
    text = text_of("commissioning_sheet", ready)
    steps = list(BuildStep.objects.filter(build=ready, section=Section.COMMISSIONING))
    places = [text.index(f"{step.code} {step.title}") for step in steps]
    assert places == sorted(places)
    assert "0.5 A or less . Common practice" in text  # the plan's C5
    assert "pull the red plug behind the seat" in text


def test_no_release_no_energy(db):
    make_lab()
    build = make_build_for()
    assert "The hold point First power is not released. Nothing may be energised." in text_of(
        "commissioning_sheet", build
    )


def test_where_the_arm_swaps_the_other_side_has_a_column(ready, coordinator, reviewer):
    build = make_build_with_papers_due(coordinator=coordinator, reviewer=reviewer, arm="swaps")
    assert "Other side" in text_of("commissioning_sheet", build)
    assert "Other side" not in text_of("commissioning_sheet", ready)


# Labels, pick list


def test_both_ends_of_each_run_are_there_twice(ready):
    text = text_of("wire_labels", ready)
    for run in ready.wire_runs.all():
        for label, place in ((run.label_start, run.start), (run.label_end, run.end)):
            assert text.count(f"{label} at {place}, to") == 2, label


def test_a_label_that_is_missing_or_used_twice_is_told(ready):
    first, second = ready.wire_runs.all()[:2]
    first.label_start, second.label_start = "", second.label_end
    first.save(update_fields=["label_start"])
    second.save(update_fields=["label_start"])
    text = text_of("wire_labels", ready)
    assert f"Without a label at each end: {first.code}." in text
    assert f"The same label at two ends: {second.label_end}." in text
    assert "no label yet" in text


def test_the_pick_list_has_find_number_quantity_place_and_lot(ready):
    part = ready.parts.get(find_number=3)
    part.lot, part.source, part.quantity_used = "L-2291", "Drawer 4", 2
    part.save(update_fields=["lot", "source", "quantity_used"])
    assert "3 Motor controller, 60 A in direct current 2 2 Drawer 4 L-2291" in text_of("pick_list", ready)


def test_wire_is_summed_by_gauge_and_colour_and_an_unknown_length_is_not_hidden(ready):
    # W1, W2 and W3 of the plan are 10 AWG red: 0.15 + 0.8 + 0.8 = 1.75 m.
    assert "10 AWG red 175 cm W1, W2, W3" in text_of("pick_list", ready)
    run = ready.wire_runs.get(code="W2")
    run.length_m = None
    run.save(update_fields=["length_m"])
    assert "10 AWG red unknown W1, W2, W3" in text_of("pick_list", ready)


def test_a_part_that_is_struck_is_not_fetched(ready, coordinator):
    part = ready.parts.get(find_number=8)
    part.strike(coordinator, "No selector")
    assert part.name not in text_of("pick_list", ready)


# Restore to original


def test_the_kit_is_listed_with_its_place_and_its_side(ready, coordinator):
    RestoreKitFactory(build=ready, location="Shelf 3, box 12", complete="yes", missing="")
    RestoreItemFactory(build=ready, made_by=coordinator, name="Foot pedal", quantity=2, mark="left", location="Bag 1")
    text = text_of("restore_sheet", ready)
    assert "Shelf 3, box 12" in text
    assert "Foot pedal 2 Occupant's left Bag 1" in text
    assert "Not settled yet" not in text


@pytest.mark.parametrize(
    ("kit", "said"),
    [
        (None, "Nothing is written down of the restore kit."),
        ({"complete": "no", "missing": "two screws"}, "The restore kit is not complete. Missing: two screws."),
        ({"complete": "unknown", "missing": ""}, "It is unknown whether the restore kit is complete."),
    ],
)
def test_a_kit_that_is_not_whole_is_told(ready, kit, said):
    if kit:
        RestoreKitFactory(build=ready, **kit)
    assert said in text_of("restore_sheet", ready)


def test_the_teardown_is_undone_from_its_last_step(ready):
    text = text_of("restore_sheet", ready)
    places = [text.index(f"Undo T{number} ") for number in range(6, 0, -1)]
    assert places == sorted(places)
    assert "look before you undo it" in text  # none is recorded as done


def test_the_photo_of_a_step_is_printed_and_one_of_the_client_never(ready, coordinator, builder):
    photos = []
    for shows in (False, True):
        photo = Photo(build=ready, caption="Plug", shows_client=shows, made_by=coordinator)
        photo.file.save("x.jpg", drawn_photo("Plug"), save=False)
        photo.save(force_insert=True)
        photos.append(photo)
    for code, photo in zip(("T2", "T3"), photos, strict=True):
        ready.steps.get(code=code).results.create(outcome="passed", photo=photo, made_by=builder)
    html = render_html("restore_sheet", again(ready))
    assert f"/photos/{photos[0].pk}/" in html
    assert f"/photos/{photos[1].pk}/" not in html


# The plan sheet


def test_the_plan_sheet_tells_the_whole_revision(ready):
    text = text_of("plan_sheet", ready)
    content = ready.plan_revision.content
    assert content["purpose"] in text
    assert str(ready.plan_revision) in text
    assert ready.plan_revision.digest in text
    for step in content["commissioning"]:
        assert f"{step['code']} {step['title']}" in text
    for run in content["wire_runs"]:
        assert f"{run['from']} to {run['to']}" in text
    assert all(part["name"] in text for part in content["bom"])
    assert all(hold in text for hold in ("Sound unit", "First power", "First ride", "Hand-off"))


def test_the_plan_sheet_is_the_plan_and_not_the_build(ready):
    part = ready.parts.get(find_number=1)
    part.name = "Another stick"
    part.save(update_fields=["name"])
    assert "Another stick" not in text_of("plan_sheet", ready)


# All of them


@pytest.mark.parametrize("kind", kinds.WORKING)
def test_html_that_was_typed_is_text(ready, kind):
    bad = '<script>alert(1)</script>'
    ready.steps.update(title=bad)
    ready.parts.update(name=bad)
    ready.wire_runs.update(start=bad)
    RestoreKitFactory(build=ready, location=bad)
    assert bad not in render_html(kind, again(ready))


@pytest.mark.parametrize("kind", kinds.WORKING)
def test_it_costs_the_same_queries_however_many_rows(ready, kind):
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    def cost():
        with CaptureQueriesContext(connection) as seen:
            render_html(kind, again(ready))
        return len(seen)

    cost()  # what is read once for all is not counted
    few = cost()
    for number in range(5):
        ready.steps.create(section="teardown", order=9000 + number, code=f"X{number}", title="More")
        ready.wire_runs.create(code=f"X{number}", start="Here", end="There", role="power")
        ready.parts.create(find_number=100 + number, name="More")
    assert cost() == few


def test_facts_read_the_free_texts_once(ready, django_assert_num_queries):
    from builds.papers import working

    facts = Facts(again(ready))
    working.texts_read_once(facts)
    with django_assert_num_queries(0):
        working.texts_read_once(facts)


@pytest.mark.parametrize("size", ["letter", "a4"])
def test_no_label_is_cut_by_a_page(ready, size):
    from builds.papers.render import render_pdf

    pages = pages_of(render_pdf(render_html("wire_labels", again(ready), size), ready))
    for run in ready.wire_runs.all():
        holding = [text for text in pages if f"{run.label_start} at" in text or f"{run.label_start}at" in text]
        assert len(holding) == 1, run.code
        assert run.label_end in holding[0]


def tags_of(pdf):
    """(tag, alternative text) of the structure tree, in reading order."""
    from io import BytesIO

    from pypdf import PdfReader

    found, todo = [], [PdfReader(BytesIO(pdf)).trailer["/Root"]["/StructTreeRoot"]]
    while todo:
        node = todo.pop()
        node = node.get_object() if hasattr(node, "get_object") else node
        if isinstance(node, list):
            todo += reversed(node)
        elif hasattr(node, "get"):
            found += [(node["/S"], node.get("/Alt"))] if "/S" in node else []
            todo += [node["/K"]] if "/K" in node else []
    return found


@pytest.mark.parametrize("kind", [*kinds.WORKSHOP])
def test_headings_tables_and_pictures_are_tagged_for_those_who_cannot_see(ready, kind):
    from builds.papers.render import render_pdf

    tags = tags_of(render_pdf(render_html(kind, again(ready)), ready))
    names = [name for name, _ in tags]
    assert names.count("/H1") == 1
    assert "/H2" in names
    assert kind == "restore_sheet" or {"/Table", "/TH", "/TD", "/Caption"} <= set(names)
    assert all(alternative for name, alternative in tags if name == "/Figure")
    if kind == "as_built":
        assert any("Wiring: power" in str(alternative) for _, alternative in tags)
