"""Hold points: what each asks for, who may not decide, asking for a reviewer, releasing and refusing."""

from django.db import transaction
from django.utils import timezone

from builds.record import registry, standing_on, voiding
from builds.record.holds import MEANING, Hold
from builds.record.models import Build, HoldDecision, HoldRequest
from builds.record.registry import forget_prefetched
from builds.record.rules import Refused, locked, refuse_for_erased
from labsite.figures import day, moment

DID_WORK = "You did work on this build. Somebody who did not must release it."
ENTERED = "You entered or changed facts that {hold} judges: {facts}. Somebody who did not must release it."
ASKED_FIRST = "It was refused by {who} on {when}: {reason}. Somebody of the build asks again first."
CAME_SINCE = "After this page was opened, {what}. Look at it and decide again."
CHANGED_SINCE = "After this page was opened, this changed: {what}. Look at it and decide again."
NOT_LOOKED_AT = "Open the hold point {hold}, look at what it stands on, and release it there."
SECOND_APART = "Whoever checked the wiring as the second person did no work on this build"


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


def entries(account, reports, hold):
    """What this person entered of the rows that the build shares with others, and this hold point judges."""
    return [one for one in reports.entered if one.account_id == account.pk and hold in one.fact.holds]


def why_not(build, account, reports, hold):
    """Why this person may not release this hold point, as far as it is their own work; nothing where they may."""
    if did_work(build, account, reports, hold):
        return DID_WORK
    if found := entries(account, reports, hold):
        return ENTERED.format(hold=hold.label, facts=facts_in_words(found))
    return ""


def facts_in_words(found):
    """Row by row: battery BAT-7 (chemistry, voltage; last on 3 Mar 2026)."""
    by_row = {}
    for one in found:
        by_row.setdefault(one.fact.row, []).append(one)
    told = []
    for row, of_row in by_row.items():
        names = dict.fromkeys(str(row._meta.get_field(one.fact.column).verbose_name).lower() for one in of_row)
        told.append(f"{row._meta.verbose_name} {row} ({', '.join(names)}; last on {day(of_row[-1].at)})")
    return "; ".join(told)


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
    missing = unmet(build, hold)
    if missing:
        raise Refused(f"{not_met(hold, missing)} A reviewer is asked once all are met.")
    return HoldRequest.objects.create(build=build, hold=hold, made_by=account)


def must_apply(build, hold):
    if hold not in build.holds():
        raise Refused(f"The plan of {build.number} has no hold point {hold.label}.")
    refuse_for_erased(build)


def standing(build, hold):
    return voiding.standing_release(list(build.hold_decisions.all()), hold)


def newest_decision(build, hold):
    return build.hold_decisions.filter(hold=hold).select_related("made_by").order_by("-pk").first()


def must_have_seen(build, hold, based_on):
    """Nobody decides over a decision that they never saw; `based_on` is None where no page was opened."""
    if based_on is None:
        return
    decisions = build.hold_decisions.filter(hold=hold).select_related("made_by")
    since = [decided(one) for one in decisions if one.pk > based_on]
    if since:
        raise Refused(CAME_SINCE.format(what="; ".join(since)))


def decided(decision):
    """One decision in words: who, when, why, and whether it is void since."""
    told = f"{decision.get_hold_display()} was {decision.get_verdict_display().lower()} by"
    told += f" {decision.made_by.full_name} on {moment(decision.made_at)}"
    if decision.reason:
        told += f": {decision.reason.rstrip('.')}"
    if decision.voided_at is not None:
        return f"{told}, void since {moment(decision.voided_at)}"
    return f"{told}, void by now" if decision.has_run_out(timezone.localdate()) else told


def why_ask_again(build, hold):
    """What a refusal asks for before a release; nothing where none came last, or somebody asked since.

    A refusal answers every request, so one that waits is newer.
    """
    last = newest_decision(build, hold)
    if last is None or last.is_release or build.hold_requests.filter(hold=hold, answered_at__isnull=True).exists():
        return ""
    return ASKED_FIRST.format(who=last.made_by.full_name, when=moment(last.made_at), reason=last.reason.rstrip("."))


@transaction.atomic
def release(build, hold, account, agreed=(), based_on=None, seen=None):
    """Let the build pass: only with every condition met, and never by somebody who did the work.

    `agreed` are the departures from the plan that this person agrees to, in the words of `departures`.
    `based_on` is the key of the newest decision on the page that this person saw, 0 for none; `seen` is what that
    page carried of the evidence. Both are None where no page was opened.
    """
    build = Build.objects.select_for_update(of=("self",)).select_related("unit__type", "client").get(pk=build.pk)
    must_apply(build, hold)
    voiding.recheck(build, account)
    reports = registry.reports(build)
    if own_work := why_not(build, account, reports, hold):
        raise Refused(own_work)
    must_have_seen(build, hold, based_on)
    if standing(build, hold):
        raise Refused(f"{hold.label} is released already.")
    if ask_again := why_ask_again(build, hold):
        raise Refused(ask_again)
    must_be_met(build, hold, reports)
    kept = standing_on.of_hold(build, hold, reports)
    must_be_as_seen(build, hold, kept, seen)
    must_be_agreed_to(build, hold, reports, agreed)
    decision = keep_release(build, hold, account, reports, kept)
    answer_requests(build, hold)
    forget_prefetched(build)
    return decision


def must_be_as_seen(build, hold, kept, seen):
    """Nobody releases what changed after they looked at it."""
    if seen is None:
        return
    changed = standing_on.changed_since(build, kept, seen, standing_on.photos_of(build))
    if changed is None:
        raise Refused(NOT_LOOKED_AT.format(hold=hold.label))
    if changed:
        raise Refused(CHANGED_SINCE.format(what="; ".join(changed)))


def must_be_met(build, hold, reports):
    missing = unmet(build, hold, reports)
    if missing:
        raise Refused(not_met(hold, missing))


def not_met(hold, missing):
    count = f"{len(missing)} conditions of {hold.label} are" if len(missing) > 1 else f"A condition of {hold.label} is"
    return f"{count} not met: {'; '.join(one.text for one in missing)}."


def must_be_agreed_to(build, hold, reports, agreed):
    missing = [one for one in departures(build, hold, reports) if one not in agreed]
    if missing:
        raise Refused(f"Tick first what departs from the plan, or refuse: {' '.join(missing)}")


def departures(build, hold, reports=None):
    """How the work that this hold point judges departs from its plan, one sentence each."""
    return [sentence for one in conditions(build, hold, reports) for sentence in one.agree]


def keep_release(build, hold, account, reports, kept):
    """The release with the evidence that it stands on."""
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
def refuse(build, hold, account, reason, based_on=None):
    """Refuse a release, with a reason the builders read; `based_on` as for `release`."""
    must_apply(build, hold)
    if not reason:
        raise Refused("Enter the reason for refusing.")
    build = locked(build)
    must_have_seen(build, hold, based_on)
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


def changed_since_last_release(build, hold, now):
    """How this snapshot differs from that of the last release of this hold point, in words; None if there was none."""
    last = build.hold_decisions.filter(hold=hold, verdict=HoldDecision.Verdict.RELEASED).order_by("-pk").first()
    if last is None:
        return None
    return voiding.changes(last.evidence, voiding.as_of(last.evidence, now))
