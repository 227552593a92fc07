"""What the record itself offers to the hold points: plan, configuration, the client's side of it, nonconformances."""

from django.db.models import Prefetch
from django.urls import reverse

from builds.record.holds import Hold
from builds.record.models import Configuration, HoldDecision, Nonconformance, Problem
from builds.record.registry import Condition, Evidence, Report, Room
from builds.record.scope import current_clearance, outside
from clients import models as people
from labsite.models import Lab


PREFETCH = [
    "builders",
    Prefetch("configurations", Configuration.objects.select_related("battery", "charger", "calibration", "made_by")),
    Prefetch("hold_decisions", HoldDecision.objects.select_related("made_by", "configuration")),
    "hold_requests",
    "moves",
    Prefetch("nonconformances", Nonconformance.objects.select_related("made_by")),
    Prefetch("problems", Problem.objects.select_related("made_by", "struck_by")),
    "tasks",
    "client__measures",
    "client__cautions",
    "client__places",
    "client__clearances",
    "client__consents",
]


def register(registry):
    of_client = lambda row: row.client.builds.values_list("pk", flat=True)  # noqa: E731
    registry.add(
        Room(
            name="record",
            report=report,
            prefetch=PREFETCH,
            watches=[
                (Configuration, lambda row: [row.build_id]),
                *(
                    (model, of_client)
                    for model in (
                        people.Measure,
                        people.AccessProfile,
                        people.SittingProfile,
                        people.CautionAnswer,
                        people.Clearance,
                        people.Consent,
                        people.Household,
                        people.Place,
                    )
                ),
                (Lab, builds_with_papers),
            ],
        )
    )


def builds_with_papers(lab):
    from builds.record.models import Build

    return Build.objects.filter(issued_papers__superseded_at__isnull=True).values_list("pk", flat=True).distinct()


def report(build):
    configuration = build.configuration()
    client = build.client
    return Report(
        evidence=[
            Evidence("plan", "plan", "Build plan", {"revision": str(build.plan_revision)}),
            *configuration_evidence(configuration),
            *client_evidence(build, client),
            *clearance_evidence(client),
            consent_evidence(client),
            lab_evidence(),
        ],
        conditions=list(own_conditions(build, configuration)),
        section={"configuration": configuration, "clearance": current_clearance(client)},
    )


def configuration_evidence(configuration):
    if configuration is None:
        return
    yield Evidence(
        "configuration",
        "configuration",
        "Configuration",
        {
            "side": configuration.get_side_display(),
            "purpose": configuration.get_purpose_display(),
            "arm": configuration.get_arm_display(),
            "ceiling": in_unit(configuration.ceiling_m_s, "m/s"),
            "ceiling_position": configuration.ceiling_position,
            "mount": configuration.mount,
            "seat": configuration.seat,
            "supports": sorted(configuration.supports),
            "disconnect": configuration.disconnect,
            "rider_place": configuration.rider_place,
            "shoulder_place": configuration.shoulder_place,
            "control_place": configuration.control_place,
        },
    )


def in_unit(value, unit):
    return None if value is None else f"{value:.6g} {unit}"


def client_evidence(build, client):
    yield Evidence("client-mass", "client-mass", "The client's mass", {"mass": mass_in_words(build, client)})
    access = getattr(client, "access", None)
    if access:
        yield Evidence(
            "client-access",
            "client-access",
            "Access profile",
            {
                "side": access.get_side_display(),
                "purpose": access.get_purpose_display(),
                "site": access.get_site_display(),
                "method": access.get_method_display(),
                "release": access.get_releases_on_request_display(),
                "reach": reach_in_words(client, access.side),
            },
        )
    sitting = getattr(client, "sitting", None)
    if sitting:
        yield Evidence(
            "client-supports", "client-supports", "Supports needed", {"supports": sorted(sitting.supports)}
        )
    answers = {one.get_kind_display(): f"{one.get_answer_display()} {one.plan}".strip() for one in client.cautions.all()}
    yield Evidence("client-cautions", "client-cautions", "Cautions", {"answers": answers})
    places = {f"{one.name}": in_unit(one.slope_deg, "°") for one in client.places.all()}
    hazards = {f"{one.name}": one.hazards for one in client.places.all()}
    yield Evidence("client-places", "client-places", "Places", {"slopes": places, "hazards": hazards})
    home = getattr(client, "household", None)
    if home:
        yield Evidence(
            "client-hours",
            "client-hours",
            "Hours at home",
            {
                "wake": in_clock(home.wake_time),
                "sleep": in_clock(home.sleep_time),
                "plug_in": in_clock(home.plug_in_time),
            },
        )


def in_clock(time):
    return None if time is None else f"{time:%H:%M}"


def newest(client, kind, **more):
    """The newest measure of a kind, from rows already fetched."""
    rows = [
        one
        for one in client.measures.all()
        if one.kind == kind and not one.is_struck and all(getattr(one, name) == value for name, value in more.items())
    ]
    return max(rows, key=lambda one: (one.taken_on, one.pk), default=None)


def mass_in_words(build, client):
    """The client's mass, or that it lies within the ballast the unit was proved with: growth within it voids nothing."""
    mass = newest(client, people.Measure.Kind.MASS)
    if mass is None:
        return None
    proved = proved_ballast_kg(build)
    if proved is not None and mass.value_si <= proved:
        return f"within the {proved:.3g} kg that the unit was proved with"
    return f"{mass.value_si:.4g} kg"


def proved_ballast_kg(build):
    """The ballast of the floor run, as recorded by the bench; None where there is none."""
    from builds.record import hooks

    known = [value for value in (ask(build) for ask in hooks.proved_ballast) if value is not None]
    return min(known, default=None)


def reach_in_words(client, side):
    reach = newest(client, people.Measure.Kind.REACH, side=side, compensation="without")
    return None if reach is None else f"{reach.value_si:.4g} m"


def clearance_evidence(client):
    clearance = current_clearance(client)
    if clearance:
        yield Evidence(
            "clearance",
            "clearance",
            "Clearance",
            {
                "given": f"{clearance.clinician}, {clearance.given_on}",
                "expires": str(clearance.expires_on),
                "scope": clearance.get_scope_display(),
                "equipment": clearance.get_equipment_display(),
                "speed": in_unit(clearance.greatest_speed_m_s, "m/s"),
                "supports": sorted(clearance.supports),
                "session": clearance.session_min,
                "places": sorted(clearance.places),
                "conditions": clearance.conditions,
            },
        )


def consent_evidence(client):
    given = {}
    for one in sorted(client.consents.all(), key=lambda row: (row.signed_on, row.pk)):
        given[one.get_purpose_display()] = "given" if one.given and one.withdrawn_on is None else "not given"
    return Evidence("consent", "consent", "Consents", {"given": given})


def lab_evidence():
    lab = Lab.current()
    return Evidence("lab", "lab", "The lab", {"name": lab.name, "phone": lab.phone, "hours": lab.hours})


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
    from builds.record.voiding import standing_release

    position = build.holds().index(hold)
    decisions = list(build.hold_decisions.all())
    for before in build.holds()[:position]:
        stands = standing_release(decisions, before) is not None
        yield Condition(hold, f"The hold point {before.label} is released", stands, "", f"{ticket}#hold-points")


def clearance_condition(build, hold, configuration, url):
    clearance = current_clearance(build.client)
    if clearance is None:
        return Condition(hold, "A clearance is in date and covers this configuration", False, "None is in date.", url)
    beyond = outside(clearance, configuration, build.plan_revision.plan.equipment)
    return Condition(
        hold, "A clearance is in date and covers this configuration", not beyond, " ".join(beyond), url
    )


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
        mass = newest(build.client, people.Measure.Kind.MASS)
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
    newest_word = {}
    for one in sorted(build.client.consents.all(), key=lambda row: (row.signed_on, row.pk)):
        newest_word[one.purpose] = one.given and one.withdrawn_on is None
    for purpose in people.Consent.NEEDED_FOR_HAND_OFF:
        yield Condition(
            Hold.HAND_OFF,
            f"Consent is on file: {purpose.label.lower()}",
            newest_word.get(purpose, False),
            "",
            url,
        )
