"""A build that is ready for its papers, for the demo lab and for tests. Everything is invented."""

import datetime

from django.utils import timezone

from builds.demo.factories.accounts import AccountFactory
from builds.demo.factories.clients import make_cleared_client
from builds.demo.factories.parts import (
    BaseUnitFactory,
    BatteryFactory,
    ChargerFactory,
    make_one_motor_unit,
    make_toy_unit,
    place_parts,
)
from builds.demo.factories.plans import make_plan_revision
from builds.demo.factories.switches import OF_A_RIDE_ON, TOY_SWITCH
from builds.papers import teaching
from builds.papers.models import HandOff
from builds.record import rules as record
from builds.record import voiding
from builds.record.models import Build, HoldDecision
from labsite.roles import Role

STICK, PRESS, SOCKET = "one-hand-stick", "press-switch", "switch-socket"
DISCONNECT = "pull the red plug behind the seat, on the adult's side"


def make_build_for(plan=STICK, *, coordinator=None, client=None, unit=None, builders=()):
    """A build of this plan for a cleared client, with nothing done yet."""
    coordinator = coordinator or AccountFactory(role=Role.COORDINATOR)
    toy = plan == SOCKET
    if client is None:
        client = make_cleared_client(coordinator, clearance={"equipment": "any"} if toy else None)
    if unit is None:
        unit = {STICK: BaseUnitFactory, PRESS: make_one_motor_unit, SOCKET: make_toy_unit}[plan]()
    return record.start_build(
        client=client, unit=unit, plan_revision=make_plan_revision(plan), account=coordinator, builders=builders
    )


def configure_fully(build, account, **changes):
    """Every setting that the papers speak of; changed ones by name."""
    toy = build.plan_revision.plan.equipment == "toy"
    rides = {
        "ceiling_m_s": 0.8,
        "ceiling_position": "slow",
        "supports": ["trunk", "pelvis"],
        "charger": ChargerFactory(),
        "battery": BatteryFactory(),
        "seat": "Original seat with added side supports",
        "mount": "Clamp on the side rail",
        "disconnect": DISCONNECT,
        **OF_A_RIDE_ON,
    }
    settings = {"side": "left", "purpose": "better", **({"power_switch": TOY_SWITCH} if toy else rides), **changes}
    return record.configure(build, account, "Set for this client", **settings)


def release_up_to_papers(build, reviewer):
    """Releases as of now of every hold point before the hand-off, without their conditions: for papers only."""
    build = Build.objects.get(pk=build.pk)
    for hold in build.holds():
        if hold == "hand_off":
            break
        decisions = list(build.hold_decisions.all())
        kept = voiding.snapshot(hold, voiding.hold_evidence(build, hold, voiding.all_evidence(build), decisions))
        HoldDecision.objects.create(
            build=build,
            hold=hold,
            verdict="released",
            evidence=kept,
            digest=voiding.digest(kept),
            configuration=build.configuration(),
            made_by=reviewer,
        )


def make_build_with_papers_due(plan=STICK, *, coordinator=None, reviewer=None, client=None, builders=(), **changes):
    """A build whose papers may be issued."""
    coordinator = coordinator or AccountFactory(role=Role.COORDINATOR)
    reviewer = reviewer or AccountFactory(role=Role.REVIEWER)
    build = make_build_for(plan, coordinator=coordinator, client=client, builders=builders)
    place_parts(build)
    configure_fully(build, coordinator, **changes)
    release_up_to_papers(build, reviewer)
    return Build.objects.get(pk=build.pk)


def teach_all(build, account):
    """Every supervising adult shows or says every item, right the first time."""
    for adult in teaching.supervising_adults(build):
        for item in teaching.items(build):
            teaching.record_try(build, account, adult=adult, item=item["code"], how=item["proof"], right=True)


def settle(build, account, terms=HandOff.Terms.LOAN, in_days=0):
    """Loan or gift and the date on which the unit leaves."""
    on = timezone.localdate() + datetime.timedelta(days=in_days)
    return HandOff.objects.create(build=build, terms=terms, handed_on=on, recorded_by=account)
