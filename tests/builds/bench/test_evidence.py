import uuid

import pytest
from django.db import connection
from django.db.models import prefetch_related_objects
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from builds.bench.deviations import add_step, change_step, strike_step
from builds.bench.evidence import proved_ballast_kg, report
from builds.bench.models import Section
from builds.bench.progress import TICKET_PREFETCH
from builds.bench.rules import record_result, strike_result
from builds.demo.factories.bench import BuildStepFactory, drawn_photo, pass_sections
from builds.models import Build
from builds.record import releasing, rules, voids
from builds.record.client_evidence import proved_ballast_kg as asked_by_the_record
from builds.record.holds import Hold, Stage
from tests.builds.bench.making import battery_step, let_stand, make_bench_build


def condition(build, text):
    (found,) = [one for one in report(build).conditions if text in one.text]
    return found


@pytest.fixture
def tested(build, builder):
    """A build whose incoming test is passed: photos, battery, and a run."""
    BuildStepFactory(build=build, tests="photos", title="Photos all round", needs_photo=True)
    battery_step(build)
    BuildStepFactory(build=build)
    pass_sections(build, builder, Section.INCOMING_TEST)
    return build


def test_every_field_of_the_evidence_has_a_row_in_the_table(build):
    for section in Section:
        battery_step(build, section=section, code=section)
    known = voids.known_fields()
    for one in report(build).evidence:
        assert set(one.fields) == {"outcome", "reading", "step", "limits", "note"} == known[one.kind]


def test_each_section_gives_its_own_kind_of_evidence(build):
    for section in Section:
        BuildStepFactory(build=build, section=section)
    kinds = [one.kind for one in report(build).evidence]
    assert kinds == ["incoming-step", "adaptation-step", "adaptation-step", "commissioning-step", "fitting-step"]


def test_the_evidence_says_outcome_reading_and_limits_and_unknown_before(build, builder):
    step = battery_step(build)
    assert report(build).evidence[0].fields["outcome"] is None
    assert report(build).evidence[0].fields["reading"] is None
    record_result(step, builder, outcome="passed", reading_typed="12.6")
    fields = report(build).evidence[0].fields
    assert (fields["outcome"], fields["reading"], fields["limits"]) == ("Passed", "12.6 V", "12.4 V or more")


def test_sound_unit_is_released_on_a_passed_incoming_test_and_void_when_a_result_is_struck(tested, builder, reviewer):
    decision = releasing.release(tested, Hold.SOUND_UNIT, reviewer)
    battery = tested.steps.get(tests="battery")
    strike_result(battery.results.get(), builder, "Read from another unit")
    decision.refresh_from_db()
    assert decision.voided_at is not None
    label = f"Incoming test step {battery}"
    assert f"{label}: outcome was Passed, now unknown" in decision.void_changes
    assert any(line.startswith(f"{label}: reading was ") for line in decision.void_changes)


def test_a_void_release_stays_void_when_the_step_is_passed_again(tested, builder, reviewer):
    decision = releasing.release(tested, Hold.SOUND_UNIT, reviewer)
    battery = tested.steps.get(tests="battery")
    strike_result(battery.results.get(), builder, "Smudged")
    record_result(battery, builder, outcome="passed", reading_typed="12.4")
    decision.refresh_from_db()
    assert decision.voided_at is not None
    assert releasing.standing(tested, Hold.SOUND_UNIT) is None


@pytest.mark.parametrize(
    "happening",
    [
        lambda build, who: record_result(
            build.steps.get(tests="battery"), who, outcome="failed", reading_typed="11", note="Sags"
        ),
        lambda build, who: record_result(build.steps.get(tests="battery"), who, outcome="passed", reading_typed="13"),
        lambda build, who: change_step(build.steps.get(tests="battery"), who, {"limit_low": 12.0}, "New data sheet"),
        lambda build, who: add_step(build, who, Section.INCOMING_TEST, "The reviewer asked", title="Look at the seat"),
        lambda build, who: strike_step(build.steps.get(tests=""), who, "No such part"),
    ],
    ids=["failed", "other reading", "limit changed", "step added", "step struck"],
)
def test_whatever_changes_an_incoming_test_voids_sound_unit(tested, builder, reviewer, happening):
    decision = releasing.release(tested, Hold.SOUND_UNIT, reviewer)
    happening(tested, builder)
    decision.refresh_from_db()
    assert decision.voided_at is not None
    assert decision.void_changes


def test_the_same_reading_again_voids_nothing(tested, builder, reviewer):
    decision = releasing.release(tested, Hold.SOUND_UNIT, reviewer)
    record_result(tested.steps.get(tests="battery"), builder, outcome="passed", reading_typed="12400 mV")
    decision.refresh_from_db()
    assert decision.voided_at is None


@pytest.mark.parametrize(
    ("section", "hold"),
    [
        (Section.TEARDOWN, Hold.FIRST_POWER),
        (Section.ADAPTATION, Hold.FIRST_POWER),
        (Section.COMMISSIONING, Hold.FIRST_RIDE),
        (Section.FITTING, Hold.HAND_OFF),
    ],
)
def test_a_struck_result_voids_the_hold_point_after_its_section(opened_build, builder, reviewer, section, hold):
    step = BuildStepFactory(build=opened_build, section=section)
    before = opened_build.holds()[: opened_build.holds().index(hold)]
    let_stand(opened_build, reviewer, *before)
    result = record_result(step, builder, outcome="passed")
    let_stand(opened_build, reviewer, hold)
    strike_result(result, builder, "Wrong unit")
    voided = [one.hold for one in opened_build.hold_decisions.exclude(voided_at=None)]
    assert voided[:1] == [hold]
    assert not set(voided) & set(before)


def test_nobody_releases_over_own_work_or_over_what_they_struck(tested, builder, reviewer, coordinator):
    with pytest.raises(rules.Refused, match="You did work on this build"):
        releasing.release(tested, Hold.SOUND_UNIT, builder)
    result = tested.steps.get(tests="battery").results.get()
    strike_result(result, coordinator, "Smudged")
    assert report(tested).workers == {builder.pk, coordinator.pk}


def test_a_deviation_is_work_too(build, builder, coordinator):
    change_step(battery_step(build), builder, {"limit_low": 12.5}, "Data sheet")
    strike_step(BuildStepFactory(build=build), coordinator, "No such part")
    assert report(build).workers == {builder.pk, coordinator.pk}


def test_conditions_say_what_is_missing_and_lead_there(build, builder):
    first, second = battery_step(build, order=1, code="I1"), BuildStepFactory(build=build, order=2, code="I2")
    incoming = condition(build, "incoming test")
    assert (incoming.met, incoming.why) == (False, "2 of 2 are not done.")
    assert incoming.url == reverse("bench_section", args=[build.number, "incoming_test"]) + f"#step-{first.pk}"
    record_result(first, builder, outcome="failed", note="Sags")
    assert condition(build, "incoming test").why == "2 of 2 are not done. Failed: I1."
    record_result(first, builder, outcome="passed", reading_typed="12.6")
    record_result(second, builder, outcome="does_not_apply", note="It has no brake")
    incoming = condition(build, "incoming test")
    assert (incoming.met, incoming.why) == (True, "")
    assert incoming.agree == (f"{second}: does not apply. It has no brake",)


def test_what_departs_from_the_plan_is_agreed_to_one_by_one(build, builder):
    changed = battery_step(build, code="I1", planned={"code": "I1", "title": "Battery at rest"})
    struck = BuildStepFactory(build=build, code="I2", planned={"code": "I2", "title": "Horn"})
    BuildStepFactory(build=build, section=Section.FITTING, code="F1", planned={"code": "F1", "title": "Belt"})
    add_step(build, builder, Section.INCOMING_TEST, "It has a lamp", title="Lamp")
    assert condition(build, "incoming test").agree == ()
    change_step(changed, builder, {"limit_low": 12.0}, "Data sheet")
    strike_step(struck, builder, "It has no horn")
    assert condition(build, "incoming test").agree == (
        f"{changed}: changed from the plan. Data sheet",
        f"{struck}: struck from this build. It has no horn",
    )
    assert condition(build, "fitting step").agree == ()


def test_a_section_without_steps_is_unknown_not_passed(build):
    assert {one.met for one in report(build).conditions} == {None}


def test_photos_all_round_need_a_photo(build, builder):
    step = BuildStepFactory(build=build, tests="photos")
    assert condition(build, "Photos all round").met is False
    record_result(step, builder, outcome="passed")
    assert condition(build, "Photos all round").met is False
    record_result(step, builder, outcome="passed", photo_file=drawn_photo())
    assert condition(build, "Photos all round").met is True


def test_a_plan_without_first_ride_asks_for_its_tests_at_hand_off(coordinator, builder, lab):
    toy = make_bench_build(coordinator, builder, holds=["sound_unit", "first_power", "hand_off"])
    assert condition(toy, "commissioning").hold == Hold.HAND_OFF


@pytest.mark.parametrize(("unit", "typed", "kg"), [("kg", "18", 18), ("kg", "40 lb", 18.1436948), ("g", "18000", 18)])
def test_the_ballast_of_the_floor_run_is_known_to_the_record(opened_build, builder, reviewer, unit, typed, kg):
    # 40 lb = 18.1436948 kg (international pound, 1959)
    step = BuildStepFactory(
        build=opened_build, section=Section.COMMISSIONING, tests="ballast", reading_label="Ballast", reading_unit=unit
    )
    assert asked_by_the_record(opened_build) is None
    let_stand(opened_build, reviewer, Hold.SOUND_UNIT, Hold.FIRST_POWER)
    record_result(step, builder, outcome="passed", reading_typed=typed)
    known = proved_ballast_kg(opened_build)
    assert known == pytest.approx(kg)
    assert asked_by_the_record(opened_build) == known


def test_a_failed_floor_run_proves_no_ballast(opened_build, builder, reviewer):
    step = BuildStepFactory(
        build=opened_build, section=Section.COMMISSIONING, tests="ballast", reading_label="Ballast", reading_unit="kg"
    )
    let_stand(opened_build, reviewer, Hold.SOUND_UNIT, Hold.FIRST_POWER)
    record_result(step, builder, outcome="failed", reading_typed="18", note="Tipped")
    assert proved_ballast_kg(opened_build) is None


def test_what_the_ticket_shows(build, builder):
    done, following = BuildStepFactory(build=build, order=1), BuildStepFactory(build=build, order=2)
    record_result(done, builder, outcome="passed")
    section = report(build).section
    assert section["sections"]["incoming_test"] == {
        "done": 1, "total": 2, "failed": 0, "next": following, "blocked": None,
    }  # fmt: skip
    assert (section["next_step"], section["blocked"]) == (following, None)
    strike_step(following, builder, "No such part")
    assert report(build).section["deviations"] == [f"{following}: struck from this build. No such part"]


@pytest.mark.parametrize("steps", [1, 12])
def test_the_report_reads_what_was_fetched(coordinator, builder, lab, steps):
    build = make_bench_build(coordinator, builder, stage=Stage.INCOMING_TEST)
    for _ in range(steps):
        record_result(battery_step(build), builder, outcome="passed", reading_typed="12.6")
    build = Build.objects.get(pk=build.pk)
    prefetch_related_objects([build], *TICKET_PREFETCH)
    with CaptureQueriesContext(connection) as queries:
        report(build)
    assert len(queries) <= 2, [one["sql"][:90] for one in queries]


def queries_of_page(client, build):
    address = reverse("bench_section", args=[build.number, "incoming_test"])
    with CaptureQueriesContext(connection) as queries:
        assert client.get(address).status_code == 200
    return len(queries)


def test_a_section_page_asks_as_often_for_one_step_as_for_twelve(coordinator, builder, lab, as_person):
    client, counts = as_person(builder), []
    for steps in (1, 12):
        build = make_bench_build(coordinator, builder, stage=Stage.INCOMING_TEST)
        for _ in range(steps):
            step = battery_step(build)
            strike_result(
                record_result(step, builder, outcome="passed", reading_typed="12.5", photo_file=drawn_photo()),
                builder, "Smudged",
            )  # fmt: skip
            record_result(step, builder, outcome="passed", reading_typed="12.6", photo_file=drawn_photo())
            change_step(step, builder, {"limit_low": 12.3}, "Data sheet")
        counts.append(queries_of_page(client, build))
    assert counts[0] == counts[1]
    assert counts[0] <= 16


def test_a_page_of_a_section_that_is_none_is_not_found(build, builder, as_person):
    assert as_person(builder).get(reverse("bench_section", args=[build.number, "wishes"])).status_code == 404


def test_the_bench_leads_to_the_next_step(build, builder, as_person):
    done, following = BuildStepFactory(build=build, order=1), BuildStepFactory(build=build, order=2)
    record_result(done, builder, outcome="passed")
    answer = as_person(builder).get(reverse("bench", args=[build.number]), {"once": uuid.uuid4()})
    assert answer["Location"].endswith(f"/bench/incoming_test/#step-{following.pk}")


def test_a_toys_hand_off_is_void_when_one_of_its_tests_is_struck(coordinator, builder, reviewer, lab):
    toy = make_bench_build(
        coordinator, builder, holds=["sound_unit", "first_power", "hand_off"], stage=Stage.COMMISSIONING
    )
    step = BuildStepFactory(build=toy, section=Section.COMMISSIONING)
    let_stand(toy, reviewer, Hold.SOUND_UNIT, Hold.FIRST_POWER)
    result = record_result(step, builder, outcome="passed")
    let_stand(toy, reviewer, Hold.HAND_OFF)
    strike_result(result, builder, "Wrong toy")
    assert [one.hold for one in toy.hold_decisions.exclude(voided_at=None)] == [Hold.HAND_OFF]
