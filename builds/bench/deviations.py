"""Deviations of a build from its plan: a step changed, added or struck, each with its reason and its author.

`planned` keeps the plan's own words, so that what differs can always be shown.
"""

from django.db import transaction
from django.db.models import Max

from builds.bench.models import BuildStep, Section
from builds.bench.progress import newest_result
from builds.bench.rules import limits_of, standing_step
from builds.engineering.finding import plain
from builds.engineering.instruments import bounds_in_words, can_be_read
from builds.record.models import Build
from builds.record.rules import Refused

CHANGEABLE = (
    "title",
    "detail",
    "must_see",
    "reading_label",
    "reading_unit",
    "limit_low",
    "limit_high",
    "limit_source",
    "needs_photo",
)
# What a result was recorded against, word for word.
SAID_AT_RESULT = ("title", "must_see", "reading_label", "reading_unit")
ADDED_PREFIX = "X"
LONGEST_REASON = 300


def changed_from_plan(step):
    """(label, the plan's value, the value now) for each field that differs; empty for an added or unchanged step."""
    if not step.planned:
        return []
    before = BuildStep.words_of_plan(step.planned)
    return [
        (str(BuildStep._meta.get_field(name).verbose_name), said(before[name]), said(getattr(step, name)))
        for name in CHANGEABLE
        if getattr(step, name) != before[name]
    ]


def said(value):
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        return plain(value, 6)
    return value or "none"


def deviation_in_words(step):
    """One line on how this step departs from the plan; empty when it does not."""
    if step.is_struck:
        return f"{step}: struck from this build. {step.struck_reason}"
    if not step.planned:
        return f"{step}: added for this build. {step.deviation_reason}"
    if step.deviation_reason:
        return f"{step}: changed from the plan. {step.deviation_reason}"
    return ""


@transaction.atomic
def change_step(step, account, changes, reason):
    """Change a step for this build only. What a standing result was recorded against does not change under it."""
    step = standing_step(step)
    differing = {name: value for name, value in changes.items() if getattr(step, name) != value}
    if set(differing) - set(CHANGEABLE):
        raise ValueError(f"Not changed here: {', '.join(sorted(set(differing) - set(CHANGEABLE)))}")
    if not differing:
        raise Refused("Nothing is changed yet. Change the step, or go back.")
    must_have_reason(reason)
    if newest_result(step) and set(differing) & set(SAID_AT_RESULT):
        raise Refused("A result was recorded against these words. Strike the result first, then change the step.")
    for name, value in differing.items():
        setattr(step, name, value)
    must_make_sense(step)
    step.deviation_reason = joined(step.deviation_reason, reason)
    step.deviation_by = account
    step.save(update_fields=[*differing, "deviation_reason", "deviation_by"])
    return step


def must_have_reason(reason):
    if not reason.strip():
        raise Refused("Enter the reason for the deviation.")


def must_make_sense(step):
    low, high = step.limit_low, step.limit_high
    if low is not None and high is not None and low > high:
        raise Refused("At least must not be above at most.")
    for word, limit in (("At least", low), ("At most", high)):
        if limit is not None and not can_be_read(limit, step.reading_unit):
            raise Refused(f"{word} must be {bounds_in_words(step.reading_unit)}: beyond that nothing is read.")
    if not step.reading_label and (low is not None or high is not None):
        raise Refused("Enter the reading that the limits are for.")
    if limits_of(step) and not step.limit_source:
        raise Refused("Enter where the limit comes from.")


def joined(before, reason):
    """Both reasons where they fit; the trail of changes keeps every one."""
    both = f"{before}; {reason.strip()}" if before else reason.strip()
    return both if len(both) <= LONGEST_REASON else reason.strip()


@transaction.atomic
def add_step(build, account, section, reason, *, after=None, **fields):
    """Add a step for this build only, at the end of its section or after one of its steps."""
    must_have_reason(reason)
    build = Build.objects.select_for_update(of=("self",)).get(pk=build.pk)
    step = BuildStep(
        build=build,
        section=Section(section),
        order=after.order if after else last_order(build, section),
        code=next_code(build),
        deviation_reason=reason.strip(),
        deviation_by=account,
        **fields,
    )
    must_make_sense(step)
    step.save(force_insert=True)
    return step


def last_order(build, section):
    """Steps of one order stand as they were made, so the newest comes last."""
    return build.steps.filter(section=section).aggregate(last=Max("order"))["last"] or 0


def next_code(build):
    taken = set(build.steps.filter(code__startswith=ADDED_PREFIX).values_list("code", flat=True))
    number = 1
    while f"{ADDED_PREFIX}{number}" in taken:
        number += 1
    return f"{ADDED_PREFIX}{number}"


@transaction.atomic
def strike_step(step, account, reason):
    """Take a step out of this build. A test that a hold point counts on stays; it may be said not to apply."""
    step = standing_step(step)
    must_have_reason(reason)
    if step.planned and step.tests:
        raise Refused(
            "A hold point counts on this test, so it stays on the list. "
            "Where it does not apply, record that with the reason."
        )
    step.strike(account, reason.strip())
    return step
