"""What may be recorded at the bench. A result is never edited: it is struck with a reason, and another is recorded."""

from django.db import transaction

from builds.bench import readings
from builds.bench.gates import was_opened
from builds.bench.models import BuildStep, Section, StepResult
from builds.bench.progress import Bench, newest_result
from builds.record.models import Build
from builds.record.nonconformances import open_nonconformance
from builds.record.photos import NO_CONSENT, consent_for_photos, keep_photo
from builds.record.rules import Refused
from labsite.figures import moment

Outcome = StepResult.Outcome
CAME_SINCE = "{step} was recorded as {outcome} by {who} on {when} meanwhile. Look at it and record again."
LONGEST_NONCONFORMANCE = 500
TURN_ROUND = "Turn the leads or the instrument round and read again; where the minus is a fault, record it as failed"


def limits_of(step):
    return readings.limits_in_words(step.limit_low, step.limit_high, step.reading_unit)


def reading_problem(step, outcome, typed):
    """(reading or None, what is wrong with it or empty). To pass, a reading is due; else it is welcome."""
    typed = (typed or "").strip()
    if not step.reading_label:
        return None, ""
    if not typed:
        return None, f"Enter the reading: {step.reading_label}" if outcome == Outcome.PASSED else ""
    try:
        value = readings.read(typed, label=step.reading_label, unit=step.reading_unit)
    except readings.ReadingError as error:
        return None, str(error)
    if outcome == Outcome.PASSED and not readings.within(value, step.limit_low, step.limit_high):
        return value, f"{step.reading_label} must be {limits_of(step)} to pass; record it as failed"
    if outcome == Outcome.PASSED and readings.minus_too_many(value, step.limit_low, step.limit_high, step.reading_unit):
        return value, f"{step.reading_label} must not be below zero to pass. {TURN_ROUND}"
    return value, ""


def note_problem(bench, step, outcome, note):
    if note.strip():
        return ""
    if outcome == Outcome.FAILED:
        return "Enter the note: what failed"
    if outcome == Outcome.DOES_NOT_APPLY:
        return "Enter the note: why the step does not apply"
    if step.section == Section.INCOMING_TEST and was_opened(bench):
        return "Enter the note: how the opened unit was put back as it was bought"
    return ""


def photo_problem(build, step, outcome, has_photo, shows_client):
    if outcome == Outcome.PASSED and step.needs_photo and not has_photo:
        return "Choose the photo: this step needs one to pass"
    if has_photo and shows_client and not consent_for_photos(build):
        return NO_CONSENT
    return ""


def problems(bench, step, *, outcome, reading_typed="", note="", has_photo=False, shows_client=False):
    """(reading, {field: what to do}) for what was typed for this step."""
    reading, wrong = reading_problem(step, outcome, reading_typed)
    found = {
        "reading": wrong,
        "note": note_problem(bench, step, outcome, note),
        "photo": photo_problem(bench.build, step, outcome, has_photo, shows_client),
    }
    return reading, {field: text for field, text in found.items() if text}


def recorded_since(step, based_on):
    """The newest result in words, where whoever records saw none newer than `based_on`; else nothing.

    `based_on` is the key of the newest result on the page, 0 for none; None where no page was opened.
    """
    newest = newest_result(step)
    if based_on is None or newest is None or newest.pk <= based_on:
        return ""
    return CAME_SINCE.format(
        step=step.code,
        outcome=newest.get_outcome_display().lower(),
        who=newest.made_by.full_name,
        when=moment(newest.made_at),
    )


@transaction.atomic
def record_result(
    step, account, *, outcome, reading_typed="", instrument="", note="", photo_file=None, shows_client=False,
    based_on=None,
):  # fmt: skip
    """Record what came of a step. A failed one opens a nonconformance that holds the build."""
    build = Build.objects.select_for_update(of=("self",)).select_related("unit", "client").get(pk=step.build_id)
    bench = Bench(build)
    step = recordable(bench, step, based_on)
    reading, wrong = problems(
        bench, step, outcome=outcome, reading_typed=reading_typed, note=note,
        has_photo=photo_file is not None, shows_client=shows_client,
    )  # fmt: skip
    if wrong:
        raise Refused("; ".join(wrong.values()))
    photo = photo_file and keep_photo(build, account, photo_file, caption=str(step)[:200], shows_client=shows_client)
    result = StepResult.objects.create(
        step=step,
        outcome=outcome,
        reading=reading,
        reading_typed=reading_typed.strip() if reading is not None else "",
        instrument=instrument.strip(),
        note=note.strip(),
        photo=photo or None,
        configuration=bench.configuration,
        made_by=account,
    )
    if outcome == Outcome.FAILED:
        open_nonconformance(build, account, what_failed(step, result), source=source_of(step))
    return result


def recordable(bench, step, based_on=None):
    """The step as it stands now, refused when it was struck or recorded meanwhile or waits for something else."""
    found = next((one.step for one in bench.states if one.step.pk == step.pk), None)
    if found is None:
        raise Refused("This step was struck from the build. Go back and look for the next one.")
    if told := recorded_since(found, based_on):
        raise Refused(told)
    blocked = bench.blocked(found)
    if blocked:
        raise Refused(blocked.why)
    return found


def source_of(step):
    """What a nonconformance of this step names as its source."""
    return f"step:{step.pk}"


def what_failed(step, result):
    """The failed step in words, the note cut short where it would not fit."""
    read = ""
    if result.reading is not None:
        limits = limits_of(step)
        read = f" {step.reading_label} {readings.with_unit(result.reading, step.reading_unit)}"
        read += f", must be {limits}." if limits else "."
    head = f"{step.get_section_display()}, {step}: failed.{read} "
    room = LONGEST_NONCONFORMANCE - len(head)
    return head + (result.note if len(result.note) <= room else result.note[: room - 1] + "…")


@transaction.atomic
def strike_result(result, account, reason):
    """Strike a result with a reason; the one before it counts again."""
    result = StepResult.objects.select_for_update(of=("self",)).select_related("step").get(pk=result.pk)
    if result.is_struck:
        raise Refused("This result is struck already.")
    if not reason.strip():
        raise Refused("Enter the reason for striking.")
    result.strike(account, reason.strip())
    return result


def standing_step(step):
    """The step read again and locked, refused when it was struck meanwhile."""
    step = BuildStep.objects.select_for_update(of=("self",)).select_related("build").get(pk=step.pk)
    if step.is_struck:
        raise Refused("This step is struck already.")
    return step
