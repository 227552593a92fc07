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
        yield clearance_condition(build, hold, configuration, f"{client_page}#clearance")
        yield from client_conditions(build, hold, configuration, client_page)
    if Hold.HAND_OFF in build.holds():
        yield from consent_conditions(build, f"{client_page}#consents")
        lab = Lab.current()
        yield Condition(
            Hold.HAND_OFF,
            "The lab's name, phone, hours and emergency number are known, so that a family knows whom to call",
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
    if build.rides:
        side = access.side if access else "unknown"
        same = None if side == "unknown" or configuration is None else configuration.side == side
        text = "The control is on the side that the access profile names"
        yield Condition(hold, text, same, "", f"{url}#access")
        release = access.releases_on_request if access else "unknown"
        yield Condition(
            hold,
            "Whether the client lets go on request is known",
            None if release == "unknown" else True,
            "" if release != "unknown" else "It is not yet known.",
            f"{url}#access",
        )
        yield supports_condition(build, hold, configuration, url)
        mass = build.client.latest(people.Measure.Kind.MASS)
        yield Condition(hold, "The client's mass is known", None if mass is None else True, "", f"{url}#measures")
    yield cautions_condition(build, hold, f"{url}#cautions")


def cautions_condition(build, hold, url):
    answers = {one.kind: one for one in build.client.cautions.all()}
    known = {kind for kind, one in answers.items() if one.answer != "unknown"}
    unknown = [kind.label for kind in people.CautionAnswer.Kind if kind.value not in known]
    no_plan = [one.get_kind_display() for one in answers.values() if one.answer == "yes" and not one.plan]
    why = [f"Unknown or not asked: {', '.join(unknown)}."] if unknown else []
    why += [f"No plan: {', '.join(no_plan)}."] if no_plan else []
    met = False if no_plan else None if unknown else True
    return Condition(hold, "Every caution is answered, and each yes has a plan", met, " ".join(why), url)


def supports_condition(build, hold, configuration, url):
    sitting = getattr(build.client, "sitting", None)
    text = "The supports that the profile asks for are fitted"
    if sitting is None or not sitting.supports_decided or configuration is None:
        return Condition(hold, text, None, "The supports are not decided yet.", f"{url}#sitting")
    fitted = reverse("configurations", args=[build.number])
    names = dict(people.SittingProfile.Support.choices)
    lacking = [str(names.get(code, code)) for code in sitting.supports if code not in configuration.supports]
    if "trunk" in configuration.supports and not {"pelvis", "belt"} & set(configuration.supports):
        return Condition(hold, text, False, "No chest strap without pelvic support.", fitted)
    return Condition(hold, text, not lacking, f"Not fitted: {', '.join(lacking)}." if lacking else "", fitted)


def consent_conditions(build, url):
    for purpose in people.Consent.NEEDED_FOR_HAND_OFF:
        text = f"Consent is on file: {purpose.label.lower()}"
        yield Condition(Hold.HAND_OFF, text, build.client.consent_allows(purpose), "", url)
