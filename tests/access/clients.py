"""Clients: the desk keeps them, builders on the build read what is needed, strangers find nothing."""

from django.utils import timezone

from builds.demo.factories import clients as make
from clients.models import Referral
from tests.access.rows import row
from tests.clients.builds import make_build

ORDER = 20
OUT = {"signed_out": 302}
READ = {"coordinator": 200, "builder": 200, "builder_elsewhere": 404, "reviewer": 200, "director": 200, **OUT}
LISTS = {**READ, "builder_elsewhere": 200}
WAITING = {**READ, "builder": 403, "builder_elsewhere": 403}
KEEP = {"coordinator": 200, "builder": 403, "builder_elsewhere": 404, "reviewer": 403, "director": 403, **OUT}
KEEP_REFUSES = {**KEEP, "coordinator": 422}
KEEP_CHANGES = {**KEEP, "coordinator": 302}
CLEAR = {**KEEP, "reviewer": 200}
CLEAR_REFUSES = {**CLEAR, "coordinator": 422, "reviewer": 422}
CLEAR_CHANGES = {**CLEAR, "coordinator": 302, "reviewer": 302}
IDENTITY = {**READ, "builder": 403, "reviewer": 403}
CONFIRM = {**IDENTITY, "coordinator": 403}
OPEN_A_CASE = {**KEEP, "builder_elsewhere": 403}


def form(name, refuses=KEEP_REFUSES, shows=KEEP, query=""):
    """A page with a form: shown, and an empty sending refused."""
    return [row(name, query=query, **shows), row(name, "POST", **refuses)]


def struck(name, shows=KEEP, changes=KEEP_CHANGES):
    return [row(name, **shows), row(name, "POST", data={"reason": "Typed in pounds"}, **changes)]


ROWS = [
    row("waiting_list", **WAITING),
    row("clients", **LISTS),
    row("client_page", **READ),
    row("client_trail", **IDENTITY),
    row("client_copy", **IDENTITY),
    row("client_export", page=False, **IDENTITY),
    *form("client_erase"),
    row("erasure_confirm", **CONFIRM),
    row("erasure_confirm", "POST", **{**CONFIRM, "director": 422}),
    *form("erasure_take_back", shows=IDENTITY, refuses={**IDENTITY, "coordinator": 422, "director": 422}),
    row("measure_history", **READ),
    *form("referral_new", shows=OPEN_A_CASE, refuses={**OPEN_A_CASE, "coordinator": 422}),
    *form("referral_again"),
    *form("referral_edit"),
    *form("case_move"),
    *form("case_close"),
    *struck("case_reopen"),
    *form("person_edit"),
    *form("caregiver_new"),
    *form("caregiver_edit"),
    row("caregiver_remove", **KEEP),
    row("caregiver_remove", "POST", **KEEP_CHANGES),
    row("household_edit", **KEEP),
    row("household_edit", "POST", **KEEP_REFUSES),
    *form("place_new"),
    *form("place_edit"),
    row("place_remove", **KEEP),
    row("place_remove", "POST", **KEEP_CHANGES),
    *form("measure_new"),
    *struck("measure_strike"),
    *struck("measure_right"),
    *form("access_edit"),
    *form("sitting_edit"),
    *form("cautions_edit"),
    *form("goal_new"),
    *form("goal_edit"),
    *struck("goal_strike"),
    *form("goal_scores_new"),
    *struck("goal_score_strike"),
    *form("consent_new", query="?purpose=photo_record"),
    *form("consent_withdraw"),
    *form("clearance_new", shows=CLEAR, refuses=CLEAR_REFUSES),
    *struck("clearance_strike", shows=CLEAR, changes=CLEAR_CHANGES),
]


def leaving_client(world):
    """A client whose unit came back and whose case is closed: their file may be erased."""
    client = make.make_assessed_client(
        world.coordinator, case__outcome=Referral.Outcome.EQUIPPED, case__outcome_on=timezone.localdate()
    )
    make_build(client, world.builder, stage="returned")
    return client


def arguments(world):
    """One cleared client with a closed first case, and an open second one that a build of the builder serves."""
    world.client = client = make.make_cleared_client(world.coordinator)
    world.referral = client.referrals.get()
    world.referral.moves.create(
        from_stage="", to_stage="referral", on=world.referral.received_on, reason="Referred", made_by=world.coordinator
    )
    closed = make.make_assessed_client(
        world.coordinator,
        case__outcome=Referral.Outcome.REFERRED_ON,
        case__outcome_on=timezone.localdate(),
        case__outcome_reason="Lives too far away",
    )
    for one in (client, closed):
        make_build(one, world.builder)
    leaving = leaving_client(world)
    parted = leaving_client(world)
    make.ErasureFactory(client=parted, begun_by=world.coordinator)
    scored = make.GoalFactory(client=client, made_by=world.coordinator, text="Waits at the gate")
    make.GoalScoreFactory(goal=scored, made_by=world.coordinator)
    code = {"case_code": client.case_code}
    old = {"case_code": closed.case_code}

    def at(rows):
        return {**code, "pk": rows.first().pk}

    return {
        "client_page": code,
        "client_trail": code,
        "client_copy": code,
        "client_export": code,
        "client_erase": {"case_code": leaving.case_code},
        "erasure_confirm": {"case_code": parted.case_code},
        "erasure_take_back": {"case_code": parted.case_code},
        "measure_history": {**code, "kind": "mass"},
        "referral_again": old,
        "referral_edit": at(client.referrals),
        "case_move": at(client.referrals),
        "case_close": at(client.referrals),
        "case_reopen": {**old, "pk": closed.referrals.get().pk},
        "person_edit": code,
        "caregiver_new": code,
        "caregiver_edit": at(client.caregivers),
        "caregiver_remove": at(client.caregivers),
        "household_edit": code,
        "place_new": code,
        "place_edit": at(client.places),
        "place_remove": at(client.places),
        "measure_new": code,
        "measure_strike": at(client.measures),
        "measure_right": at(client.measures),
        "access_edit": code,
        "sitting_edit": code,
        "cautions_edit": code,
        "goal_new": code,
        "goal_edit": at(client.goals),
        "goal_strike": at(client.goals),
        "goal_scores_new": code,
        "goal_score_strike": at(scored.scores),
        "consent_new": code,
        "consent_withdraw": at(client.consents),
        "clearance_new": code,
        "clearance_strike": at(client.clearances),
    }
