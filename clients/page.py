"""What the client's page shows: the needs to everybody who may open it, the family only to those who see identity."""

from django.urls import reverse
from django.utils import timezone

from clients import access, goal_scores, hooks, proportions, rules, seating
from clients.models import Client, Consent, Measure
from clients.models.needs import CautionAnswer
from labsite.marks import YesNoUnknown
from labsite.pages import url_if_any

WITHOUT_CASE = {"referral_again", "caregiver_new", "consent_new", "measure_new", "access_edit", "sitting_edit",
                "cautions_edit", "goal_new", "clearance_new"}  # fmt: skip


def needs_of(client, account):
    """The part without identity, the same for every reader, apart from what each may change."""
    today = timezone.localdate()
    referral = client.open_referral()
    step = rules.next_step(client, referral, today)
    goals = goals_for(client, account)
    builds = builds_for(client, account)
    return {
        "client": client,
        "referral": referral,
        "days_waiting": referral.days_waiting(today) if referral else None,
        "path": path_of(referral),
        "step": step,
        "step_address": step_address(step, client, referral, account),
        "measures": newest_measures(client),
        "measure_kinds": Measure.Kind,
        "access": getattr(client, "access", None),
        "sitting": sitting_of(client),
        "cautions": cautions_of(client),
        "slope": client.steepest_slope(),
        "clearance": client.clearance(today),
        "clearances": [(row, row.days_left(today)) for row in client.clearances.all()],
        "builds": builds,
        "outlooks": outlooks_for(client, builds, account),
        "may_edit": access.may_edit(account) and not client.is_erased,
        "may_clear": access.may_clear(account) and not client.is_erased,
        "goals": goals,
        "scores": scores_of(goals),
    }


def family_of(client):
    """The part that identifies. Ask for it only where the opening has been written down."""
    return {
        "person": getattr(client, "person", None),
        "caregivers": client.caregivers.all(),
        "household": getattr(client, "household", None),
        "consents": [(purpose, client.consent(purpose)) for purpose in Consent.Purpose],
        "referrals": client.referrals.prefetch_related("moves__made_by"),
        "erasure": client.erasure(),
    }


def path_of(referral):
    """(stage, mark) for each stage of the case: done, here or ahead."""
    if referral is None:
        return []
    at = rules.PATH.index(rules.Stage(referral.stage))
    return [
        (stage.label, "done" if place < at else "here" if place == at else "ahead")
        for place, stage in enumerate(rules.PATH)
    ]


def step_address(step, client, referral, account):
    """Where the next thing is done, for those who may do it."""
    if step.page == "ticket":
        return next((reverse("ticket", args=[build.number]) for build in builds_for(client, account)), None)
    allowed = access.may_clear(account) if step.clinical else access.may_edit(account)
    if not allowed or not step.page:
        return None
    if step.page in rules.OF_A_CASE:
        return reverse(step.page, args=[client.case_code, referral.pk])
    if step.page in WITHOUT_CASE:
        return reverse(step.page, args=[client.case_code])
    address = url_if_any(step.page)
    return f"{address}?client={client.case_code}" if address else None


def newest_measures(client):
    """The newest standing measure of each kind, side and compensation, with the kinds not measured yet as None."""
    rows = {}
    for row in sorted(client.measures.all(), key=lambda row: (row.taken_on, row.pk)):
        if not row.is_struck:
            rows[(row.kind, row.side, row.compensation)] = row
    found = [rows[key] for key in sorted(rows, key=lambda key: (Measure.Kind.values.index(key[0]), key[1:]))]
    lacking = [kind for kind in Measure.Kind if kind.value not in {key[0] for key in rows}]
    flags = proportions.flags_of(found)
    return {
        "found": [(row, flags.get(row.pk)) for row in found],
        "lacking": lacking,
        "flags": flags,
        "several": proportions.SEVERAL if len(flags) > 1 else "",
        "lacks_stature": proportions.lacks_stature(found),
    }


def sitting_of(client):
    profile = getattr(client, "sitting", None)
    if profile is None:
        return None
    return {
        "profile": profile,
        "level": profile.level or "unknown",
        "suggested": seating.words(seating.suggestion(profile.level)),
        "supports": seating.words(profile.supports),
    }


def cautions_of(client):
    """Those that ask for care first: yes with its plan, unknown or not asked, then the ones that are no."""
    answers = {row.kind: row for row in client.cautions.all()}
    yes = [row for row in answers.values() if row.answer == YesNoUnknown.YES]
    no = [row for row in answers.values() if row.answer == YesNoUnknown.NO]
    known = {row.kind for row in [*yes, *no]}
    unknown = [kind for kind in CautionAnswer.Kind if kind.value not in known]
    return {"yes": yes, "no": no, "unknown": unknown}


def builds_for(client, account):
    """The client's builds; a builder sees only those they are on."""
    return list(client.builds.seen_by(account).order_by("serial"))


def outlooks_for(client, builds, account):
    """When the client outgrows each unit; to the day only for those who see identity."""
    return [one for ask in hooks.growth_outlooks for one in ask(client, builds, account.sees_identity)]


def goals_for(client, account):
    """Goals are in the family's words, so builders do not read them."""
    return client.goals.with_scores() if account.sees_every_build else None


def scores_of(goals):
    """T day by day, in words and as a picture."""
    if goals is None:
        return None
    days = goal_scores.days_of(goals)
    struck = [(goal, row) for goal in goals for row in goal.scores.all() if row.is_struck]
    return {
        "days": days[::-1],
        "picture": goal_scores.picture(days),
        "in_words": goal_scores.in_words(days),
        "struck": struck,
        "any_to_score": any(not goal.is_struck for goal in goals),
    }


def clients_with_needs():
    return Client.objects.with_needs()


def clients_with_family():
    return Client.objects.with_needs().with_names().prefetch_related("caregivers", "consents")
