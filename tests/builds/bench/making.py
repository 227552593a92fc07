"""A build with few steps, whose hold points can be let stand without what other rooms ask."""

from django.utils import timezone

from builds.bench.models import Section
from builds.demo.factories.bench import BuildStepFactory
from builds.demo.factories.parts import BaseUnitFactory
from builds.models import Build, Configuration, HoldDecision, Plan, PlanRevision
from builds.record import voiding
from builds.record.holds import Hold
from clients.models import Client, Consent

ALL_HOLDS = list(Hold.values)


def make_bench_build(coordinator, *builders, holds=ALL_HOLDS, **facts):
    plan, _ = Plan.objects.get_or_create(code="trial", defaults={"name": "Trial plan", "equipment": "ride_on"})
    content = {"hold_points": holds, "stick": False}
    revision, _ = PlanRevision.objects.get_or_create(plan=plan, number=1, defaults={"content": content, "digest": "0"})
    build = Build.objects.start(
        client=Client.objects.open_file(),
        unit=BaseUnitFactory(),
        plan_revision=revision,
        hold_points=holds,
        made_by=coordinator,
        **facts,
    )
    build.builders.set(builders)
    configure(build, coordinator, "left")
    return build


def configure(build, account, side, **settings):
    number = build.configurations.count() + 1
    return Configuration.objects.create(
        build=build, number=number, side=side, reason="Set at the bench", made_by=account, **settings
    )


def let_stand(build, reviewer, *holds):
    """Releases on the evidence of now, whatever other rooms would ask; make the steps first."""
    for hold in holds:
        decisions = list(build.hold_decisions.all())
        kept = voiding.snapshot(hold, voiding.hold_evidence(build, hold, voiding.all_evidence(build), decisions))
        HoldDecision.objects.create(
            build=build, hold=hold, verdict="released", evidence=kept, digest=voiding.digest(kept), made_by=reviewer
        )


def battery_step(build, **facts):
    return BuildStepFactory(
        build=build,
        **{
            "section": Section.INCOMING_TEST,
            "title": "Battery at rest",
            "reading_label": "Battery voltage at rest",
            "reading_unit": "V",
            "limit_low": 12.4,
            "limit_source": "common practice",
            "tests": "battery",
            **facts,
        },
    )


def consent(build, account, given=True, withdrawn_on=None):
    return Consent.objects.create(
        client=build.client, purpose=Consent.Purpose.PHOTO_RECORD, given=given, version="1",
        signer="Caregiver", signed_on=timezone.localdate(), withdrawn_on=withdrawn_on, made_by=account,
    )  # fmt: skip
