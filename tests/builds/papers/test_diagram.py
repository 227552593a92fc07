"""The wiring diagram: every run on a line of its own, on the page, and the same in words."""

import pytest

from builds.demo.factories.papers import PRESS, SOCKET, STICK, make_build_for
from builds.papers import diagram
from builds.papers.render import render_html
from tests.builds.papers.conftest import again
from tests.factory import make_lab


@pytest.fixture(params=[STICK, PRESS, SOCKET])
def build(db, request):
    make_lab()
    return make_build_for(request.param)


def test_every_run_is_drawn_once_and_told_once(build):
    drawn = diagram.of_build(build)
    codes = [wire.words.split(" · ")[0] for one in drawn for wire in one.wires]
    assert sorted(codes) == sorted(run.code for run in build.wire_runs.all())
    told = [line.split(":")[0] for one in drawn for line in one.words]
    assert told == codes


def test_gauge_colour_and_fuse_with_its_rating_stand_on_the_line(build):
    words = {wire.words.split(" · ")[0]: wire.words for one in diagram.of_build(build) for wire in one.wires}
    for run in build.wire_runs.all():
        assert run.gauge in words[run.code]
        assert run.colour in words[run.code]
        assert f"{run.fuse.code} {run.fuse.rating_a:g} A" in words[run.code]


def test_no_words_cover_other_words_or_leave_the_picture(build):
    for one in diagram.of_build(build):
        heights = [wire.y for wire in one.wires]
        assert all(below - above >= diagram.ROW for above, below in zip(heights, heights[1:], strict=False))
        assert all(0 <= wire.words_left and wire.words_left + wire.words_width <= one.width for wire in one.wires)
        assert max(heights) < one.height
        places = [post.x for post in one.posts]
        assert all(right - left >= 100 for left, right in zip(places, places[1:], strict=False))


def test_a_run_ends_on_the_posts_of_its_two_parts(build):
    runs = {run.code: run for run in build.wire_runs.all()}
    for one in diagram.of_build(build):
        at = {post.name: post.x for post in one.posts}
        for wire in one.wires:
            run = runs[wire.words.split(" · ")[0]]
            assert wire.from_x == at[diagram.part_of(run.start)[0]]
            assert wire.to_x == at[diagram.part_of(run.end)[0]]


@pytest.mark.parametrize(
    ("place", "part", "terminal"),
    [
        ("Battery positive post", "Battery", "positive post"),
        ("Battery negative post", "Battery", "negative post"),
        ("Battery disconnect, drive side", "Battery disconnect", "drive side"),
        ("Controller board supply plus", "Controller board", "supply plus"),
        ("Controller board, stick supply", "Controller board", "stick supply"),
        ("Motor on the occupant's left, plus", "Motor on the occupant's left", "plus"),
        ("Relay coil minus", "Relay", "coil minus"),
        ("Main fuse F1", "Main fuse F1", ""),
        ("Plus", "Plus", ""),
    ],
)
def test_a_place_is_read_as_part_and_terminal(place, part, terminal):
    assert diagram.part_of(place) == (part, terminal)


@pytest.mark.parametrize(
    ("part", "sign"),
    [
        ("Battery", "battery"),
        ("Battery disconnect", "switch"),
        ("Main fuse F1", "fuse"),
        ("Motor on the occupant's left", "motor"),
        ("Left motor controller", "square"),
        ("Motor controllers", "square"),
        ("Relay", "switch"),
        ("Thing", "square"),
    ],
)
def test_each_part_gets_its_sign(part, sign):
    assert diagram.sign_of(part) == sign


def test_a_large_harness_goes_on_in_further_pictures(build):
    for number in range(60):
        build.wire_runs.create(
            code=f"X{number}", order=9000 + number, start=f"Box {number}", end=f"Lamp {number}", role="power"
        )
    drawn = diagram.of_build(again(build))
    assert sum(len(one.wires) for one in drawn) == build.wire_runs.count()
    assert all(len(one.wires) <= diagram.MOST_RUNS and len(one.posts) <= diagram.MOST_POSTS for one in drawn)


def test_what_is_unknown_says_so(build):
    run = build.wire_runs.first()
    run.gauge, run.fuse, run.length_m = "", None, None
    run.save(update_fields=["gauge", "fuse", "length_m"])
    drawn = diagram.of_build(again(build))[0]
    assert "unknown" in drawn.wires[0].words
    assert "no fuse" in drawn.wires[0].words
    assert drawn.words[0].endswith("unknown; no fuse.") or "unknown; no fuse" in drawn.words[0]


def test_a_struck_run_is_not_drawn(build, coordinator):
    run = build.wire_runs.first()
    run.strike(coordinator, "Not needed")
    codes = [wire.words.split(" · ")[0] for one in diagram.of_build(again(build)) for wire in one.wires]
    assert run.code not in codes


def test_the_picture_has_a_title_and_the_same_in_words_beside_it(build):
    html = render_html("as_built", again(build))
    assert 'role="img"' in html
    assert "the same as in the list below" in html
    run = build.wire_runs.first()
    assert f"{run.code}: from {run.start} to {run.end};" in html.replace("&#x27;", "'")


def test_names_that_people_wrote_are_text(build):
    run = build.wire_runs.first()
    run.start = "<script>x</script>"
    run.save(update_fields=["start"])
    assert "<script>x" not in render_html("as_built", again(build))
