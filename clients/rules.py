"""How a case moves before a build exists, how it ends, what it waits for, and the one thing to do next.

Each rule raises ValidationError with a sentence for the person when a move may not be made.
"""

from dataclasses import dataclass

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from clients.dates import refuse_before, refuse_future, said
from clients.models import CaseMove, Client, PersonFile, Referral
from clients.models.needs import CautionAnswer

Stage, Outcome = Referral.Stage, Referral.Outcome
PATH = list(Stage)
IN_USE = "in_use"  # the stage of a build whose unit is with the family
OF_A_CASE = ("case_move", "case_close")

# What made a forward move possible, kept as its reason when nothing else was typed.
REACHED = {
    Stage.INTAKE: "The family is reached",
    Stage.ASSESSMENT: "The intake is done",
    Stage.CLEARANCE: "Access and sitting are assessed",
    Stage.PLAN: "The clearance is in date",
}


@dataclass(frozen=True)
class Move:
    """One move of a case, as it is asked for."""

    to_stage: str
    on: object
    reason: str = ""


@transaction.atomic
def open_case(person, referral, account):
    """A new client with a case code, a person file and a first referral; both come unsaved from the form."""
    client = Client.objects.open_file()
    person.client = client
    person.save(force_insert=True)
    referral.client = client
    referral.made_by = account
    referral.save(force_insert=True)
    note_move(referral, "", referral.stage, referral.received_on, "Referred", account)
    return referral


@transaction.atomic
def open_again(referral, account):
    """A further referral of a client the lab already knows."""
    refuse_second_open_case(referral.client)
    referral.made_by = account
    referral.save(force_insert=True)
    note_move(referral, "", referral.stage, referral.received_on, "Referred again", account)
    return referral


def refuse_second_open_case(client):
    Client.objects.select_for_update().get(pk=client.pk)
    if client.referrals.waiting().exists():
        raise ValidationError(f"{client.case_code} has an open case already. Go on with that one or close it first.")


def same_person(family_name, given_name, birth_date):
    """Clients whose person file says the same, so that nobody gets two case codes."""
    found = PersonFile.objects.select_related("client").filter(
        family_name__iexact=family_name, given_name__iexact=given_name
    )
    return [one.client for one in found if not birth_date or not one.birth_date or one.birth_date == birth_date]


def next_stage(referral):
    position = PATH.index(Stage(referral.stage))
    return PATH[position + 1] if position + 1 < len(PATH) else None


def stages_to_go_to(referral):
    """The next stage first, then the ones already passed, for going back."""
    ahead = next_stage(referral)
    passed = PATH[: PATH.index(Stage(referral.stage))]
    return ([ahead] if ahead else []) + passed[::-1]


@transaction.atomic
def move_case(referral, move, account):
    """Make one move along the path, or back with a reason."""
    referral = Referral.objects.select_for_update().select_related("client").get(pk=referral.pk)
    if not referral.is_open:
        raise ValidationError("This case is closed. Reopen it first.")
    if move.to_stage not in stages_to_go_to(referral):
        raise ValidationError(f"The case is at {referral.get_stage_display()} now. Look at its page and choose again.")
    refuse_move_date(referral, move.on)
    forward = move.to_stage == next_stage(referral)
    refuse_unready(referral, move) if forward else refuse_without_reason(move)
    note_move(referral, referral.stage, move.to_stage, move.on, move.reason or REACHED[move.to_stage], account)
    set_stage(referral, move.to_stage)
    return referral


def set_stage(referral, stage):
    referral.stage = stage
    referral.stage_since = timezone.now()
    referral.save(update_fields=["stage", "stage_since"])


def note_move(referral, old, new, on, reason, account):
    CaseMove.objects.create(referral=referral, from_stage=old, to_stage=new, on=on, reason=reason, made_by=account)


def refuse_move_date(referral, on):
    try:
        refuse_future("Date", on)
        refuse_before("Date", on, referral.received_on, "the day the referral was received")
    except ValidationError as error:
        raise ValidationError({"on": error.messages}) from error


def refuse_without_reason(move):
    if not move.reason:
        raise ValidationError({"reason": "Enter the reason for going back"})


def refuse_unready(referral, move):
    """What the next stage needs. An unknown goes on only when somebody says why."""
    missing, unknown = READY[move.to_stage](referral.client)
    if missing:
        raise ValidationError(missing)
    if unknown and not move.reason:
        raise ValidationError({"reason": f"Enter the reason for going on: {unknown}"})


def ready_for_intake(client):
    return "", "" if client.caregivers.all() else "no caregiver is known yet"


def ready_for_assessment(client):
    return "", "" if client.consent_allows("service") else "the consent to the service is not on file"


def ready_for_clearance(client):
    access, sitting = getattr(client, "access", None), getattr(client, "sitting", None)
    if access is None:
        return "Record the access profile first, with the side or that it is unknown.", ""
    if sitting is None:
        return "Record the sitting level first, or that it is unknown.", ""
    unknown = ["the side of the control is unknown"] if access.side == "unknown" else []
    unknown += ["the sitting level is unknown"] if sitting.level is None else []
    return "", " and ".join(unknown)


def ready_for_plan(client):
    return ("", "") if client.clearance() else (f"{clearance_wanted(client)}. Record a clearance in date first.", "")


READY = {
    Stage.INTAKE: ready_for_intake,
    Stage.ASSESSMENT: ready_for_assessment,
    Stage.CLEARANCE: ready_for_clearance,
    Stage.PLAN: ready_for_plan,
}


@transaction.atomic
def close_case(referral, outcome, on, reason, account):
    """End a case with its outcome. A build that goes on keeps it open."""
    referral = Referral.objects.select_for_update().select_related("client").get(pk=referral.pk)
    if not referral.is_open:
        raise ValidationError("This case is closed already.")
    going_on = [build.number for build in builds_of(referral)]
    if going_on and outcome != Outcome.EQUIPPED:
        raise ValidationError(f"Build {', '.join(going_on)} is still going on. Cancel or finish it first.")
    refuse_move_date(referral, on)
    note_move(referral, referral.stage, outcome, on, reason, account)
    set_outcome(referral, outcome, on, reason)
    return referral


@transaction.atomic
def reopen_case(referral, reason, account):
    """Open a closed case again, at the stage where it stood."""
    referral = Referral.objects.select_for_update().select_related("client").get(pk=referral.pk)
    if referral.is_open:
        raise ValidationError("This case is open.")
    refuse_second_open_case(referral.client)
    note_move(referral, referral.outcome, referral.stage, timezone.localdate(), reason, account)
    set_outcome(referral, Outcome.OPEN, None, "")
    return referral


def set_outcome(referral, outcome, on, reason):
    referral.outcome, referral.outcome_on, referral.outcome_reason = outcome, on, reason
    referral.save(update_fields=["outcome", "outcome_on", "outcome_reason"])


def clearance_wanted(client, today=None):
    """How a clearance is missing: never given, or ended."""
    today = today or timezone.localdate()
    last = client.last_clearance(today)
    if last is None:
        return "Clearance"
    return f"Clearance ended {said(last.expires_on)}" if last.expires_on < today else "Clearance"


def waits_for(referral, today=None):
    """What an open case waits for, in a few words."""
    today = today or timezone.localdate()
    client = referral.client
    builds = builds_of(referral)
    if builds:
        return "; ".join(f"Build {build.number}: {build_state(build)}" for build in builds)
    if referral.stage in (Stage.CLEARANCE, Stage.PLAN):
        return "A build to be planned" if client.clearance(today) else clearance_wanted(client, today)
    return {
        Stage.REFERRAL: "Intake appointment",
        Stage.INTAKE: "Assessment appointment",
        Stage.ASSESSMENT: assessment_lacks(client) or "Clearance to be asked for",
    }[referral.stage]


def builds_of(referral):
    """The unfinished builds of this case; a build that names no case counts for the open one."""
    return [row for row in referral.client.running_builds() if row.referral_id in (None, referral.pk)]


def is_in_use(referral):
    """Whether the family already has the equipment of this case."""
    return any(build.stage == IN_USE for build in builds_of(referral))


def build_state(build):
    return build.get_stage_display() if build.standing == "open" else build.get_standing_display().lower()


def assessment_lacks(client):
    if getattr(client, "access", None) is None:
        return "Access profile"
    if getattr(client, "sitting", None) is None:
        return "Sitting level"
    return ""


@dataclass(frozen=True)
class Step:
    """The one next thing: what to do, the name of the page where it is done, and whose work it is."""

    text: str
    page: str = ""
    clinical: bool = False


def next_step(client, referral, today=None):
    """The one next thing to do for a client, following the path of the case."""
    if client.is_erased:
        return Step("The file is erased. A new referral of this family is a new client.")
    if referral is None and client.running_builds():
        numbers = ", ".join(build.number for build in client.running_builds())
        return Step(f"The equipment is with the family: build {numbers}. A new need opens a new case.", "ticket")
    if referral is None:
        return Step("No case is open. A new referral opens one.", "referral_again")
    if is_in_use(referral):
        return Step("The equipment is in use. Close the case with its outcome.", "case_close")
    if builds_of(referral):
        return Step(f"Go on with the build. {waits_for(referral, today)}.", "ticket")
    steps = {
        Stage.REFERRAL: lambda: referral_step(client),
        Stage.INTAKE: lambda: intake_step(client),
        Stage.ASSESSMENT: lambda: assessment_step(client),
        Stage.CLEARANCE: lambda: clearance_step(
            client, today, Step("Move the case to Plan: the clearance is in date.", MOVE)
        ),
        Stage.PLAN: lambda: clearance_step(
            client, today, Step("Plan a build: choose a unit and a build plan.", "build_new")
        ),
    }
    return steps[referral.stage]()


MOVE = "case_move"


ADD_CAREGIVER = "Add a caregiver: whom to call, in which language."


def referral_step(client):
    """What the next two stages need is named from the first day: a caregiver for intake, consent for assessment."""
    consent = "" if client.consent_allows("service") else " Assessment needs the consent to the service."
    if not client.caregivers.all():
        return Step(f"{ADD_CAREGIVER} Intake needs one.{consent}", "caregiver_new")
    return Step(f"Agree the intake appointment with the family, then move the case to Intake.{consent}", MOVE)


def intake_step(client):
    if not client.caregivers.all():
        return Step(ADD_CAREGIVER, "caregiver_new")
    return consent_step(client) or Step("Move the case to Assessment.", MOVE)


def consent_step(client):
    """Nothing where the consent to the service stands. A refusal is no gap to fill: it is talked about."""
    if client.consent_allows("service"):
        return None
    if client.consent("service") is None:
        return Step("Record the consent to the service.", "consent_new")
    return Step(
        "The consent to the service is refused or withdrawn. Talk with the family: record their new word, "
        "or close the case.", "consent_new",
    )  # fmt: skip


def assessment_step(client):
    """The first gap of the assessment, in the order in which it is done."""
    answered = {row.kind for row in client.cautions.all()}
    gaps = [
        (
            client.latest("mass") is None,
            Step("Measure the client: the mass decides which unit can carry them.", "measure_new"),
        ),
        (
            getattr(client, "access", None) is None,
            Step("Record the access profile: side, site and method.", "access_edit"),
        ),
        (
            getattr(client, "sitting", None) is None,
            Step("Record the sitting level and decide the supports.", "sitting_edit"),
        ),
        (
            bool(set(CautionAnswer.Kind.values) - answered),
            Step("Answer the cautions: yes, no or unknown.", "cautions_edit"),
        ),
        (not client.goals.standing().exists(), Step("Agree a goal with the family.", "goal_new")),
    ]
    gap = next((step for missing, step in gaps if missing), None)
    return gap or intake_step_left(client) or Step("Move the case to Clearance.", MOVE)


def intake_step_left(client):
    """What intake was left without, with a reason: named again before anybody is asked for a clearance."""
    return consent_step(client) if client.caregivers.all() else Step(ADD_CAREGIVER, "caregiver_new")


def clearance_step(client, today, then):
    if client.clearance(today):
        return then
    return Step(
        f"{clearance_wanted(client, today)}: record the clearance of a named clinician.", "clearance_new", clinical=True
    )
