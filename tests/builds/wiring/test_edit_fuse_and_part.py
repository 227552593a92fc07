"""Fuses and switching parts: what is refused, what is a deviation, and what stays unknown."""

import pytest

from tests.builds.wiring.making import typed


def sent(page, address, row, **changes):
    form = page.get(address, row.pk).context["form"]
    return page.post(address, row.pk, data={**typed(form), **changes})


@pytest.mark.parametrize(
    ("changes", "field", "told"),
    [
        ({"rating_a": "0"}, "rating_a", "0.1 A or more"),
        ({"rating_a": "1e6 A"}, "rating_a", "1000 A or less"),
        ({"rating_a": "20 V"}, "rating_a", "must be a current"),
        ({"distance_m": "-2"}, "distance_m", "0 cm or more"),
        ({"distance_m": "1 km"}, "distance_m", "or less"),
        ({"distance_m": "7 kg"}, "distance_m", "must be a length"),
        ({"sheathed": "perhaps"}, "sheathed", "Choose"),
        ({"code": ""}, "code", "Enter"),
        ({"code": "F2"}, "code", "in use on this build"),
        ({"deviation_reason": "x" * 100_000}, "deviation_reason", "300 characters or fewer"),
        ({"rating_a": "15 A"}, "deviation_reason", "Rating: 20 A in the plan, 15 A now"),
    ],
)
def test_a_fuse_that_cannot_be_is_refused_in_words(page, build, changes, field, told):
    fuse = build.fuses.get(code="F1")
    answer = sent(page, "wire_fuse_edit", fuse, **changes)
    assert answer.status_code == 422
    assert told in " ".join(answer.context["form"].errors[field])
    fuse.refresh_from_db()
    assert fuse.rating_a == 20


@pytest.mark.parametrize(
    ("changes", "field", "told"),
    [
        ({"rating_dc_a": "-1"}, "rating_dc_a", "or more"),
        ({"rating_dc_a": "thirty"}, "rating_dc_a", "must be a current"),
        ({"stall_a": "inf"}, "stall_a", "must be a current"),
        ({"kind": "rope"}, "kind", "Choose"),
        ({"runs": ["999999"]}, "runs", "Choose"),
        ({"name": ""}, "name", "Enter"),
        ({"name": "x" * 100_000}, "name", "160 characters or fewer"),
        ({"rating_dc_a": "30 A"}, "deviation_reason", "Rating in direct current: 100 A in the plan, 30 A now"),
        ({"motor_circuit": "no"}, "deviation_reason", "Carries motor current: Yes in the plan, No now"),
    ],
)
def test_a_part_that_cannot_be_is_refused_in_words(page, build, changes, field, told):
    part = build.switching_parts.get(code="S1")
    answer = sent(page, "switching_part_edit", part, **changes)
    assert answer.status_code == 422
    assert told in " ".join(answer.context["form"].errors[field])
    part.refresh_from_db()
    assert part.rating_dc_a == 100


def test_measuring_where_the_fuse_sits_is_no_deviation(page, build):
    fuse = build.fuses.get(code="F1")
    assert sent(page, "wire_fuse_edit", fuse, distance_m="5 in", sheathed="no").status_code == 302
    fuse.refresh_from_db()
    assert (round(fuse.distance_m, 4), fuse.sheathed) == (0.127, "no")


def test_a_run_of_another_build_is_not_reached(page, build, coordinator):
    from tests.builds.wiring.making import make_planned_build

    other = make_planned_build(coordinator).wire_runs.first()
    assert page.get("wire_run_edit", other.pk).status_code == 404
    assert page.post("wire_run_strike", other.pk, data={"reason": "Mine"}).status_code == 404


def test_a_closed_build_is_not_changed(page, build):
    build.standing, build.standing_reason = "on_hold", "Waits for a motor"
    build.save(update_fields=["standing", "standing_reason"])
    run = build.wire_runs.first()
    assert page.get("harness").status_code == 200
    assert page.post("wire_run_strike", run.pk, data={"reason": "Out"}).status_code == 403
