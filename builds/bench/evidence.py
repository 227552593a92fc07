"""What the bench offers to the hold points: every step with what came of it."""

from builds.bench import readings
from builds.bench.deviations import deviation_in_words
from builds.bench.gates import section_url
from builds.bench.models import BuildStep, Section, StepResult
from builds.bench.progress import AGAIN, DOES_NOT_APPLY, FAILED, OUTSIDE, PASSED, TICKET_PREFETCH, Bench
from builds.bench.rules import limits_of
from builds.record import hooks
from builds.record.holds import Hold
from builds.record.registry import Condition, Evidence, Report, Room

KIND = {
    Section.INCOMING_TEST: "incoming-step",
    Section.TEARDOWN: "adaptation-step",
    Section.ADAPTATION: "adaptation-step",
    Section.COMMISSIONING: "commissioning-step",
    Section.FITTING: "fitting-step",
}
# Which hold point asks for which sections, in what words. Where a plan lacks the hold point, its next one asks.
ASKS = [
    (Hold.SOUND_UNIT, (Section.INCOMING_TEST,), "Each incoming test on the unmodified unit is passed"),
    (Hold.FIRST_POWER, (Section.TEARDOWN, Section.ADAPTATION), "Each teardown and adaptation step is done"),
    (Hold.FIRST_RIDE, (Section.COMMISSIONING,), "Each commissioning test is passed, in order"),
    (Hold.HAND_OFF, (Section.FITTING,), "Each fitting step is passed"),
]
OR_NOT = ", or does not apply"


def register(registry):
    registry.add(
        Room(
            name="bench",
            report=report,
            prefetch=TICKET_PREFETCH,
            work=("steps",),
            watches=[(BuildStep, lambda row: [row.build_id]), (StepResult, lambda row: [row.step.build_id])],
        )
    )
    if proved_ballast_kg not in hooks.proved_ballast:
        hooks.proved_ballast.append(proved_ballast_kg)
    if measured not in hooks.measured:
        hooks.measured.append(measured)


def report(build):
    bench = Bench(build)
    step, blocked = bench.next_step()
    return Report(
        evidence=[evidence_of(state, bench) for state in bench.states],
        conditions=list(conditions(bench)),
        workers=workers(bench),
        section={
            "sections": {section.value: progress_of(bench, section) for section in Section},
            "next_step": step,
            "blocked": blocked,
            "deviations": [line for line in map(deviation_in_words, bench.all_steps) if line],
        },
    )


def progress_of(bench, section):
    count = bench.count(section)
    step, blocked = bench.next_step(section)
    return {"done": count.done, "total": count.total, "failed": count.failed, "next": step, "blocked": blocked}


def evidence_of(state, bench):
    step, result = state.step, state.result
    counts = state.code in (PASSED, DOES_NOT_APPLY, FAILED)
    return Evidence(
        KIND[Section(step.section)],
        f"{KIND[Section(step.section)]}:{step.pk}",
        f"{step.get_section_display()} step {step}",
        {
            "outcome": outcome_in_words(state, bench),
            "reading": readings.with_unit(result.reading, step.reading_unit) if result and counts else None,
            "step": " ".join(filter(None, [step.title, step.must_see, step.reading_label])),
            "limits": limits_of(step) or "none",
            "note": result.note or None if result and state.code in (PASSED, FAILED) else None,
        },
    )


def outcome_in_words(state, bench):
    """The outcome as a change of it reads; None where there is none."""
    if state.code == AGAIN:
        side = bench.configuration.get_side_display().lower() if bench.configuration else "unknown"
        return f"to be done again with the control on this side: {side}"
    if state.code == OUTSIDE:
        return "recorded, and no longer enough to pass"
    if state.code == DOES_NOT_APPLY:
        return f"Does not apply: {state.result.note}"
    return state.result.get_outcome_display() if state.result else None


def conditions(bench):
    holds = bench.build.holds()
    for hold, sections, text in ASKS:
        asking = next((one for one in list(Hold)[list(Hold).index(hold) :] if one in holds), None)
        if asking:
            yield section_condition(bench, asking, sections, text + OR_NOT)
    if Hold.SOUND_UNIT in holds:
        yield photos_condition(bench)


def section_condition(bench, hold, sections, text):
    states = bench.of(*sections)
    step, _ = bench.next_step(*sections)
    url = section_url(bench.build, step.section if step else sections[0], step)
    if not states:
        return Condition(hold, text, None, "The build has no such step.", url)
    lacking = [one for one in states if not one.is_done]
    failed = [one.step.code for one in lacking if one.code == FAILED]
    why = f"{len(lacking)} of {len(states)} are not done." if lacking else ""
    if failed:
        why += f" Failed: {', '.join(failed)}."
    return Condition(hold, text, not lacking, why.strip(), url, agree=tuple(departures(bench, sections)))


def departures(bench, sections):
    """What of these sections departs from the plan, one sentence each: left out, struck or changed."""
    for state in bench.of(*sections):
        if state.code == DOES_NOT_APPLY:
            yield f"{state.step}: does not apply. {state.result.note}"
    for step in bench.all_steps:
        if step.section in sections and step.planned:
            yield from filter(None, [deviation_in_words(step)])


def photos_condition(bench):
    text = "Photos all round are taken"
    states = bench.testing("photos")
    url = section_url(bench.build, Section.INCOMING_TEST, states[0].step if states else None)
    taken = [one for one in states if one.code == PASSED and one.result.photo]
    if not states:
        return Condition(Hold.SOUND_UNIT, text, None, "The build has no step for them.", url)
    lacking = len(taken) < len(states)
    return Condition(Hold.SOUND_UNIT, text, not lacking, "No photo is kept with that step." if lacking else "", url)


def workers(bench):
    """Everybody who recorded or struck a result, or made a deviation."""
    found = set()
    for step in bench.all_steps:
        found |= {step.deviation_by_id, step.struck_by_id}
        for result in step.results.all():
            found |= {result.struck_by_id, result.made_by_id}
    return found - {None}


def proved_ballast_kg(build):
    """The least ballast that a floor run was passed with [kg]; None while there is none."""
    proved = [
        reading_in_kg(state) for state in Bench(build).testing("ballast") if state.code == PASSED and state.result
    ]
    return None if None in proved else min(proved, default=None)


def measured(build, code, unit):
    """The greatest passed reading of the steps that test this, in the unit asked for; None while there is none."""
    passed = [state for state in Bench(build).testing(code) if state.code == PASSED and state.result]
    found = [reading_in(state, unit) for state in passed]
    return None if None in found else max(found, default=None)


def reading_in_kg(state):
    return reading_in(state, "kg")


def reading_in(state, unit):
    if state.result.reading is None:
        return None
    try:
        typed = f"{state.result.reading} {state.step.reading_unit}"
        return readings.read(typed, label=state.step.reading_label, unit=unit)
    except readings.ReadingError:
        return None
