"""Goals and their scores, consents and clearances."""

from http import HTTPStatus

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import Http404
from django.views.decorators.http import require_http_methods

from clients import access, hooks
from clients.forms.agreements import ClearanceForm, ConsentForm, GoalForm, WithdrawForm
from clients.forms.goal_scores import GoalScoresForm
from clients.models import Clearance, Consent, Goal, GoalScore
from clients.views.shared import get_row, hold, save_record, strike_row

FROZEN = (
    "This goal has its baseline, so its words and weights stay as they are: later scores are compared with it. "
    "Where the goal itself is wrong, strike it and add a new one."
)
PHOTOS_GO = "A no to photos for the record deletes those in which the client may be seen, for good."
NO_GOALS = "No goal is agreed yet. Add one first."
FORM = require_http_methods(["GET", "POST"])


@FORM
def goal_new(request, case_code):
    client = access.get_editable_client(request, case_code)
    form = GoalForm(request.POST or None, instance=Goal(client=client, made_by=request.user))
    return save_record(
        request, form, client, "goals",
        title=f"Add a goal, {client}", submit="Add the goal", done="The goal is added.",
    )  # fmt: skip


@FORM
def goal_edit(request, case_code, pk):
    client = access.get_editable_client(request, case_code)
    hold(request, client)
    goal = get_row(client.goals.standing(), pk)
    if goal.baseline():
        raise PermissionDenied(FROZEN)
    form = GoalForm(request.POST or None, instance=goal)
    return save_record(
        request, form, client, "goals", title=f"Goal, {client}", submit="Save the goal", done="The goal is saved."
    )


@FORM
def goal_strike(request, case_code, pk):
    client = access.get_editable_client(request, case_code)
    row = get_row(client.goals.standing(), pk)
    return strike_row(
        request, row, client, "goals",
        title=f"Strike a goal of {client}", submit="Strike the goal", done="The goal is struck.",
    )  # fmt: skip


@FORM
def goal_scores_new(request, case_code):
    client = access.get_editable_client(request, case_code)
    hold(request, client)
    goals = client.goals.standing().prefetch_related("scores")
    if not goals:
        raise Http404(NO_GOALS)
    form = GoalScoresForm(request.POST or None, client=client, goals=goals, account=request.user)
    return save_record(
        request, form, client, "goals",
        title=f"Score the goals of {client}", submit="Save the scores", done="The scores are saved.",
        intro="All goals of one day. The first score of a goal is its baseline: from then on its words and weights "
        "stay as they are.",
    )  # fmt: skip


@FORM
def goal_score_strike(request, case_code, pk):
    client = access.get_editable_client(request, case_code)
    row = get_row(GoalScore.objects.standing().filter(goal__client=client), pk)
    return strike_row(
        request, row, client, "goals",
        title=f"Strike a score of {client}: {row.goal}", submit="Strike the score", done="The score is struck.",
    )  # fmt: skip


@FORM
def consent_new(request, case_code):
    client = access.get_editable_family(request, case_code, "Consents")
    chosen = request.GET.get("purpose")
    first = {"purpose": chosen} if chosen in Consent.Purpose.values else {}
    consent = Consent(client=client, made_by=request.user, **first)
    form = ConsentForm(request.POST or None, instance=consent)
    answer = save_record(
        request, form, client, "consents",
        title=f"Record a consent, {client}", submit="Record the consent", done="The consent is recorded.",
        intro=f"One purpose at a time. The newest word on a purpose counts. {PHOTOS_GO}",
    )  # fmt: skip
    return with_photos_let_go(request, client, consent, answer)


@FORM
def consent_withdraw(request, case_code, pk):
    client = access.get_editable_family(request, case_code, "Consents")
    consent = get_row(client.consents.in_force(), pk)
    form = WithdrawForm(request.POST or None, instance=consent)
    answer = save_record(
        request, form, client, "consents",
        title=f"Withdraw: {consent.get_purpose_display()}", submit="Withdraw the consent",
        done="The consent is withdrawn.", intro=PHOTOS_GO if consent.purpose == Consent.Purpose.PHOTO_RECORD else "",
    )  # fmt: skip
    return with_photos_let_go(request, client, consent, answer)


def with_photos_let_go(request, client, consent, answer):
    """The lab keeps photos that show the client only as far as the family says yes."""
    is_saved = answer.status_code == HTTPStatus.FOUND
    if is_saved and consent.purpose == Consent.Purpose.PHOTO_RECORD and not client.consents.allows(consent.purpose):
        count = sum(act(client) for act in hooks.photos_refused)
        if count:
            photos = "1 photo" if count == 1 else f"{count} photos"
            messages.info(request, f"Deleted: {photos} in which the client may be seen.")
    return answer


@FORM
def clearance_new(request, case_code):
    client = access.get_clearable_client(request, case_code)
    form = ClearanceForm(request.POST or None, instance=Clearance(client=client, made_by=request.user))
    return save_record(
        request, form, client, "clearance",
        title=f"Record a clearance, {client}", submit="Record the clearance", done="The clearance is recorded.",
        intro="A named clinician lets the case go on, within this scope and until this date.",
    )  # fmt: skip


@FORM
def clearance_strike(request, case_code, pk):
    client = access.get_clearable_client(request, case_code)
    row = get_row(client.clearances.standing(), pk)
    return strike_row(
        request, row, client, "clearance",
        title=f"Strike a clearance of {client}", submit="Strike the clearance", done="The clearance is struck.",
    )  # fmt: skip
