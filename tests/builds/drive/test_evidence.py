"""What First ride asks of the drive, and what voids it."""

import pytest
from django.db import connection
from django.db.models import prefetch_related_objects
from django.test.utils import CaptureQueriesContext

from builds.demo.factories.clients import ClearanceFactory, make_assessed_client
from builds.demo.factories.drive import make_accepted_calibration, make_calibration, make_timed_runs
from builds.demo.factories.proving import make_proving_run, prove_drive
from builds.drive import evidence
from builds.drive.findings import drive
from builds.models import Build, Calibration, HoldDecision
from builds.record import registry, releasing, voids
from builds.record.holds import Hold
from builds.record.rules import configure
from tests.builds.wiring.making import fresh


@pytest.fixture
def build(build, coordinator):
    """The build, for a client of 16 kg who reaches 31 cm and is cleared up to 0.9 m/s."""
    client = make_assessed_client(coordinator)
    ClearanceFactory(client=client, made_by=coordinator)
    Build.objects.filter(pk=build.pk).update(client=client)
    build = fresh(build)
    configure(build, coordinator, "As the client sits", supports=["pelvis", "trunk"])
    return build


@pytest.fixture
def tuned(build, builder):
    build.hold_points = [Hold.FIRST_RIDE]
    build.save(update_fields=["hold_points"])
    make_accepted_calibration(build, builder)
    make_timed_runs(build, builder)
    prove_drive(build, builder)
    return fresh(build)


@pytest.fixture
def released(monkeypatch, tuned, builder, reviewer):
    """First ride as its only hold point, asked by the record and the drive alone."""
    rooms = {name: room for name, room in registry._rooms.items() if name in ("record", "drive")}
    monkeypatch.setattr(registry, "_rooms", rooms)
    make_proving_run(fresh(tuned), builder)  # the other one stood on the wiring too
    return releasing.release(fresh(tuned), Hold.FIRST_RIDE, reviewer)


def unmet(build):
    return {one.text: (one.met, one.why) for one in evidence.report(fresh(build)).conditions if one.met is not True}


def of_unmet(build, words):
    return next(said for text, said in unmet(build).items() if words in text)


def test_nothing_is_met_by_a_build_without_readings(coordinator, builder, lab):
    from tests.builds.wiring.making import make_planned_build

    bare = make_planned_build(coordinator, builder)
    assert len(unmet(bare)) == 12


def test_a_tuned_build_meets_every_clause(tuned):
    assert unmet(tuned) == {}
    assert len(evidence.report(tuned).conditions) == 12


def test_a_press_switch_needs_no_calibration(coordinator, builder, lab):
    from builds.demo.factories.parts import make_one_motor_unit
    from tests.builds.wiring.making import make_planned_build

    build = make_planned_build(coordinator, builder, plan="press-switch", unit=make_one_motor_unit())
    assert not [text for text in unmet(build) if "calibration" in text or "axes" in text]


def test_a_toy_asks_nothing_of_the_drive(coordinator, builder, lab):
    from builds.demo.factories.parts import make_toy_unit
    from tests.builds.wiring.making import make_planned_build

    build = make_planned_build(coordinator, builder, plan="switch-socket", unit=make_toy_unit())
    report = evidence.report(build)
    assert (report.conditions, report.findings) == ([], [])


def test_a_calibration_of_the_other_side_does_not_count(tuned, coordinator):
    configure(tuned, coordinator, "Arm moved", side="right", shoulder_place=None, control_place=None)
    assert of_unmet(tuned, "accepted for the side in use")[0] is False
    assert of_unmet(tuned, "exactly 0")[0] is None


def test_a_struck_calibration_does_not_count(tuned, builder):
    tuned.calibrations.get().strike(builder, "Stick was held")
    assert of_unmet(tuned, "accepted for the side in use")[0] is False


def test_a_fit_that_does_not_rest_is_not_neutral(tuned):
    Calibration.objects.update(y_rest=700)
    assert of_unmet(tuned, "exactly 0") == (False, "The calibration in use does not.")


@pytest.mark.parametrize(
    ("settings", "words", "met"),
    [
        ({"ceiling_m_s": None}, "The speed ceiling and the position", None),
        ({"ceiling_position": ""}, "The speed ceiling and the position", None),
        ({"disconnect": ""}, "battery disconnect", None),
        ({"control_place": None}, "reaches the control", None),
        ({"control_place": [0.6, 0.15, 0.5]}, "reaches the control", False),
        ({"side": "unknown"}, "reaches the control", None),
        ({"ceiling_m_s": 0.95}, "no faster than the clearance", False),
    ],
)
def test_settings_that_are_unknown_or_beyond_a_limit(tuned, coordinator, settings, words, met):
    configure(tuned, coordinator, "Trying", **settings)
    assert of_unmet(tuned, words)[0] is met


@pytest.mark.parametrize(
    ("times", "met"),
    [([4.6], True), ([4.6, 4.2], False), ([3.0], False)],  # 0.65, 0.71 and 1.0 m/s against a ceiling of 0.7 m/s
)
def test_the_fastest_run_against_the_ceiling(build, builder, times, met):
    make_timed_runs(build, builder, times_s=times)
    found = next(one for one in evidence.report(fresh(build)).conditions if "fastest timed run" in one.text)
    assert found.met is met


@pytest.mark.parametrize(("ballast", "met"), [(16.0, True), (15.9, False), (None, None)])
def test_the_ballast_is_at_least_the_clients_mass(build, builder, ballast, met):
    make_timed_runs(build, builder, ballast_kg=ballast)
    found = next(one for one in evidence.report(fresh(build)).conditions if "ballast" in one.text)
    assert found.met is met


def test_an_unknown_clearance_speed_stays_unknown(tuned):
    tuned.client.clearances.update(greatest_speed_m_s=None)
    assert of_unmet(tuned, "no faster than the clearance")[0] is None


def test_the_reach_in_use_as_computed_by_hand(tuned):
    # Distance from (0.26, 0.13, 0.62) to (0.42, 0.15, 0.50): sqrt(0.16² + 0.02² + 0.12²) = 0.2010 m of 0.31 m.
    side, findings = drive(tuned).reaches[0]
    assert side == "left"
    assert findings[0].value == pytest.approx(0.2010 / 0.31, abs=1e-3)


def test_an_arm_that_swaps_needs_the_reach_of_both_sides(tuned, coordinator):
    configure(tuned, coordinator, "Both sides", arm="swaps")
    assert [side for side, _ in drive(fresh(tuned)).reaches] == ["left", "right"]
    assert not [text for text in unmet(tuned) if "reaches" in text]
    tuned.client.measures.filter(kind="reach", side="right").delete()
    assert of_unmet(tuned, "reaches the control") == (None, "Unknown, occupant's right: reach.")


def test_a_mirror_about_a_middle_that_is_not_known_is_not_made(tuned, coordinator):
    configure(tuned, coordinator, "Both sides", arm="swaps", rider_place=None)
    assert "place of the shoulder" in of_unmet(tuned, "reaches the control")[1]


def test_the_evidence_has_exactly_the_fields_of_the_table(tuned):
    known = voids.known_fields()
    found = evidence.report(tuned).evidence
    kinds = {"calibration", "timed-runs", "drive-settings", "stop-measurement", "proving-run"}
    assert {one.kind for one in found} == kinds
    assert all(set(one.fields) == known[one.kind] for one in found)


def test_the_workers_are_those_who_read_and_timed(tuned, builder):
    assert evidence.report(tuned).workers == {builder.pk}


def test_the_report_asks_the_database_once_for_each_of_its_tables(tuned, builder):
    build = fresh(tuned)
    of_client = ("client__measures", "client__clearances", "client__places")
    prefetch_related_objects([build], "configurations__battery", *of_client)
    assert build.plan_revision.plan.equipment == "ride_on"
    with CaptureQueriesContext(connection) as asked:
        prefetch_related_objects([build], *evidence.TICKET_PREFETCH)
        evidence.report(build)
    own = [one["sql"] for one in asked if "labsite_lab" not in one["sql"]]
    assert len(own) == len(evidence.TICKET_PREFETCH)


def void_lines(decision):
    return HoldDecision.objects.get(pk=decision.pk).void_changes


def test_a_new_calibration_voids_first_ride(released, tuned, builder):
    made = make_calibration(tuned, builder, x_rest=520.0)
    assert void_lines(released) == []
    rules_accept(made, builder)
    lines = void_lines(released)
    assert any(line.startswith("Calibration of the stick: fit was sideways: rest 508") for line in lines), lines


def rules_accept(calibration, account):
    from builds.drive.rules import accept_calibration

    accept_calibration(calibration, account)


def test_a_faster_run_voids_first_ride_and_a_slower_one_does_not(released, tuned, builder):
    make_timed_runs(tuned, builder, times_s=[5.0, 5.1])
    assert void_lines(released) == []
    make_timed_runs(tuned, builder, times_s=[4.4])
    assert "Timed runs at the ceiling in use: speed was 0.6667 m/s, now 0.6818 m/s" in void_lines(released)


@pytest.mark.parametrize("rows", ["calibrations", "timed_runs"])
def test_a_struck_entry_voids_first_ride(released, tuned, builder, rows):
    getattr(tuned, rows).first().strike(builder, "Taken wrongly")
    assert any("was taken away" in line for line in void_lines(released))


def test_a_swapped_side_voids_first_ride(released, tuned, coordinator):
    configure(tuned, coordinator, "Arm moved", side="right", shoulder_place=None, control_place=None)
    assert "Configuration: side was Occupant's left, now Occupant's right" in void_lines(released)


def test_a_run_timed_close_to_the_clearance_is_not_beyond_it(tuned, coordinator):
    """A finding that asks for a look holds nothing: the fastest run, 3 m in 4.5 s, is within 5 % of 0.7 m/s."""
    tuned.client.clearances.update(greatest_speed_m_s=0.7)
    found = drive(fresh(tuned))
    assert [one.verdict for one in found.ceiling[:3]] == ["check", "fits", "fits"]
    assert evidence.within(found)[1] is True
