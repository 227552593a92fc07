"""The builds of the demo lab that are in the workshop. Each function tells one story and returns its build."""

from auditlog.context import set_actor
from django.utils import timezone

from builds.bench.models import Section, StepResult
from builds.bench.progress import Bench
from builds.bench.rules import record_result
from builds.demo import harness, journey, tuning
from builds.demo.factories.bench import pass_step
from builds.demo.factories.proving import RIGHT_MOTOR_CROSSED, make_proving_run
from builds.demo.families import cleared
from builds.demo.readings import typed_for
from builds.record import nonconformances, releasing, rules
from builds.record.holds import Hold, Stage, Standing
from builds.record.models import Nonconformance, Problem, Task
from builds.record.voiding import at_the_end, recheck


def begin(clock, crew, plan, family, started, stage=Stage.PLAN, **settings):
    """A build that started so many days ago and is at this stage, with the work of the stage still to do."""
    clock.go_to(started)
    client = cleared(family, crew.coordinator)
    pace = clock.pace_of(started)
    build = journey.start(plan, client, crew, **settings)
    return journey.take_to(build, stage, crew, pace)


def some_steps(build, crew, section, count):
    """The first few steps of a section."""
    with at_the_end():
        for state in Bench(build).of(section)[:count]:
            pass_step(state.step, crew.builder, **typed_for(state.step, build))
    rules.forget_prefetched(build)


def failing_its_incoming_test(clock, people):
    """The battery gives way under load: a nonconformance is open."""
    crew = people.crew(builder="ben", second="pia", reviewer="samir")
    build = begin(clock, crew, "press-switch", "tsegaye", 9, Stage.INCOMING_TEST)
    some_steps(build, crew, Section.INCOMING_TEST, 2)
    step = build.steps.get(section=Section.INCOMING_TEST, tests="battery")
    record_result(
        step, crew.builder, outcome=StepResult.Outcome.FAILED, reading_typed="9.2 V", instrument="Bench meter 2",
        note="Falls below 10 V after 20 seconds. The battery is five years old.",
    )  # fmt: skip
    return build


def waiting_for_a_reviewer(clock, people):
    """Every incoming test is passed and a reviewer has been asked."""
    crew = people.crew(builder="pia", second="yuki")
    build = begin(clock, crew, "one-hand-stick", "kowhai", 8, Stage.INCOMING_TEST)
    journey.work(build, crew, Section.INCOMING_TEST)
    clock.go_to(2)
    releasing.ask(build, Hold.SOUND_UNIT, crew.builder)
    return build


def in_teardown(clock, people):
    """Half taken apart, with a line in the problem log and a task."""
    crew = people.crew(builder="yuki", second="ben")
    build = begin(clock, crew, "one-hand-stick", "lindgren", 13, Stage.TEARDOWN)
    some_steps(build, crew, Section.TEARDOWN, 3)
    clock.go_to(3)
    Problem.objects.create(build=build, made_by=crew.builder, text="One screw of the left gearbox was stripped before.")
    Task.objects.create(build=build, text="Order two screws for the left gearbox.", due_on=timezone.localdate())
    return build


def waiting_for_the_second_check(clock, people):
    """The harness is made and checked once; the blind second check is still to come."""
    crew = people.crew(builder="ben", second="yuki", reviewer="samir")
    build = begin(clock, crew, "press-switch", "ferreira", 24, Stage.ADAPTATION)
    journey.work(build, crew, Section.ADAPTATION)
    harness.measure(build, crew.builder)
    harness.check_all(build, crew.builder, "first")
    return build


def on_hold(clock, people):
    """It waits for a part."""
    crew = people.crew(builder="pia", second="ben")
    build = begin(clock, crew, "press-switch", "alsabagh", 30, Stage.ADAPTATION)
    some_steps(build, crew, Section.ADAPTATION, 2)
    clock.go_to(5)
    rules.set_standing(build, Standing.ON_HOLD, people.nadia, "The relay is on order; it is due in two weeks")
    return build


def voided_by_a_wire_run(clock, people):
    """First power stood until a thinner wire went in: the release is void and says so.

    The arm swaps sides, so the stick was captured on both; a capture that came out mirrored was refused.
    """
    crew = people.crew(builder="ben", second="pia")
    build = begin(clock, crew, "one-hand-stick", "haddow", 36, Stage.COMMISSIONING, arm="swaps")
    tuning.capture_crossed(build, crew.builder)
    tuning.calibrate(build, crew.builder)
    some_steps(build, crew, Section.COMMISSIONING, 4)
    clock.go_to(1)
    run = build.wire_runs.get(code="W5")
    run.gauge, run.deviation_by = "14 AWG", crew.builder
    run.deviation_reason = "The 12 AWG wire did not go through the left grommet"
    with set_actor(crew.builder):
        run.save(update_fields=["gauge", "deviation_by", "deviation_reason"])
    recheck(build, crew.builder)
    return build


def proved_crossed(build, crew):
    """The right motor's two leads were exchanged: the run fails and holds the build until they are put right."""
    make_proving_run(build, crew.builder, showed=RIGHT_MOTOR_CROSSED)
    wrong = build.nonconformances.get(closed_at__isnull=True)
    nonconformances.dispose(
        wrong, crew.builder, disposition=Nonconformance.Disposition.REWORK,
        cause="The right motor's two wires were exchanged at its controller",
        fix="Exchanged back as the wire list says; both labels read again",
    )  # fmt: skip
    rules.forget_prefetched(build)


def in_fitting(clock, people):
    """Its first proving run failed on a crossed motor; mended and proved with ballast, it waits for the first ride."""
    crew = people.crew(builder="yuki", second="pia", reviewer="samir")
    clock.go_to(35)
    client = cleared("petrosyan", crew.coordinator)
    pace = clock.pace_of(35)
    build = journey.take_to(journey.start("one-hand-stick", client, crew), Stage.COMMISSIONING, crew, pace)
    proved_crossed(build, crew)
    journey.take_to(build, Stage.FITTING, crew, pace)
    some_steps(build, crew, Section.FITTING, 2)
    return build


def ready_to_hand_off(clock, people):
    """A toy that fits; papers and teach-back are next."""
    return begin(clock, people.crew(builder="pia", second="yuki"), "switch-socket", "vandermolen", 39, Stage.HAND_OFF)


AT_THE_BENCH = (
    failing_its_incoming_test,
    waiting_for_a_reviewer,
    in_teardown,
    waiting_for_the_second_check,
    on_hold,
    voided_by_a_wire_run,
    in_fitting,
    ready_to_hand_off,
)
