"""The demo lab, made once: every state that it promises is there, seen through the pages of those who look."""

from io import StringIO

import pytest
from django.core.management import CommandError, call_command
from django.db import transaction
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from builds.demo.factories.accounts import PASSWORD
from builds.demo.families import FAMILIES
from builds.models import BaseUnit, Build, HoldDecision, HoldRequest, IssuedPaper, PlannedContact, StageMove, StepResult
from builds.record import registry, releasing, rules, voiding
from builds.record.holds import Hold, Stage, Standing
from clients.models import Client, PersonFile, Referral
from labsite.models import Account

pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module")
def said(django_db_setup, django_db_blocker):
    """What the command printed."""
    with django_db_blocker.unblock(), transaction.atomic():
        out = StringIO()
        call_command("demo_lab", stdout=out)
        yield out.getvalue()
        transaction.set_rollback(True)


@pytest.fixture(autouse=True)
def made(said):
    return said


def account(name):
    return Account.objects.get(username=name)


def signed_in(name):
    browser = Browser()
    browser.force_login(account(name))
    return browser


def page(browser, name, *args):
    answer = browser.get(reverse(name, args=args))
    assert answer.status_code == 200, (name, args)
    return answer.content.decode()


def at(stage, **which):
    found = Build.objects.filter(stage=stage, **which)
    assert found, stage
    return list(found)


def test_it_prints_a_sign_in_for_each_role(made):
    for role in ("Lab coordinator", "Builder", "Reviewer", "Lab director"):
        assert any(role in line and PASSWORD in line for line in made.splitlines())
    assert "Lab coordinator + Builder + Reviewer" in made


def test_the_sign_ins_work(made):
    for line in made.splitlines():
        if PASSWORD in line:
            browser = Browser()
            browser.post(reverse("sign_in"), {"username": line.split()[-2], "password": PASSWORD})
            assert browser.get(reverse("home"), follow=True).status_code == 200
            assert "_auth_user_id" in browser.session, line


def test_the_family_link_opens_with_its_word(made):
    line = next(line for line in made.splitlines() if "family opens its link" in line)
    address = next(word for word in line.split() if word.startswith("/family/"))
    phone = Browser()
    phone.post(address, {"word": line.split()[-1]})
    page = phone.get(address).content.decode()
    assert "Use guide" in page and "Something is wrong" in page


def test_it_refuses_a_database_that_is_not_empty():
    with pytest.raises(CommandError, match=r"^This database has accounts already[^.]*\. Use an empty database\.$"):
        call_command("demo_lab")


def test_if_empty_it_changes_nothing_and_says_so():
    before = (Account.objects.count(), Build.objects.count(), Client.objects.count())
    out = StringIO()
    call_command("demo_lab", "--if-empty", stdout=out)
    assert "not added" in out.getvalue()
    assert "nadia" in out.getvalue() and PASSWORD in out.getvalue()  # a second look tells the sign-ins again
    assert (Account.objects.count(), Build.objects.count(), Client.objects.count()) == before


def test_it_refuses_production(settings):
    settings.PRODUCTION = True
    with pytest.raises(CommandError, match="not for production"):
        call_command("demo_lab")


def test_builds_stand_at_every_stage_and_follow_all_plans():
    stages = set(Build.objects.values_list("stage", flat=True))
    assert stages >= set(Stage) - {Stage.RETURNED, Stage.RESTORED, Stage.RETIRED}
    assert set(Build.objects.values_list("plan_revision__plan__code", flat=True)) == {
        "one-hand-stick", "press-switch", "switch-socket",
    }  # fmt: skip


def test_every_ticket_opens_for_those_who_see_it():
    for name in ("nadia", "ingrid", "grace", "ben"):
        browser = signed_in(name)
        seen = Build.objects.seen_by(account(name)).distinct()
        assert seen.exists()
        for build in seen:
            assert build.number in page(browser, "ticket", build.number)


def test_the_lists_open_and_show_what_waits():
    desk = signed_in("nadia")
    waiting = page(desk, "waiting_list")
    for referral in Referral.objects.waiting():
        assert referral.client.case_code in waiting
    for name in ("desk", "board", "builds", "review_queue", "clients", "base_units"):
        page(desk, name)
    asked = HoldRequest.objects.waiting().get()
    assert asked.build.number in page(signed_in("ingrid"), "review_queue")


def test_cases_stand_at_every_point_of_the_way():
    waiting = Referral.objects.waiting().filter(client__builds__isnull=True)
    assert {one.stage for one in waiting} == set(Referral.Stage)
    outcomes = set(Referral.objects.values_list("outcome", flat=True))
    assert outcomes == {Referral.Outcome.OPEN, "equipped", "no_equipment", "referred_on"}


def test_one_release_was_voided_by_a_wire_run():
    void = HoldDecision.objects.get(voided_at__isnull=False)
    assert void.hold == Hold.FIRST_POWER
    assert void.void_changes[0] == "Wire run W5: gauge was 12 AWG, now 14 AWG"
    assert "gauge was 12 AWG, now 14 AWG" in page(signed_in("ben"), "ticket", void.build.number)


def test_every_other_release_stands_on_the_evidence_of_now():
    today = timezone.localdate()
    for build in Build.objects.all():
        assert voiding.recheck(build) == []
        for decision in build.hold_decisions.filter(voided_at__isnull=True):
            assert decision.stands(today), (build, decision.hold)
            assert decision.made_by_id not in {one.pk for one in build.builders.all()}
    assert IssuedPaper.objects.exists() and not IssuedPaper.objects.filter(superseded_at__isnull=False).exists()


def test_one_fails_its_incoming_test():
    (build,) = [one for one in at(Stage.INCOMING_TEST) if one.has_open_nonconformance]
    assert "9.2 V" in page(signed_in("nadia"), "ticket", build.number)
    assert rules.what_stops(build, Stage.TEARDOWN)


def test_one_is_outgrown_soon_and_nothing_of_it_is_void():
    margins = {one: registry.reports(one)["parts"].section["margin_kg"] for one in at(Stage.IN_USE)}
    small = [one for one, margin in margins.items() if margin is not None and 0 < margin < 1]
    assert len(small) == 1
    assert all(releasing.standing(small[0], hold) for hold in small[0].holds())


def test_the_same_client_s_page_shows_the_outlook_and_three_days_of_scores():
    client = Client.objects.get(person__family_name=FAMILIES["hartwig"].family)
    text = page(signed_in("nadia"), "client_page", client.case_code)
    assert "Growth outlook" in text and "the client weighed 26.2 kg" in text and "state-check" in text
    assert "Frozen: its baseline is of" in text and text.count('data-label="Since the baseline"') == 3


def test_one_measure_looks_mistyped():
    client = Client.objects.get(person__family_name=FAMILIES["desrosiers"].family)
    assert page(signed_in("nadia"), "client_page", client.case_code).count("Looks mistyped") == 1


def test_one_is_overdue_for_contact_and_its_family_reads_spanish():
    overdue = PlannedContact.objects.due(timezone.localdate()).get()
    assert overdue.due_on < timezone.localdate()
    assert overdue.build.client.languages() == ["es"]
    assert {one.language for one in overdue.build.issued_papers.exclude(kind="as_built")} == {"es"}
    assert overdue.build.number in page(signed_in("nadia"), "desk")


def test_a_returned_unit_went_to_a_client_who_waited():
    (before,) = at(Stage.REISSUED)
    after = Build.objects.get(unit=before.unit, stage=Stage.PLAN)
    assert after.client != before.client and after.serial > before.serial


def test_one_is_on_hold_with_its_reason():
    build = Build.objects.get(standing=Standing.ON_HOLD)
    assert build.standing_reason in page(signed_in("nadia"), "ticket", build.number)


def test_units_are_free_held_not_to_be_used_and_recalled():
    free = BaseUnit.objects.free()
    assert free.exists() and BaseUnit.objects.exclude(pk__in=free).filter(builds__isnull=False).exists()
    assert BaseUnit.objects.filter(do_not_use_at__isnull=False).count() == 1
    assert BaseUnit.objects.filter(recall=BaseUnit.Recall.RECALLED).exists()


def test_what_the_graduate_signed_stays_signed():
    gone = account("tomas")
    assert not gone.is_active
    assert StepResult.objects.filter(made_by=gone, struck_at__isnull=True).exists()


def test_the_work_is_spread_over_weeks_and_none_of_it_lies_ahead():
    moves = StageMove.objects.order_by("made_at")
    assert (timezone.now() - moves.first().made_at).days > 180
    assert moves.last().made_at <= timezone.now()
    for build in Build.objects.all():
        times = [one.made_at for one in build.moves.order_by("pk")]
        assert times == sorted(times), build


PLACES_OF_A_BUILDER = (
    "ticket", "configurations", "harness", "wire_checks", "build_parts", "restore_kit", "papers", "timed_runs",
)  # fmt: skip


def test_no_page_of_a_builder_shows_a_family_name():
    names = set(PersonFile.objects.values_list("family_name", flat=True))
    assert names == {one.family for one in FAMILIES.values()}
    for name in ("ben", "yuki", "pia"):
        browser = signed_in(name)
        texts = [page(browser, "my_builds"), page(browser, "builds")]
        for build in Build.objects.filter(builders=account(name)):
            texts += [page(browser, place, build.number) for place in PLACES_OF_A_BUILDER]
            if not build.is_over:
                texts.append(page(browser, "client_page", build.client.case_code))
        shown = {family for family in names for text in texts if family in text}
        assert shown == set()
