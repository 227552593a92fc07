"""A build started by the rules, and one as large as the largest that the pages must bear."""

from builds.bench.models import Section, StepResult
from builds.demo import journey
from builds.demo.crew import Crew
from builds.demo.factories.accounts import AccountFactory
from builds.demo.factories.bench import BuildStepFactory
from builds.demo.factories.clients import make_cleared_client
from builds.demo.factories.wiring import WireRunFactory
from builds.record.holds import Stage
from builds.record.models import Build
from builds.record.voiding import at_the_end
from builds.wiring.checks import run_digest
from builds.wiring.models import WireCheck
from labsite.roles import Role

FULL_STEPS = 120
FULL_RUNS = 60
TOY_CLEARANCE = {"equipment": "toy"}


def make_crew(**people):
    """A coordinator, two builders and a reviewer; those given are used as they are."""
    roles = {
        "coordinator": Role.COORDINATOR, "builder": Role.BUILDER, "second": Role.BUILDER, "reviewer": Role.REVIEWER,
    }  # fmt: skip
    return Crew(**{place: people.get(place) or AccountFactory(role=role) for place, role in roles.items()})


def make_build(plan="one-hand-stick", crew=None, *, client=None, stage=Stage.PLAN, **settings):
    """A build at this stage, everything before it done by the rules."""
    crew = crew or make_crew()
    if client is None:
        clearance = TOY_CLEARANCE if plan == "switch-socket" else {}
        client = make_cleared_client(crew.coordinator, clearance=clearance)
    build = journey.start(plan, client, crew, **settings)
    journey.take_to(build, stage, crew)
    return Build.objects.get(pk=build.pk)


def full_build(crew=None):
    """A build at Commissioning with 120 steps and 60 wire runs, each with its result and its checks."""
    crew = crew or make_crew()
    build = make_build(crew=crew, stage=Stage.COMMISSIONING)
    with at_the_end():
        more_steps(build, crew)
        more_runs(build, crew)
    return Build.objects.get(pk=build.pk)


def more_steps(build, crew):
    for _ in range(FULL_STEPS - build.steps.count()):
        step = BuildStepFactory(build=build, section=Section.ADAPTATION, deviation_by=crew.builder,
                                deviation_reason="One more thing to do")  # fmt: skip
        StepResult.objects.create(step=step, outcome="passed", configuration=build.configuration(),
                                  made_by=crew.builder)  # fmt: skip


def more_runs(build, crew):
    fuse = build.fuses.first()
    for _ in range(FULL_RUNS - build.wire_runs.count()):
        run = WireRunFactory(build=build, fuse=fuse, deviation_by=crew.builder)
        for round, account in (("first", crew.builder), ("second", crew.second)):
            WireCheck.objects.create(run=run, round=round, made_by=account, run_digest=run_digest(run),
                                     **dict.fromkeys(WireCheck.TICKS, WireCheck.Tick.RIGHT))  # fmt: skip
