"""What parts offers to the hold points: conditions that never flatter, and evidence that voids."""

import pytest
from django.db.models import Prefetch

from builds.bench.progress import TICKET_PREFETCH as BENCH_PREFETCH
from builds.demo.factories.papers import configure_fully, make_build_for
from builds.demo.factories.parts import (
    BatteryFactory,
    BuildPartFactory,
    ChargerFactory,
    RestoreItemFactory,
    RestoreKitFactory,
    TwoMotorTypeFactory,
    place_parts,
)
from builds.parts.evidence import TICKET_PREFETCH, report
from builds.parts.models import BaseUnit, BaseUnitType
from builds.record import rules, voiding, voids
from builds.record.holds import Hold
from builds.record.models import Build, Configuration, HoldDecision
from clients.models import Client, Measure, Place
from labsite.models import Lab

pytestmark = pytest.mark.django_db

RECALL = "The recall was looked up, and none is open"
RATED = "The rated load of the unit is known"
KNOWN = "Battery and charger are known"
CHEMISTRY = "Battery, charger and plan are of one chemistry"
VOLTAGE = "Unit, battery and charger are of one voltage"
LOAD = "Client and added parts together are no heavier than the rated load"
BALANCE = "Balance: it does not tip on the client's slopes"
OTHER_SIDE = "Balance, arm on the other side: it does not tip on the client's slopes"
KIT = "The restore kit is complete, and where it lies is known"


def fresh(build):
    return Build.objects.get(pk=build.pk)


def met(build, text, hold=None):
    found = [one for one in report(fresh(build)).conditions if one.text == text and hold in (None, one.hold)]
    assert len(found) == 1, text
    return found[0].met


def why(build, text):
    return next(one.why for one in report(fresh(build)).conditions if one.text == text)


@pytest.fixture
def whole(configured):
    """Everything known: parts weighed and placed, battery, charger, rider's place."""
    place_parts(configured)
    return configured


def test_every_field_of_the_evidence_has_its_row_in_the_table_of_voids(whole):
    RestoreKitFactory(build=whole)
    known = voids.known_fields()
    found = report(fresh(whole)).evidence
    assert {item.kind for item in found} == {
        "unit", "unit-geometry", "part", "battery", "charger", "restore-kit", "carrying",
    }  # fmt: skip
    assert {item.kind: set(item.fields) for item in found} == {kind: known[kind] for kind in {i.kind for i in found}}
    assert len({item.key for item in found}) == len(found)


@pytest.mark.parametrize(
    ("recall", "expected"), [("unknown", None), ("none", True), ("recalled", False), ("remedied", True)]
)
def test_a_recall_not_looked_up_is_not_no_recall(build, recall, expected):
    BaseUnit.objects.update(recall=recall)
    assert met(build, RECALL) is expected


def test_an_unknown_rated_load_does_not_pass(build):
    assert met(build, RATED) is True
    BaseUnitType.objects.update(rated_load_kg=None)
    assert met(build, RATED) is None
    assert met(build, LOAD) is None


def test_battery_and_charger_must_be_named_and_known(build, coordinator):
    assert met(build, KNOWN) is None
    rules.configure(build, coordinator, "Battery chosen", battery=BatteryFactory())
    assert met(build, KNOWN) is None and "charger" in why(build, KNOWN)
    rules.configure(build, coordinator, "Charger chosen", charger=ChargerFactory(chemistry="unknown"))
    assert met(build, KNOWN) is None
    rules.configure(build, coordinator, "Charger changed", charger=ChargerFactory())
    assert met(build, KNOWN) is True


@pytest.mark.parametrize(
    ("battery", "charger", "expected"),
    [
        ("lead_acid", "lead_acid", True),
        ("lead_acid", "li_ion", False),
        ("li_ion", "li_ion", False),  # not what the plan allows
        ("unknown", "lead_acid", None),
        ("lead_acid", "unknown", None),
        ("primary", "lead_acid", False),
    ],
)
def test_chemistry_is_one_or_the_power_stays_off(build, coordinator, battery, charger, expected):
    configure_fully(
        build, coordinator, battery=BatteryFactory(chemistry=battery), charger=ChargerFactory(chemistry=charger)
    )
    assert met(build, CHEMISTRY) is expected


def test_single_use_cells_need_no_charger(lab, coordinator):
    toy = make_build_for("switch-socket", coordinator=coordinator)
    assert met(toy, KNOWN) is None
    cells = BatteryFactory(chemistry="primary", voltage_v=3.0)
    rules.configure(toy, coordinator, "Cells chosen", battery=cells)
    assert met(toy, KNOWN) is True and met(toy, CHEMISTRY) is True and met(toy, VOLTAGE) is True
    rules.configure(toy, coordinator, "Charger added", charger=ChargerFactory(chemistry="nimh"))
    assert met(toy, CHEMISTRY) is False


@pytest.mark.parametrize(
    ("battery", "charger", "expected"), [(12, 12, True), (18, 12, False), (12, 24, False), (12, None, None)]
)
def test_volts_agree_or_the_power_stays_off(build, coordinator, battery, charger, expected):
    configure_fully(
        build, coordinator, battery=BatteryFactory(voltage_v=battery), charger=ChargerFactory(voltage_v=charger)
    )
    assert met(build, VOLTAGE) is expected


def test_the_load_is_the_rider_and_what_was_added(whole):
    # 16 kg of rider; the parts that stay on: 0.18 + 0.15 + 2 x 0.09 + 0.65 + 0.16 + 0.08 + 0.7 + 0.03, and 0.2 weighed
    made = report(fresh(whole))
    assert made.section["margin_kg"] == pytest.approx(29.5 - 16 - 2.33)
    assert met(whole, LOAD) is True


def test_a_rider_too_heavy_stops(whole):
    Measure.objects.filter(kind="mass").update(value_si=27.5)
    assert met(whole, LOAD) is False
    assert "limit 29.5" in why(whole, LOAD)


def test_one_part_of_unknown_mass_leaves_the_load_unknown(whole):
    part = whole.parts.get(find_number=9)
    part.mass_kg = None
    part.save(update_fields=["mass_kg"])
    assert met(whole, LOAD) is None
    assert "mass of Seat support with pelvic belt" in why(whole, LOAD)
    part.strike(whole.made_by, "Not fitted")
    assert met(whole, LOAD) is True


def test_a_part_used_up_weighs_nothing_on_the_unit(whole):
    part = whole.parts.get(find_number=10)
    part.mass_kg, part.place = 50, None
    part.save(update_fields=["mass_kg", "place"])
    assert met(whole, LOAD) is True and met(whole, BALANCE) is True


def test_balance_needs_every_place(whole):
    assert met(whole, BALANCE) is True
    part = whole.parts.get(find_number=4)
    part.place = None
    part.save(update_fields=["place"])
    assert met(whole, BALANCE) is None
    assert "place of Arm of ball-and-socket segments" in why(whole, BALANCE)


def test_balance_needs_the_slopes_of_the_places(whole):
    Place.objects.update(slope_deg=None)
    assert met(whole, BALANCE) is None
    Place.objects.update(slope_deg=25)
    assert met(whole, BALANCE) is False


def test_balance_needs_the_place_of_the_rider(build, coordinator):
    configure_fully(build, coordinator)
    place_parts(build)
    assert met(build, BALANCE) is None and "place of rider" in why(build, BALANCE)


def test_a_heavy_part_far_out_tips(whole):
    BuildPartFactory(build=whole, mass_kg=9, place=[0.3, 0.9, 0.6])
    assert met(whole, BALANCE) is False
    assert "left" in why(whole, BALANCE)


def test_a_lab_that_asks_for_more_than_the_common_tip_angle_is_heard(whole, lab):
    assert met(whole, BALANCE) is True
    lab.least_tip_deg = 44
    lab.save(update_fields=["least_tip_deg"])
    assert met(whole, BALANCE) is False
    assert "limit 44" in why(whole, BALANCE)


def test_a_lab_that_asks_for_more_over_the_slope_is_heard(whole, lab):
    assert met(whole, BALANCE) is True
    lab.least_over_slope_deg = 44
    lab.save(update_fields=["least_over_slope_deg"])
    assert met(whole, BALANCE) is False
    tips = [finding for heading, finding in report(fresh(whole)).findings if heading == "Balance"]
    assert all("tightened from 10 \u00b0 by the lab" in finding.source for finding in tips)


def test_a_part_taken_off_counts_against(whole):
    before = {f.name: f.value for heading, f in report(fresh(whole)).findings if heading == "Balance"}
    BuildPartFactory(build=whole, name="Side motor housing", mass_kg=3, place=[0.3, 0.2, 0.2], removed=True)
    after = {f.name: f.value for heading, f in report(fresh(whole)).findings if heading == "Balance"}
    left = "tips to the occupant's left"
    assert after[left] > before[left]
    assert report(fresh(whole)).section["margin_kg"] == pytest.approx(11.17)


def test_where_the_arm_swaps_both_sides_are_computed(whole, coordinator):
    assert OTHER_SIDE not in [one.text for one in report(fresh(whole)).conditions]
    arm = whole.parts.get(find_number=4)
    arm.mass_kg, arm.place = 2, [0.4, 0.2, 0.5]
    arm.save(update_fields=["mass_kg", "place"])
    rules.configure(fresh(whole), coordinator, "The arm swaps", arm="swaps")
    tips = {(heading, f.name): f.value for heading, f in report(fresh(whole)).findings}
    left, right = "tips to the occupant's left", "tips to the occupant's right"
    here, there = "Balance", "Balance, arm on the other side"
    assert tips[here, left] < tips[there, left] and tips[here, right] > tips[there, right]
    assert met(whole, OTHER_SIDE) is True


def test_an_arm_that_swaps_without_a_part_that_moves_is_unknown(whole, coordinator):
    whole.parts.update(in_arm=False)
    rules.configure(fresh(whole), coordinator, "The arm swaps", arm="swaps")
    assert met(whole, OTHER_SIDE) is None and "which parts move" in why(whole, OTHER_SIDE)


@pytest.mark.parametrize(
    ("facts", "expected"),
    [
        (None, None),
        ({"complete": "unknown"}, None),
        ({"complete": "no", "missing": "Pedal"}, False),
        ({"complete": "yes", "location": ""}, None),
        ({"complete": "yes"}, True),
    ],
)
def test_the_kit_must_be_complete_and_found(build, facts, expected):
    if facts is not None:
        RestoreKitFactory(build=build, **facts)
    assert met(build, KIT, Hold.HAND_OFF) is expected


def test_a_toy_is_asked_for_no_load_and_no_balance(lab, coordinator):
    toy = make_build_for("switch-socket", coordinator=coordinator)
    made = report(fresh(toy))
    assert {one.hold for one in made.conditions} == set(toy.holds())
    assert LOAD not in [one.text for one in made.conditions]
    assert {heading for heading, _ in made.findings} == {"Battery and charger"}


def test_those_who_filled_the_kit_or_departed_from_the_plan_did_work(whole, builder, coordinator):
    assert report(fresh(whole)).workers == set()
    RestoreItemFactory(build=whole, made_by=builder)
    BuildPartFactory(build=whole, deviation_by=coordinator)
    assert report(fresh(whole)).workers == {builder.pk, coordinator.pk}


def test_the_report_reads_a_prefetched_build_without_a_query(whole, django_assert_num_queries):
    RestoreKitFactory(build=whole)
    configurations = Configuration.objects.select_related("battery", "charger")
    build = (
        Build.objects.select_related("unit__type", "plan_revision__plan")
        .prefetch_related(
            *TICKET_PREFETCH,
            *BENCH_PREFETCH,
            Prefetch("configurations", configurations),
            Prefetch("client", Client.objects.with_needs()),
        )
        .get(pk=whole.pk)
    )
    with Lab.current().serves_this_request(), django_assert_num_queries(0):
        assert len(report(build).evidence) > 10


def released(build, hold, account):
    """A release as of now, whatever its conditions: only its evidence matters here."""
    evidence = voiding.all_evidence(build)
    kept = voiding.snapshot(hold, voiding.hold_evidence(build, hold, evidence, []))
    return HoldDecision.objects.create(
        build=build, hold=hold, verdict="released", evidence=kept, digest=voiding.digest(kept), made_by=account
    )


def recall(build):
    unit = BaseUnit.objects.get(pk=build.unit_id)
    unit.recall = "recalled"
    unit.save(update_fields=["recall"])


def lighter_rating(build):
    kind = TwoMotorTypeFactory._meta.model.objects.get(pk=build.unit.type_id)
    kind.rated_load_kg = 20
    kind.save(update_fields=["rated_load_kg"])


def wider_track(build):
    kind = BaseUnitType.objects.get(pk=build.unit.type_id)
    kind.track_m = 0.5
    kind.save(update_fields=["track_m"])


def heavier_part(build):
    part = build.parts.get(find_number=4)
    part.mass_kg = 1.5
    part.save(update_fields=["mass_kg"])


def moved_part(build):
    part = build.parts.get(find_number=4)
    part.place = [0.1, 0.1, 0.1]
    part.save(update_fields=["place"])


def added_part(build):
    BuildPartFactory(build=build)


def struck_part(build):
    build.parts.get(find_number=4).strike(build.made_by, "Not fitted")


def other_chemistry(build):
    battery = fresh(build).configuration().battery
    battery.chemistry = "li_ion"
    battery.save(update_fields=["chemistry"])


def other_charger_current(build):
    charger = fresh(build).configuration().charger
    charger.current_a = 3
    charger.save(update_fields=["current_a"])


def kit_not_complete(build):
    kit = build.restore_kit
    kit.complete, kit.missing = "no", "Pedal"
    kit.save(update_fields=["complete", "missing"])


@pytest.mark.parametrize(
    ("change", "hold", "says"),
    [
        (recall, Hold.SOUND_UNIT, "recall was Looked up, no recall found, now Recalled"),
        (lighter_rating, Hold.SOUND_UNIT, "rated load was 29.5 kg, now 20 kg"),
        (wider_track, Hold.FIRST_RIDE, "track was 0.44 m, now 0.5 m"),
        (heavier_part, Hold.FIRST_RIDE, "mass was 0.65 kg, now 1.5 kg"),
        (moved_part, Hold.FIRST_RIDE, "place was"),
        (added_part, Hold.FIRST_RIDE, "Side plate for the arm was added"),
        (struck_part, Hold.FIRST_RIDE, "was taken away"),
        (other_chemistry, Hold.FIRST_POWER, "now BAT-"),
        (other_charger_current, Hold.FIRST_POWER, "current was 1.5 A, now 3 A"),
        (kit_not_complete, Hold.HAND_OFF, "complete was Yes, now No"),
    ],
    ids=lambda value: getattr(value, "__name__", None),
)
def test_a_change_of_evidence_voids_by_itself(whole, reviewer, change, hold, says):
    RestoreKitFactory(build=whole)
    decision = released(fresh(whole), hold, reviewer)
    change(fresh(whole))
    decision.refresh_from_db()
    assert decision.voided_at is not None
    assert any(says in line for line in decision.void_changes), decision.void_changes


def test_what_is_no_evidence_voids_nothing(whole, reviewer):
    decision = released(fresh(whole), Hold.FIRST_RIDE, reviewer)
    part = whole.parts.get(find_number=4)
    part.unit_cost, part.lot = 99, "2026-04"
    part.save(update_fields=["unit_cost", "lot"])
    decision.refresh_from_db()
    assert decision.voided_at is None
