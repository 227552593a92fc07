"""The one next thing to do on a build, for whoever looks at its ticket."""

from dataclasses import dataclass, replace
from urllib.parse import urlsplit

from django.urls import resolve, reverse

from builds.record import releasing, rules
from builds.record.holds import GATE, Stage, Standing
from labsite.roles import Role

SECTIONS = {
    Stage.INCOMING_TEST: "incoming_test",
    Stage.TEARDOWN: "teardown",
    Stage.ADAPTATION: "adaptation",
    Stage.COMMISSIONING: "commissioning",
    Stage.FITTING: "fitting",
}

COORDINATOR = Role.COORDINATOR.label
# Pages on which only the lab coordinator can do what is missing; the first ones nobody else at the bench may open.
NAMES_FAMILY = {"teach_back", "hand_off", "contacts"}
AT_THE_DESK = {*NAMES_FAMILY, "client_page", "papers", "lab_settings", "unit_types", "base_unit"}
# Pages of the bench: their work is the builders', apart from the check that is nobody's who built.
AT_THE_BENCH = {
    *("bench_section", "build_parts", "calibrations", "captures", "configurations", "controller", "drive_map"),
    *("harness", "proving_runs", "restore_kit", "timed_runs", "wire_checks"),
}
BUILDER = Role.BUILDER.label
SECOND_PERSON = "Second person, who did no work on it"
WHOSE = {
    **dict.fromkeys(AT_THE_DESK, COORDINATOR),
    **dict.fromkeys(AT_THE_BENCH, BUILDER),
    "second_check": SECOND_PERSON,
    "check_differences": "Both who checked",
}
MOVES = {"build_move", "build_end", "build_people", "build_standing", "task_done"}
MOVED_BY_COORDINATOR = (Stage.INCOMING_TEST, Stage.IN_USE)


@dataclass(frozen=True)
class NextStep:
    text: str
    url: str
    who: str = ""


def next_step(build, reports, lines, account):
    """The first of these that applies; a build that has come to its end has none."""
    ticket = reverse("ticket", args=[build.number])
    for find in (_urgent, _stopped, _void, _section, _gate, _ahead):
        step = find(build, reports, lines, ticket)
        if step:
            return _told_to(account, step)
    return None


def _told_to(account, step):
    """Says whose work it is where the page alone decides that, and offers no link that would be refused."""
    page = resolve(urlsplit(step.url).path).url_name
    who = step.who or WHOSE.get(page, "")
    barred = page in NAMES_FAMILY and not account.sees_identity
    barred = barred or (page in MOVES and who == COORDINATOR and not account.has_role(Role.COORDINATOR))
    return replace(step, who=who, url="" if barred else step.url)


def _urgent(build, reports, lines, ticket):
    """The family must be told to stop: nothing else on the build comes before that call."""
    urgent = build.urgent_tasks()
    if not urgent:
        return None
    return NextStep(urgent[0].text, reverse("task_done", args=[build.number, urgent[0].pk]), COORDINATOR)


def _stopped(build, reports, lines, ticket):
    if build.standing == Standing.ON_HOLD:
        return _standing(build, "Reopen it when the reason is gone: ")
    if build.standing == Standing.CANCELLED:
        return _standing(build, "It is cancelled: ")
    if build.unit.is_marked_do_not_use:
        text = f"Find out why unit {build.unit.number} is marked do not use: {build.unit.do_not_use_reason}"
        return NextStep(text, reverse("base_unit", args=[build.unit.number]), "Reviewer or lab coordinator")
    for one in build.nonconformances.all():
        if one.is_open:
            url = reverse("nonconformance_close", args=[build.number, one.pk])
            return NextStep(f"Decide what is done with the nonconformance: {one.text}", url)
    return None


def _standing(build, text):
    return NextStep(
        text + build.standing_reason, reverse("build_standing", args=[build.number, Standing.OPEN]), COORDINATOR
    )


def _void(build, reports, lines, ticket):
    """A hold point that the build has passed is void: that comes before anything further on."""
    needed = rules.gates_before(build, build.stage)
    for line in lines:
        if line.hold in needed and line.release is None:
            return _toward_release(build, line, reports)
    return None


def _section(build, reports, lines, ticket):
    section = SECTIONS.get(build.stage)
    bench = reports["bench"].section.get("sections", {}) if "bench" in reports else {}
    step = bench.get(section, {}).get("next") if section else None
    if step is None:
        return None
    tuned = _tuned_first(build, reports, step)
    if tuned:
        return tuned
    url = reverse("bench_section", args=[build.number, section])
    return NextStep(f"{build.get_stage_display()}: {step.code} {step.title}", f"{url}#step-{step.pk}", BUILDER)


def _tuned_first(build, reports, step):
    """What a commissioning test would otherwise be made without: the ceiling, and the stick's rest."""
    if build.stage != Stage.COMMISSIONING or not build.rides:
        return None
    found = reports["drive"].section["drive"]
    if found.configuration is None or found.configuration.ceiling_m_s is None:
        text = "Set the configuration before commissioning: the speed ceiling in use is unknown."
        return NextStep(text, reverse("configurations", args=[build.number]))
    if build.has_stick and step.repeats_per_side and found.calibration is None and found.fit is None:
        text = f"Calibrate the stick before {step.code}: no capture and no calibration is accepted for the side in use."
        return NextStep(text, reverse("captures", args=[build.number]))
    if step.tests == "proving" and reports["drive"].section["proving"] != "passed":
        text = f"{step.code}: go through the proving run, wheels up, line by line."
        return NextStep(text, reverse("proving_runs", args=[build.number]), BUILDER)
    return None


def _gate(build, reports, lines, ticket):
    stage = rules.next_stage(build)
    hold = GATE.get(stage)
    if hold is None or hold not in build.holds():
        return None
    line = next(one for one in lines if one.hold == hold)
    return None if line.release else _toward_release(build, line, reports)


def _toward_release(build, line, reports):
    page = reverse("hold_point", args=[build.number, line.hold])
    missing = releasing.unmet(build, line.hold, reports)
    void = f" It is void: {line.why_void[0]}." if line.why_void else ""
    if missing:
        one = missing[0]
        more = f" ({len(missing)} conditions of {line.hold.label} are not met)" if len(missing) > 1 else ""
        return NextStep(f"{line.hold.label}. {one.told}. {one.why}{more}{void}".strip(), one.url or page)
    if line.asked:
        return NextStep(f"{line.hold.label} waits for a reviewer.{void}", page, "Reviewer")
    if line.last and not line.last.is_release:
        refused = f"{line.hold.label} was refused: {line.last.reason.rstrip('.')}."
        return NextStep(f"{refused} When that is mended, ask a reviewer again.", page, BUILDER)
    return NextStep(f"Ask a reviewer to release {line.hold.label}.{void}", page, BUILDER)


def _ahead(build, reports, lines, ticket):
    if build.stage == Stage.PLAN and not build.builders.all():
        return NextStep("Say who builds it.", reverse("build_people", args=[build.number]), COORDINATOR)
    if build.stage == Stage.PLAN and build.reviewer_id is None:
        return NextStep("Say who reviews it.", reverse("build_people", args=[build.number]), COORDINATOR)
    if build.stage == Stage.IN_USE:
        contacts = reports["followup"].section.get("next") if "followup" in reports else None
        return NextStep(
            f"{contacts.get_kind_display()} the family on {contacts.due_on:%d %B %Y}."
            if contacts
            else "Date the next contact with the family.",
            reverse("contacts", args=[build.number]),
            COORDINATOR,
        )
    if build.stage == Stage.RETURNED:
        return NextStep("Say what becomes of the unit.", reverse("build_end", args=[build.number]), COORDINATOR)
    stage = rules.next_stage(build)
    if stage is None or build.is_over:
        return None
    who = COORDINATOR if stage in MOVED_BY_COORDINATOR else ""
    return NextStep(f"Move on to {stage.label}.", reverse("build_move", args=[build.number, stage]), who)
