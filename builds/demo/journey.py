"""Takes a build along its path by the rules that a person uses. Nothing here steps over a condition.

`take_to(build, Stage.FITTING, crew)` does all the work before that stage and is there; each `through_…` does the
work of one stage and moves on. `pace(build, stage)` is called at every stop, so that the demo lab can spread
the work over its weeks.
"""

from builds.bench.models import Section
from builds.bench.progress import Bench
from builds.demo import harness, leaving, tuning
from builds.demo.factories.bench import pass_step
from builds.demo.factories.parts import (
    BaseUnitFactory,
    RestoreItemFactory,
    RestoreKitFactory,
    make_one_motor_unit,
    make_toy_unit,
    place_parts,
)
from builds.demo.factories.plans import make_plan_revision
from builds.demo.readings import typed_for
from builds.record import releasing, rules
from builds.record.holds import PATH, Hold, Stage
from builds.record.voiding import at_the_end

UNITS = {"one-hand-stick": BaseUnitFactory, "press-switch": make_one_motor_unit, "switch-socket": make_toy_unit}


def no_pace(build, stage):
    """The work is done as fast as it is recorded."""


def start(plan, client, crew, *, unit=None, **settings):
    """Begin a build of a cleared client on a free unit, and set what is planned for the client."""
    build = rules.start_build(
        client=client,
        unit=unit or UNITS[plan](),
        plan_revision=make_plan_revision(plan),
        account=crew.coordinator,
        referral=client.open_referral(),
        builders=[crew.builder, crew.second],
        reviewer=crew.reviewer,
    )
    tuning.set_up(build, crew.coordinator, **settings)
    return build


def release(build, hold, crew, pace=no_pace):
    """Ask for a hold point and release it, as far as the plan has it."""
    if hold not in build.holds():
        return None
    releasing.ask(build, hold, crew.builder)
    decision = releasing.release(build, hold, crew.reviewer, agreed=releasing.departures(build, hold))
    rules.forget_prefetched(build)
    pace(build, hold)
    return decision


def move(build, stage, crew, pace=no_pace):
    """Move on by the rule; the build that was given is the one that moved."""
    moved = rules.move(build, stage, crew.coordinator)
    build.stage, build.stage_since = moved.stage, moved.stage_since
    rules.forget_prefetched(build)
    pace(build, stage)
    return build


def work(build, crew, *sections):
    """Pass what is open in these sections, each reading as a sound unit would give it."""
    with at_the_end():
        for state in Bench(build).of(*sections):
            if not state.is_done:
                pass_step(state.step, crew.builder, **typed_for(state.step, build))
    rules.forget_prefetched(build)


def through_planning(build, crew, pace=no_pace):
    move(build, Stage.INCOMING_TEST, crew, pace)


def through_incoming_test(build, crew, pace=no_pace):
    work(build, crew, Section.INCOMING_TEST)
    release(build, Hold.SOUND_UNIT, crew, pace)
    move(build, Stage.TEARDOWN, crew, pace)


def through_teardown(build, crew, pace=no_pace):
    work(build, crew, Section.TEARDOWN)
    keep_restore_kit(build, crew.builder)
    move(build, Stage.ADAPTATION, crew, pace)


def keep_restore_kit(build, builder, location="Shelf 3, box 12"):
    """What was taken out, by the list that the plan begins with."""
    with at_the_end():
        for item in build.plan_revision.content["restore_kit"]:
            RestoreItemFactory(
                build=build, made_by=builder, name=item["name"], mark=item["mark"], location=location,
                quantity=item.get("quantity") or 1,
            )  # fmt: skip
        RestoreKitFactory(build=build, location=location, checked_by=builder)
    rules.forget_prefetched(build)


def through_adaptation(build, crew, pace=no_pace):
    work(build, crew, Section.ADAPTATION)
    with at_the_end():
        place_parts(build)
        through_wiring(build, crew)
    release(build, Hold.FIRST_POWER, crew, pace)
    move(build, Stage.COMMISSIONING, crew, pace)


def through_wiring(build, crew):
    """The harness as it was made, checked by its builder and, blind, by somebody who made none of it."""
    harness.measure(build, crew.builder)
    harness.check_all(build, crew.builder, "first")
    harness.check_all(build, crew.second, "second")


def through_commissioning(build, crew, pace=no_pace):
    with at_the_end():
        tuning.calibrate(build, crew.builder)
        tuning.prove(build, crew.builder)
    work(build, crew, Section.COMMISSIONING)
    with at_the_end():
        tuning.time_runs(build, crew.builder)
        tuning.measure_stops(build, crew.builder)
    release(build, Hold.FIRST_RIDE, crew, pace)
    move(build, Stage.FITTING, crew, pace)


def through_fitting(build, crew, pace=no_pace):
    work(build, crew, Section.FITTING)
    move(build, Stage.HAND_OFF, crew, pace)


def through_hand_off(build, crew, pace=no_pace, **how):
    """Papers, teach-back, terms, first contacts, the last release; then the unit leaves."""
    with at_the_end():
        leaving.hand_over(build, crew, **how)
    release(build, Hold.HAND_OFF, crew, pace)
    leaving.sign(build)
    move(build, Stage.IN_USE, crew, pace)


THROUGH = {
    Stage.PLAN: through_planning,
    Stage.INCOMING_TEST: through_incoming_test,
    Stage.TEARDOWN: through_teardown,
    Stage.ADAPTATION: through_adaptation,
    Stage.COMMISSIONING: through_commissioning,
    Stage.FITTING: through_fitting,
    Stage.HAND_OFF: through_hand_off,
}


def take_to(build, stage, crew, pace=no_pace):
    """Do everything before this stage, so that the build is at it. From In use on, a person says what happens."""
    for one in PATH[PATH.index(build.stage) : PATH.index(stage)]:
        THROUGH[one](build, crew, pace)
    return build
