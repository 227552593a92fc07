"""Ways round a hold point: changed facts that a release would not notice, and people who would release own work."""

import pytest
from auditlog.context import set_actor
from django.utils import timezone

from builds.models import Build, HoldDecision, Nonconformance, TimedRuns
from builds.record import nonconformances, registry, releasing, rules
from builds.record.holds import Hold
from builds.wiring.checks import run_digest
from builds.wiring.models import WireCheck
from builds.wiring.rules import record_check
from clients.models import Client, Measure, Place
from labsite.models import Lab
from labsite.roles import Role
from tests.factory import make_account

pytestmark = pytest.mark.django_db


@pytest.fixture
def build(case):
    return case.build


def change(row, **values):
    for name, value in values.items():
        setattr(row, name, value)
    row.save(update_fields=list(values))


def void(build):
    return {one.hold for one in HoldDecision.objects.filter(build=build, voided_at__isnull=False)}


def unmet(build, hold):
    return [one.text for one in releasing.unmet(Build.objects.get(pk=build.pk), hold)]


def may_not_release(build, hold, account):
    build = Build.objects.get(pk=build.pk)
    return account.pk in releasing.workers(build, registry.reports(build), hold)


# Facts that a hold point judges


def test_growing_beyond_the_rated_load_voids_though_the_ballast_was_heavier(build):
    kind = build.unit.type
    steps = build.steps.get(tests="ballast").results
    change(steps.get(), reading=kind.rated_load_kg + 20)
    for runs in build.timed_runs.all():
        change(runs, ballast_kg=kind.rated_load_kg + 20)
    HoldDecision.objects.filter(build=build).update(voided_at=None)
    released_again(build)
    change(build.client.latest(Measure.Kind.MASS), value_si=kind.rated_load_kg + 5)
    assert unmet(build, Hold.FIRST_RIDE)
    assert Hold.FIRST_RIDE in void(build)


def released_again(build):
    """The newest decisions stand on what is true now, as a reviewer would have released it."""
    from builds.record import voiding

    build = Build.objects.get(pk=build.pk)
    evidence = voiding.all_evidence(build)
    for decision in build.hold_decisions.all():
        decisions = list(Build.objects.get(pk=build.pk).hold_decisions.all())
        kept = voiding.snapshot(decision.hold, voiding.hold_evidence(build, Hold(decision.hold), evidence, decisions))
        decision.evidence, decision.digest = kept, voiding.digest(kept)
        decision.save(update_fields=["evidence", "digest"])
    assert void(build) == set()


def test_growing_beyond_the_ballast_of_the_timed_runs_voids(build):
    change(build.steps.get(tests="ballast").results.get(), reading=60.0)
    HoldDecision.objects.filter(build=build).update(voided_at=None)
    released_again(build)
    mass = build.client.latest(Measure.Kind.MASS)
    change(mass, value_si=build.timed_runs.get(is_ceiling_in_use=True).ballast_kg + 0.5)
    assert Hold.FIRST_RIDE in void(build)


def test_a_lab_that_asks_for_a_greater_tip_angle_than_the_build_has_voids(build):
    change(Lab.objects.get(), least_tip_deg=45.0)
    assert unmet(build, Hold.FIRST_RIDE)
    assert Hold.FIRST_RIDE in void(build)


def test_a_lab_that_asks_for_a_little_more_voids_nothing_that_still_fits(build):
    change(Lab.objects.get(), least_tip_deg=15.5)
    assert void(build) == set()


def test_another_voltage_of_the_unit_voids_the_first_power(build):
    change(build.unit.type, battery_voltage_v=6.0)
    assert unmet(build, Hold.FIRST_POWER)
    assert Hold.FIRST_POWER in void(build)


def test_supports_that_are_no_longer_decided_void_the_first_ride(build):
    change(build.client.sitting, supports_decided=False)
    assert Hold.FIRST_RIDE in void(build)


def test_the_reach_of_the_other_side_counts_where_the_arm_swaps(build):
    change(build.configuration(), arm="swaps")
    reach = build.client.measures.get(kind=Measure.Kind.REACH, side="left")
    other = Measure.objects.get(pk=reach.pk)
    other.pk, other.side, other._state.adding = None, "right", True
    other.save(force_insert=True)
    HoldDecision.objects.filter(build=build).update(voided_at=None)
    released_again(build)
    change(other, value_si=0.05)
    assert Hold.FIRST_RIDE in void(build)


def test_the_reach_of_the_other_side_does_not_count_where_the_arm_is_fixed(build):
    reach = build.client.measures.get(kind=Measure.Kind.REACH, side="left")
    other = Measure.objects.get(pk=reach.pk)
    other.pk, other.side, other._state.adding = None, "right", True
    other.save(force_insert=True)
    assert void(build) == set()


def test_two_places_of_one_name_are_two_places(build):
    first = build.client.places.get()
    second = Place.objects.create(client=build.client, kind=first.kind, name=first.name, slope_deg=first.slope_deg)
    HoldDecision.objects.filter(build=build).update(voided_at=None)
    released_again(build)
    change(first, slope_deg=20.0)
    assert second.name == first.name
    assert Hold.FIRST_RIDE in void(build)


def test_a_family_that_reads_another_language_after_all_voids_the_hand_off(build):
    change(build.client.caregivers.get(), language="es")
    assert unmet(build, Hold.HAND_OFF)
    assert Hold.HAND_OFF in void(build)


def test_runs_timed_with_a_battery_of_other_voltage_do_not_count(case, build):
    battery = build.configuration().battery
    battery.pk, battery.number, battery.voltage_v = None, "BAT-24", 24.0
    battery._state.adding = True
    battery.save(force_insert=True)
    rules.configure(build, case.crew.coordinator, "Another battery", battery=battery)
    assert TimedRuns.objects.filter(build=build).exists()
    assert any("timed runs" in text for text in unmet(build, Hold.FIRST_RIDE))


def test_nothing_is_released_for_a_client_whose_file_is_erased(case, build):
    """Of an erased client nothing is judged again, so that a change would void nothing."""
    Client.objects.filter(pk=build.client_id).update(erased_at=timezone.now())
    build = Build.objects.get(pk=build.pk)
    for act, account in ((releasing.ask, case.crew.builder), (releasing.release, case.crew.reviewer)):
        with pytest.raises(rules.Refused, match="is erased"):
            act(build, Hold.FIRST_RIDE, account)


# People


def test_who_sets_the_configuration_does_not_release_the_ride(case, build):
    account = make_account(Role.REVIEWER, is_coordinator=True)
    rules.configure(build, account, "Another seat", seat="Another seat")
    assert may_not_release(build, Hold.FIRST_RIDE, account)
    assert may_not_release(build, Hold.HAND_OFF, account)
    assert not may_not_release(build, Hold.FIRST_POWER, account)


@pytest.mark.parametrize("name", ["battery", "charger"])
def test_who_sets_battery_or_charger_releases_nothing_that_judges_them(build, name):
    account = make_account(Role.REVIEWER, is_coordinator=True)
    rules.configure(build, account, "Another one", **{name: None})
    assert all(may_not_release(build, hold, account) for hold in Hold)


def test_who_weighs_and_places_a_part_does_not_release(build):
    account = make_account(Role.REVIEWER, is_builder=True)
    with set_actor(account):
        change(build.parts.get(find_number=1), mass_kg=0.31)
    assert may_not_release(build, Hold.FIRST_RIDE, account)


def test_a_later_change_does_not_hide_who_changed_before(build):
    before, after = make_account(Role.REVIEWER, is_builder=True), make_account(Role.BUILDER)
    run = build.wire_runs.get(code="W5")
    for account in (before, after):
        with set_actor(account):
            change(run, length_m=run.length_m + 0.1, deviation_by=account)
    assert may_not_release(build, Hold.FIRST_POWER, before)


def test_who_strikes_a_part_does_not_release(build):
    account = make_account(Role.REVIEWER, is_builder=True)
    build.parts.get(find_number=1).strike(account, "Not fitted")
    assert may_not_release(build, Hold.FIRST_RIDE, account)


def test_work_that_somebody_else_struck_was_done_all_the_same(build):
    account = make_account(Role.REVIEWER, is_builder=True)
    result = build.steps.get(tests="ballast").results.get()
    change(result, made_by=account)
    result.strike(make_account(Role.COORDINATOR), "Twice on the list")
    assert may_not_release(build, Hold.FIRST_RIDE, account)


def test_who_taught_or_issued_the_papers_does_not_release_the_hand_off(case, build):
    account = make_account(Role.REVIEWER, is_coordinator=True)
    change(build.teach_backs.first(), made_by=account)
    other = make_account(Role.REVIEWER, is_coordinator=True)
    change(build.issued_papers.first(), made_by=other)
    assert may_not_release(build, Hold.HAND_OFF, account)
    assert may_not_release(build, Hold.HAND_OFF, other)
    assert not may_not_release(build, Hold.FIRST_RIDE, account)


def test_who_taught_does_not_release_the_hand_off_though_another_wrote_it_down(build):
    account = make_account(Role.REVIEWER, full_name="Alma  Prieto")
    change(build.teach_backs.first(), taught_by="alma Prieto with an interpreter")
    build = Build.objects.get(pk=build.pk)
    assert releasing.did_work(build, account, registry.reports(build), Hold.HAND_OFF)
    assert not releasing.did_work(build, account, registry.reports(build), Hold.FIRST_RIDE)
    with pytest.raises(rules.Refused, match="You did work"):
        releasing.release(build, Hold.HAND_OFF, account)


def test_nobody_uses_own_work_as_it_is(case, build):
    account = case.crew.builder
    change(account, is_reviewer=True)
    found = Nonconformance.objects.create(build=build, text="A bent bracket", made_by=case.crew.second)
    with pytest.raises(rules.Refused, match="did no work"):
        nonconformances.dispose(found, account, disposition="use_as_is", cause="Not found", fix="Nothing")


@pytest.mark.parametrize(
    ("disposition", "did_work"), [("rework", True), ("repair", True), ("scrap", True), ("use_as_is", False)]
)
def test_who_mended_what_was_wrong_does_not_release(case, build, disposition, did_work):
    account = make_account(Role.REVIEWER, is_builder=True)
    found = Nonconformance.objects.create(build=build, text="A bent bracket", made_by=case.crew.second)
    nonconformances.dispose(found, account, disposition=disposition, cause="Found so", fix="Seen to")
    assert may_not_release(build, Hold.FIRST_RIDE, account) is did_work
    assert may_not_release(build, Hold.HAND_OFF, account) is did_work


def test_nobody_who_set_it_or_issued_its_papers_uses_it_as_it_is(case, build):
    setter, issuer = (make_account(Role.REVIEWER, is_coordinator=True) for _ in range(2))
    rules.configure(build, setter, "Another seat", seat="Another seat")
    change(build.issued_papers.first(), made_by=issuer)
    found = Nonconformance.objects.create(build=build, text="The seat wobbles", made_by=case.crew.second)
    for account in (setter, issuer):
        with pytest.raises(rules.Refused, match="did no work"):
            nonconformances.dispose(found, account, disposition="use_as_is", cause="Not found", fix="Nothing")


def test_a_second_check_by_somebody_who_worked_afterwards_is_no_second_check(case, build):
    text = "Whoever checked the wiring as the second person did no work on this build"
    assert text not in unmet(build, Hold.FIRST_POWER)
    step = build.steps.get(tests="ballast").results.get()
    change(step, made_by=case.crew.second)
    assert text in unmet(build, Hold.FIRST_POWER)
    fresh, right = make_account(Role.REVIEWER), dict.fromkeys(WireCheck.TICKS, "right")
    for run in build.wire_runs.standing():
        record_check(run, fresh, WireCheck.Round.SECOND, right, seen_digest=run_digest(run))
    assert text not in unmet(build, Hold.FIRST_POWER)


def test_a_second_person_who_edited_a_run_is_not_forgotten_when_somebody_edits_it_again(case, build):
    """The run names only who changed it last, and the checks of all other runs would count again."""
    run = build.wire_runs.get(code="W1")
    for account, length_m in ((case.crew.second, 0.31), (case.crew.builder, 0.32)):
        with set_actor(account):
            change(run, length_m=length_m, deviation_by=account)
    assert releasing.SECOND_APART in unmet(build, Hold.FIRST_POWER)
