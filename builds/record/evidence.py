"""What the record itself offers to the hold points: plan, configuration, the client's side of it, nonconformances."""

from itertools import pairwise

from django.db.models import Prefetch, Q

from builds.engineering.quantities import format_quantity
from builds.record.client_evidence import clearance_evidence, client_evidence, consent_evidence, in_unit, lab_evidence
from builds.record.conditions import own_conditions
from builds.record.holds import Hold
from builds.record.models import Build, Configuration, HoldDecision, Nonconformance, Problem
from builds.record.registry import Evidence, Report, Room
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
    registry.add(
        Room(
            name="record",
            report=report,
            prefetch=PREFETCH,
            watches=[
                (Build, lambda row: [row.pk]),
                (Configuration, lambda row: [row.build_id]),
                *(
                    (model, builds_of_client)
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
                (Lab, builds_that_stand),
            ],
        )
    )


def builds_of_client(row):
    return Build.objects.filter(client_id=row.client_id).values_list("pk", flat=True)


def builds_that_stand(lab):
    """Builds with a release or a paper that may age: the lab says whom to call, and which tip angle it accepts."""
    papers = Q(issued_papers__isnull=False, issued_papers__superseded_at__isnull=True)
    releases = Q(hold_decisions__verdict=HoldDecision.Verdict.RELEASED, hold_decisions__voided_at__isnull=True)
    return Build.objects.filter(papers | releases).values_list("pk", flat=True).distinct()


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
        workers=menders(build),
        workers_on={
            **dict.fromkeys((Hold.FIRST_RIDE, Hold.HAND_OFF), configurers(build)),
            **dict.fromkeys((Hold.SOUND_UNIT, Hold.FIRST_POWER), power_setters(build)),
        },
    )


def configurers(build):
    """Who set something for this client. The first configuration is copied by the rule that starts a build."""
    return {one.made_by_id for one in build.configurations.all() if one.number > 1}


def power_setters(build):
    """Who set the battery or the charger, at any time: the first two hold points judge both."""
    rows = sorted(build.configurations.all(), key=lambda one: one.number)
    return {now.made_by_id for before, now in pairwise(rows) if power_of(before) != power_of(now)}


def power_of(configuration):
    return configuration.battery_id, configuration.charger_id


def menders(build):
    """Who closed a nonconformance with work. Using a thing as it is, a reviewer who did none decides."""
    as_is = Nonconformance.Disposition.USE_AS_IS
    return {one.closed_by_id for one in build.nonconformances.all() if not one.is_open and one.disposition != as_is}


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
            # Not known is None; that these were asked for later is in voids.LATER.
            "stop_switch": configuration.stop_switch or None,
            "power_switch": configuration.power_switch or None,
            "stop_reset": configuration.stop_reset or None,
            "straps_open": configuration.straps_open or None,
            "rider_place": configuration.rider_place,
            "shoulder_place": configuration.shoulder_place,
            "control_place": configuration.control_place,
            **arm_in_words(configuration),
        },
    )


def in_figures(name, value):
    return format_quantity(value, Configuration.ARM_QUANTITIES[name], figures=6)


def arm_in_words(configuration):
    """The arm on both sides, its pieces, what it carries and what its foot holds; the current is no setting of it."""
    known = {name: getattr(configuration, name) for name in configuration.ARM_QUANTITIES}
    told = {name: None if value is None else in_figures(name, value) for name, value in known.items()}
    return {**told, "arm_holding_from": configuration.get_arm_holding_from_display()}
