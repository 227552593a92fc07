"""What takes a build along its path: start, assign, configure, move, put on hold.

Each rule raises `Refused` with a sentence for the person when it may not be done.
"""

from django.db import transaction
from django.utils import timezone

from builds.record import hooks, voiding
from builds.record.holds import ENDS, GATE, OVER, PATH, Stage, Standing
from builds.record.models import Build, Configuration, StageMove, Task
from builds.record.registry import forget_prefetched
from builds.record.scope import outside_equipment
from clients import rules as case_rules


class Refused(Exception):
    """It may not be done; the text says why and what to do."""


@transaction.atomic
def start_build(*, client, unit, plan_revision, account, referral=None, builders=(), reviewer=None):
    """Begin a build: planning waits for the clearance, and the unit must be free."""
    type(client).objects.select_for_update().get(pk=client.pk)  # an erasure under way is waited for
    clearance = client.clearance()
    if clearance is None:
        raise Refused(f"{client.case_code} has no clearance in date. Record the clearance first.")
    beyond = outside_equipment(clearance, plan_revision.plan.equipment)
    if beyond:
        raise Refused(f"The clearance does not cover this plan. {' '.join(beyond)}")
    if unit.type.kind not in plan_revision.content["unit_kinds"]:
        raise Refused(f"{made_for(unit, plan_revision)} Choose another unit or another plan.")
    type(unit).objects.select_for_update().get(pk=unit.pk)  # who starts another build of it waits here
    if not type(unit).objects.free().filter(pk=unit.pk).exists():
        raise Refused(f"Unit {unit.number} is held by another build or marked do not use. Choose another unit.")
    build = Build.objects.start(
        client=client,
        referral=referral,
        unit=unit,
        plan_revision=plan_revision,
        hold_points=plan_revision.content["hold_points"],
        reviewer=reviewer,
        made_by=account,
    )
    build.builders.set(builders)
    StageMove.objects.create(build=build, from_state="", to_state=Stage.PLAN, made_by=account)
    bring_case_to_plan(referral, build, account)
    for hook in hooks.build_started:
        hook(build, account)
    access = getattr(client, "access", None)
    first = {"side": access.side, "purpose": access.purpose} if access else {}
    configure(build, account, "Taken from the client's access profile", **first)
    return build


def made_for(unit, plan_revision):
    """What kinds of unit the plan is made for, and what this unit is."""
    labels = dict(type(unit.type).Kind.choices)
    wanted = " or ".join(labels[kind].lower() for kind in plan_revision.content["unit_kinds"])
    return f"This plan is made for a {wanted}; unit {unit.number} is a {unit.type.get_kind_display().lower()}."


def bring_case_to_plan(referral, build, account):
    """The case of the client has come to its plan when the build starts."""
    if referral and referral.is_open and referral.stage != case_rules.Stage.PLAN:
        reason = f"Build {build.number} started"
        case_rules.note_move(referral, referral.stage, case_rules.Stage.PLAN, timezone.localdate(), reason, account)
        case_rules.set_stage(referral, case_rules.Stage.PLAN)


def close_case_of(build, account):
    """The clock of the referral stops when the unit leaves."""
    if build.referral_id and build.referral.is_open:
        reason = f"Handed off: build {build.number}"
        case_rules.close_case(build.referral, case_rules.Outcome.EQUIPPED, timezone.localdate(), reason, account)


def assign(build, *, builders, reviewer):
    """Say who builds and who reviews."""
    build.builders.set(builders)
    build.reviewer = reviewer
    build.save(update_fields=["reviewer"])


@transaction.atomic
def configure(build, account, reason, **settings):
    """Make the next configuration, with these settings changed. No change makes no configuration."""
    unknown = set(settings) - set(Configuration.SETTINGS)
    if unknown:
        raise ValueError(f"Not settings of a configuration: {', '.join(sorted(unknown))}")
    locked(build)
    last = build.configurations.order_by("-number").first()
    values = {**(last.settings() if last else {}), **settings}
    if last and values == last.settings():
        return last
    configuration = Configuration.objects.create(
        build=build, number=last.number + 1 if last else 1, reason=reason, made_by=account, **values
    )
    forget_prefetched(build)
    for hook in hooks.configuration_changed:
        hook(build, configuration, account)
    return configuration


def locked(build):
    """The build as it is now, and nobody else's to judge or to change until this is through."""
    return Build.objects.select_for_update(of=("self",)).get(pk=build.pk)


def next_stage(build):
    """The stage after this one on the path, or None at its end."""
    if build.stage not in PATH or build.stage == PATH[-1]:
        return None
    return PATH[PATH.index(build.stage) + 1]


def gates_before(build, stage):
    """The hold points that must stand before the build may be at `stage`: all of the path up to it."""
    upto = PATH[: PATH.index(stage) + 1] if stage in PATH else PATH
    return [GATE[one] for one in upto if one in GATE and GATE[one] in build.holds()]


def what_stops(build, stage):
    """Why the build may not move to `stage`, in words; empty when it may."""
    today = timezone.localdate()
    decisions = list(build.hold_decisions.all())
    found = []
    if stage == Stage.RETURNED:
        return found
    for hold in gates_before(build, stage):
        if voiding.standing_release(decisions, hold, today) is None:
            found.append(f"The hold point {hold.label} is not released.")
    if any(one.is_open for one in build.nonconformances.all()):
        found.append("A nonconformance is open. Decide what is done with it first.")
    if build.unit.is_marked_do_not_use:
        found.append(f"Unit {build.unit.number} is marked do not use.")
    return found


@transaction.atomic
def move(build, stage, account, reason=""):
    """Move a build along its path; backward moves need a reason."""
    build = Build.objects.select_for_update(of=("self",)).select_related("unit").get(pk=build.pk)
    if not build.is_open:
        raise Refused(f"Build {build.number} is {build.get_standing_display().lower()}. Reopen it first.")
    forward = stage == next_stage(build)
    backward = stage in PATH and build.stage in PATH and PATH.index(stage) < PATH.index(build.stage)
    if not forward and not backward and stage not in ENDS.get(build.stage, ()):
        raise Refused(f"A build at {build.get_stage_display()} does not go to {Stage(stage).label} in one move.")
    if not forward and not reason:
        raise Refused("Enter the reason for this move.")
    if forward or backward:
        refuse_for_erased(build)
    if forward:
        voiding.recheck(build, account)
        stops = what_stops(build, stage)
        if stops:
            raise Refused(" ".join(stops))
    StageMove.objects.create(build=build, from_state=build.stage, to_state=stage, reason=reason, made_by=account)
    build.stage = stage
    build.stage_since = timezone.now()
    build.save(update_fields=["stage", "stage_since"])
    if stage == Stage.IN_USE and forward:
        close_case_of(build, account)
    return build


def refuse_for_erased(build):
    """A build whose client is erased only comes to its end: nobody is left to build for or to teach."""
    if build.client.is_erased:
        raise Refused(f"The file of {build.client.case_code} is erased. Say how the unit ends: re-issue or retire it.")


@transaction.atomic
def set_standing(build, standing, account, reason):
    """Put on hold, cancel or reopen, with a reason."""
    if not reason:
        raise Refused("Enter the reason.")
    if standing == Standing.OPEN and build.stage not in (Stage.RETURNED, *OVER):
        refuse_for_erased(build)
    if build.standing == standing:
        raise Refused(f"Build {build.number} is already {build.get_standing_display().lower()}.")
    if standing == Standing.CANCELLED and build.is_with_the_family:
        raise Refused("The family has the unit. Record its return first, or put the build on hold to stop its use.")
    StageMove.objects.create(build=build, from_state=build.standing, to_state=standing, reason=reason, made_by=account)
    build.standing = standing
    build.standing_reason = "" if standing == Standing.OPEN else reason
    build.save(update_fields=["standing", "standing_reason"])
    if standing == Standing.ON_HOLD and build.is_with_the_family:
        Task.objects.stop_use(build, f"On hold: {reason}")
