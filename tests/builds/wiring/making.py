"""A build with the harness of a real plan, without the path before it."""

from builds.demo.factories.parts import BaseUnitFactory, BatteryFactory, ChargerFactory
from builds.demo.factories.plans import make_plan_revision
from builds.demo.factories.wiring import ALL_RIGHT
from builds.models import Build, WireCheck
from builds.plans.copying import copy_to_build
from builds.record.rules import configure
from builds.wiring.checks import run_digest
from clients.models import Client


def make_planned_build(coordinator, *builders, plan="one-hand-stick", unit=None, **settings):
    revision = make_plan_revision(plan)
    build = Build.objects.start(
        client=Client.objects.open_file(),
        unit=unit or BaseUnitFactory(),
        plan_revision=revision,
        hold_points=revision.content["hold_points"],
        made_by=coordinator,
    )
    build.builders.set(builders)
    copy_to_build(build, coordinator)
    known = {"side": "left", "purpose": "better", "battery": BatteryFactory(), "charger": ChargerFactory()}
    configure(build, coordinator, "As the profile says", **{**known, **settings})
    return build


def tick_runs(build, account, round=WireCheck.Round.FIRST):
    """Every run found right, written at once: for tests of what follows, where the rule has its own tests."""
    made = [
        WireCheck(run=run, round=round, made_by=account, run_digest=run_digest(run), **ALL_RIGHT)
        for run in build.wire_runs.standing()
    ]
    WireCheck.objects.bulk_create(made)


def fresh(build):
    return Build.objects.get(pk=build.pk)


def typed(form):
    """What a browser would send for a form shown and sent unchanged."""
    data = {}
    for bound in form:
        value = bound.value()
        if value is None or value is False:
            continue
        data[bound.html_name] = [str(one) for one in value] if isinstance(value, (list, tuple)) else str(value)
    return data
