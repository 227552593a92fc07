"""Everything that changes a build's record: start, move, hold, configure, ask, release, refuse.

Each rule raises `Refused` with a sentence for the person when it may not be done.
"""

from django.db import transaction
from django.utils import timezone

from builds.record import hooks, registry, voiding
from builds.record.holds import ENDS, GATE, MEANING, OVER, PATH, Hold, Stage, Standing
from builds.record.models import Build, Configuration, HoldDecision, HoldRequest, Nonconformance, StageMove, Task
from builds.record.registry import forget_prefetched
from builds.record.scope import outside_equipment
from clients import rules as case_rules

SECOND_APART = "Whoever checked the wiring as the second person did no work on this build"


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


def conditions(build, hold, reports=None):
    """What this hold point asks for: those of every room, and the record's own."""
    reports = reports or registry.reports(build)
    found = [one for report in reports.values() for one in report.conditions if one.hold == hold]
    return [*found, *second_persons_apart(build, hold, reports)]


def second_persons_apart(build, hold, reports):
    """Somebody may have checked first and worked afterwards: then the check is no second person's any more."""
    second = set().union(*(report.second_persons.get(hold, set()) for report in reports.values()))
    if second:
        apart = not second & (said_by(reports) | changed_meanwhile(build, hold, reports))
        why = "" if apart else "Somebody who checked it did work later. Somebody else checks these runs again."
        yield registry.Condition(hold, SECOND_APART, apart, why)


def changed_meanwhile(build, hold, reports):
    """A row names who changed it last, the trail everybody. Not asked of what is released: a change voids that."""
    return set() if standing(build, hold) else reports.changed_by


def unmet(build, hold, reports=None):
    return [one for one in conditions(build, hold, reports) if one.met is not True]


def workers(build, reports, hold=None):
    """Account ids of everybody who did work on this build that a release, or the release of this hold point, judges."""
    on_hold = (report.workers_on.get(hold, set()) for report in reports.values())
    return said_by(reports).union(reports.changed_by, *on_hold)


def did_work(build, account, reports, hold):
    """Whether this person did work that this hold point judges, or a text of it names this person."""
    name = plain_name(account.full_name)
    texts = set().union(*(report.named_on.get(hold, set()) for report in reports.values()))
    return account.pk in workers(build, reports, hold) or any(name in plain_name(text) for text in texts)


def plain_name(text):
    return " ".join(text.split()).casefold()


def said_by(reports):
    """Those whom the rows themselves name."""
    return set().union(*(report.workers for report in reports.values()))


@transaction.atomic
def ask(build, hold, account):
    """Say that the evidence is complete and a reviewer should look."""
    must_apply(build, hold)
    build = locked(build)
    if standing(build, hold):
        raise Refused(f"{hold.label} is released already.")
    if build.hold_requests.filter(hold=hold, answered_at__isnull=True).exists():
        raise Refused(f"A reviewer has been asked for {hold.label} already.")
    return HoldRequest.objects.create(build=build, hold=hold, made_by=account)


def locked(build):
    """The build as it is now, and nobody else's to judge or to change until this is through."""
    return Build.objects.select_for_update(of=("self",)).get(pk=build.pk)


def must_apply(build, hold):
    if hold not in build.holds():
        raise Refused(f"The plan of {build.number} has no hold point {hold.label}.")
    refuse_for_erased(build)


def standing(build, hold):
    return voiding.standing_release(list(build.hold_decisions.all()), hold)


@transaction.atomic
def release(build, hold, account, agreed=()):
    """Let the build pass: only with every condition met, and never by somebody who did the work.

    `agreed` are the departures from the plan that this person agrees to, in the words of `departures`.
    """
    build = Build.objects.select_for_update(of=("self",)).select_related("unit__type", "client").get(pk=build.pk)
    must_apply(build, hold)
    voiding.recheck(build, account)
    reports = registry.reports(build)
    if did_work(build, account, reports, hold):
        raise Refused("You did work on this build. Somebody who did not must release it.")
    if standing(build, hold):
        raise Refused(f"{hold.label} is released already.")
    must_be_met(build, hold, reports)
    must_be_agreed_to(build, hold, reports, agreed)
    decision = keep_release(build, hold, account, reports)
    answer_requests(build, hold)
    forget_prefetched(build)
    return decision


def must_be_met(build, hold, reports):
    missing = unmet(build, hold, reports)
    if missing:
        named = "; ".join(one.text for one in missing)
        raise Refused(f"{len(missing)} conditions of {hold.label} are not met: {named}.")


def must_be_agreed_to(build, hold, reports, agreed):
    missing = [one for one in departures(build, hold, reports) if one not in agreed]
    if missing:
        raise Refused(f"Tick first what departs from the plan, or refuse: {' '.join(missing)}")


def departures(build, hold, reports=None):
    """How the work that this hold point judges departs from its plan, one sentence each."""
    return [sentence for one in conditions(build, hold, reports) for sentence in one.agree]


def keep_release(build, hold, account, reports):
    """The release with the evidence that it stands on."""
    decisions = list(build.hold_decisions.all())
    kept = voiding.snapshot(hold, voiding.hold_evidence(build, hold, voiding.all_evidence(build, reports), decisions))
    until, why = good_until(build, hold)
    return HoldDecision.objects.create(
        build=build,
        hold=hold,
        verdict=HoldDecision.Verdict.RELEASED,
        meaning=MEANING[hold],
        agreed=departures(build, hold, reports),
        configuration=build.configuration(),
        evidence=kept,
        digest=voiding.digest(kept),
        good_until=until,
        good_until_why=why,
        made_by=account,
    )


def good_until(build, hold):
    """First ride and hand-off stand on a clearance, and no longer than it."""
    if hold not in (Hold.FIRST_RIDE, Hold.HAND_OFF):
        return None, ""
    clearance = build.client.clearance()
    if clearance is None:
        return None, ""
    return clearance.expires_on, f"The clearance by {clearance.clinician} ended on {clearance.expires_on:%d %B %Y}"


@transaction.atomic
def refuse(build, hold, account, reason):
    """Refuse a release, with a reason the builders read."""
    must_apply(build, hold)
    if not reason:
        raise Refused("Enter the reason for refusing.")
    build = locked(build)
    if standing(build, hold):
        raise Refused(f"{hold.label} is released already.")
    decision = HoldDecision.objects.create(
        build=build,
        hold=hold,
        verdict=HoldDecision.Verdict.REFUSED,
        reason=reason,
        configuration=build.configuration(),
        made_by=account,
    )
    answer_requests(build, hold)
    return decision


def answer_requests(build, hold):
    build.hold_requests.filter(hold=hold, answered_at__isnull=True).update(answered_at=timezone.now())


def changed_since_last_release(build, hold, evidence):
    """What is different from the evidence of the last release of this hold point, in words; None if there was none."""
    last = build.hold_decisions.filter(hold=hold, verdict=HoldDecision.Verdict.RELEASED).order_by("-pk").first()
    if last is None:
        return None
    decisions = list(build.hold_decisions.all())
    now = voiding.snapshot(hold, voiding.hold_evidence(build, hold, evidence, decisions))
    return voiding.changes(last.evidence, now)


@transaction.atomic
def open_nonconformance(build, account, text, source=""):
    """A check failed: one open nonconformance for each failed thing."""
    found = build.nonconformances.filter(source=source, closed_at__isnull=True).first() if source else None
    if found:
        return found
    return Nonconformance.objects.create(build=build, source=source, text=text[:500], made_by=account)


def may_use_as_is(nonconformance, account):
    if not account.is_reviewer or account.pk == nonconformance.made_by_id:
        return False
    build = nonconformance.build
    reports = registry.reports(build)
    return not any(did_work(build, account, reports, hold) for hold in build.holds())


@transaction.atomic
def dispose(nonconformance, account, *, disposition, cause, fix):
    """Close a nonconformance. Using a thing as it is needs a reviewer who did not find or make it."""
    locked(nonconformance.build)
    nonconformance.refresh_from_db()
    if not nonconformance.is_open:
        raise Refused("This nonconformance is closed already.")
    use_as_is = disposition == Nonconformance.Disposition.USE_AS_IS
    if use_as_is and not may_use_as_is(nonconformance, account):
        raise Refused("Only a reviewer who did not record it, and did no work on this build, may use it as is.")
    nonconformance.disposition = disposition
    nonconformance.cause = cause
    nonconformance.fix = fix
    nonconformance.closed_at = timezone.now()
    nonconformance.closed_by = account
    nonconformance.save(update_fields=["disposition", "cause", "fix", "closed_at", "closed_by"])
    return nonconformance
