"""Conditions that belong to no room: earlier holds, nonconformances, clearance, side, supports, consent, the lab."""

from django.urls import reverse

from builds.record.holds import Hold
from builds.record.registry import Condition
from builds.record.scope import outside
from builds.record.voiding import standing_release
from clients import models as people
from labsite.models import Lab


def own_conditions(build, configuration):
    """Conditions that belong to no room: earlier holds, nonconformances, clearance, side, supports, consent."""
    ticket = reverse("ticket", args=[build.number])
    client_page = reverse("client_page", args=[build.client.case_code])
    opened = [one for one in build.nonconformances.all() if one.is_open]
    for hold in build.holds():
        yield Condition(
            hold,
            "No nonconformance is open",
            not opened,
            "; ".join(one.text for one in opened[:3]),
            f"{ticket}#nonconformances",
        )
        yield from earlier_released(build, hold, ticket)
    for hold in {Hold.FIRST_RIDE, Hold.HAND_OFF} & set(build.holds()):
        yield clearance_condition(build, hold, configuration, client_page)
        yield from client_conditions(build, hold, configuration, client_page)
    if Hold.HAND_OFF in build.holds():
        yield from consent_conditions(build, client_page)
        lab = Lab.current()
        yield Condition(
            Hold.HAND_OFF,
            "The lab's name, phone and hours are known, so that a family knows whom to call",
            not lab.missing(),
            f"Missing: {', '.join(lab.missing())}" if lab.missing() else "",
            reverse("lab_settings"),
        )


def earlier_released(build, hold, ticket):
    position = build.holds().index(hold)
    decisions = list(build.hold_decisions.all())
    for before in build.holds()[:position]:
        stands = standing_release(decisions, before) is not None
        yield Condition(hold, f"The hold point {before.label} is released", stands, "", f"{ticket}#hold-points")


def clearance_condition(build, hold, configuration, url):
    clearance = build.client.clearance()
    if clearance is None:
        return Condition(hold, "A clearance is in date and covers this configuration", False, "None is in date.", url)
    beyond = outside(clearance, configuration, build.plan_revision.plan.equipment)
    return Condition(hold, "A clearance is in date and covers this configuration", not beyond, " ".join(beyond), url)


def client_conditions(build, hold, configuration, url):
    access = getattr(build.client, "access", None)
    rides = build.plan_revision.plan.equipment == "ride_on"
    if rides:
        side = access.side if access else "unknown"
        same = None if side == "unknown" or configuration is None else configuration.side == side
        yield Condition(hold, "The control is on the side that the access profile names", same, "", url)
        release = access.releases_on_request if access else "unknown"
        yield Condition(
            hold,
            "Whether the client lets go on request is known",
            None if release == "unknown" else True,
            "" if release != "unknown" else "It is not yet known.",
            url,
        )
        yield supports_condition(build, hold, configuration, url)
        mass = build.client.latest(people.Measure.Kind.MASS)
        yield Condition(hold, "The client's mass is known", None if mass is None else True, "", url)
    open_answers = [one for one in build.client.cautions.all() if one.answer == "unknown"]
    answered = {one.kind for one in build.client.cautions.all()}
    lacking = len(open_answers) + len(set(people.CautionAnswer.Kind.values) - answered)
    no_plan = [one.get_kind_display() for one in build.client.cautions.all() if one.answer == "yes" and not one.plan]
    yield Condition(
        hold,
        "Every caution is answered, and each yes has a plan",
        (None if lacking else True) if not no_plan else False,
        f"{lacking} not answered." if lacking else ("No plan: " + ", ".join(no_plan) if no_plan else ""),
        url,
    )


def supports_condition(build, hold, configuration, url):
    sitting = getattr(build.client, "sitting", None)
    text = "The supports that the profile asks for are fitted"
    if sitting is None or not sitting.supports_decided or configuration is None:
        return Condition(hold, text, None, "The supports are not decided yet.", url)
    lacking = [code for code in sitting.supports if code not in configuration.supports]
    if "trunk" in configuration.supports and not {"pelvis", "belt"} & set(configuration.supports):
        return Condition(hold, text, False, "No chest strap without pelvic support.", url)
    return Condition(hold, text, not lacking, f"Not fitted: {', '.join(lacking)}." if lacking else "", url)


def consent_conditions(build, url):
    for purpose in people.Consent.NEEDED_FOR_HAND_OFF:
        text = f"Consent is on file: {purpose.label.lower()}"
        yield Condition(Hold.HAND_OFF, text, build.client.consent_allows(purpose), "", url)
