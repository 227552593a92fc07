"""What changes the harness: runs, fuses and switching parts as deviations, and the two rounds of checks."""

from django.db import transaction

from builds.record import registry
from builds.record.nonconformances import open_nonconformance
from builds.record.releasing import workers
from builds.record.rules import Refused, forget_prefetched
from builds.wiring.checks import WRONG, checked_runs, run_digest
from builds.wiring.models import WireCheck

ORDER_GAP = 10  # between runs, so that one can be put in between


@transaction.atomic
def save_row(form, account):
    """Keep an added or changed row, with who departed from the plan."""
    row = form.instance
    is_new = row._state.adding
    if is_new and hasattr(row, "order"):
        row.order = max((run.order for run in row.build.wire_runs.all()), default=0) + ORDER_GAP
    if is_new or form.has_changed():
        row.deviation_by = account
    saved = form.save()
    forget_prefetched(row.build)
    return saved


@transaction.atomic
def strike_row(row, account, reason):
    """Take a row out of the harness; it stays readable. A fuse that still protects runs stays."""
    if row.is_struck:
        raise Refused(f"{row.code} is struck already.")
    if row._meta.model_name == "wirefuse":
        held = [run.code for run in row.runs.all() if not run.is_struck]
        if held:
            raise Refused(f"Fuse {row.code} protects {', '.join(held)}. Change these runs first.")
    row.strike(account, reason)
    forget_prefetched(row.build)


def may_check(build, account, round):
    """Refuse a person who may not make a check of this round on this build."""
    if round == WireCheck.Round.FIRST:
        if second_checks(build).filter(made_by=account).exists():
            raise Refused("You checked this build as the second person. Somebody else makes the first check.")
    elif account.pk in workers(build, registry.reports(build)):
        raise Refused("You did work on this build. Somebody who did none makes the second-person check.")


def second_checks(build):
    return WireCheck.objects.standing().filter(run__build=build, round=WireCheck.Round.SECOND)


@transaction.atomic
def record_check(run, account, round, ticks, *, seen_digest, resistance_ohm=None, note=""):
    """Keep one person's ticks for one run, for the run as that person saw it. A wrong one opens a nonconformance."""
    run = type(run).objects.select_for_update(of=("self",)).select_related("build").get(pk=run.pk)
    if run.is_struck:
        raise Refused(f"Run {run.code} is struck. There is nothing to check.")
    if run_digest(run) != seen_digest:
        raise Refused(f"Run {run.code} was changed since this page was opened. Look at it again, then check it.")
    may_check(run.build, account, round)
    check = WireCheck.objects.create(
        run=run,
        round=round,
        resistance_ohm=resistance_ohm,
        note=note,
        run_digest=seen_digest,
        made_by=account,
        **{name: ticks[name] for name in WireCheck.TICKS},
    )
    if WRONG in ticks.values():
        # Which tick was wrong is not said here: the second person may read this before checking.
        text = f"Wire run {run.code}: a check of the wiring found something wrong. Whoever checked it knows what."
        open_nonconformance(run.build, account, text, source=f"wire-run:{run.pk}")
    forget_prefetched(run.build)
    return check


@transaction.atomic
def strike_check(check, account, reason):
    if check.made_by_id != account.pk and not account.is_coordinator:
        raise Refused("Only the person who made this check, or the lab coordinator, strikes it.")
    if check.is_struck:
        raise Refused("This check is struck already.")
    check.strike(account, reason)


def next_to_check(build, round, after=None):
    """The next run without a counting check of this round, in the order of the harness."""
    attribute = "first" if round == WireCheck.Round.FIRST else "second"
    waiting = [row.run for row in checked_runs(build) if getattr(row, attribute) is None]
    later = [run for run in waiting if after and (run.order, run.pk) > (after.order, after.pk)]
    return (later or waiting or [None])[0]
