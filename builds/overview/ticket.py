"""What the ticket shows, put together once from every room's report."""

from dataclasses import dataclass

from django.utils import timezone

from builds.engineering.finding import STOP, VERDICTS, worst
from builds.overview import outlook
from builds.overview.next_step import next_step
from builds.overview.work import work_lines
from builds.record import registry, releasing, voiding
from builds.record.holds import ENDS, GATE, PATH, Hold, Stage
from builds.record.scope import outside
from clients.models import SittingProfile
from labsite.roles import Role

# The steps of a case before its build, done once a build exists.
BEFORE_THE_BUILD = ("Referral", "Intake", "Assessment", "Clearance")


@dataclass(frozen=True)
class HoldLine:
    """One hold point as the ticket shows it."""

    hold: Hold
    release: object  # the release that stands, or None
    last: object  # the newest decision, or None
    why_void: list
    met: int
    total: int
    asked: object

    @property
    def state(self):
        if self.release:
            return "standing", "Released"
        if self.why_void:
            return "void", "Void"
        if self.asked:
            return "waiting", "Waiting for a reviewer"
        if self.last and not self.last.is_release:
            return "unmet", "Refused"
        return "open", "Not released"


@dataclass(frozen=True)
class PathStep:
    label: str
    state: str  # done, here, ahead
    since: object = None
    gate: HoldLine | None = None


def hold_lines(build, reports, today):
    decisions = list(build.hold_decisions.all())
    lines = []
    for hold in build.holds():
        of_hold = [one for one in decisions if one.hold == hold]
        last = max(of_hold, key=lambda one: one.pk, default=None)
        asked = [one for one in build.hold_requests.all() if one.hold == hold and one.answered_at is None]
        conditions = releasing.conditions(build, hold, reports)
        lines.append(
            HoldLine(
                hold=hold,
                release=voiding.standing_release(decisions, hold, today),
                last=last,
                why_void=build.why_void(hold, today),
                met=sum(one.met is True for one in conditions),
                total=len(conditions),
                asked=asked[0] if asked else None,
            )
        )
    return lines


def path_of(build, lines):
    """The whole path of the case with its hold points; where the build is now is marked."""
    by_hold = {line.hold: line for line in lines}
    arrived = {}
    for one in build.moves.all():
        arrived[one.to_state] = one.made_at
    steps = [PathStep(label, "done") for label in BEFORE_THE_BUILD]
    here = PATH.index(build.stage) if build.stage in PATH else len(PATH)
    for position, stage in enumerate(PATH):
        state = "done" if position < here else "here" if position == here else "ahead"
        since = arrived.get(stage) if state != "ahead" else None
        steps.append(PathStep(stage.label, state, since, by_hold.get(GATE.get(stage))))
    if build.stage not in PATH:
        steps.append(PathStep(Stage(build.stage).label, "here", arrived.get(build.stage)))
    return steps


def stale_lines(build, lines):
    """What no longer holds, each with the changes that made it so."""
    return [line for line in lines if line.why_void and not line.release]


@dataclass(frozen=True)
class FindingGroup:
    """Findings under one heading, or the groups of one room."""

    heading: str
    findings: list
    groups: tuple = ()
    outlook: object = None  # shown in place of the bare findings, with its picture

    @property
    def worst(self):
        return worst(self.findings)

    @property
    def counts(self):
        """How many of each verdict, the gravest first."""
        verdicts = [finding.verdict for finding in self.findings]
        return [(verdict, verdicts.count(verdict)) for verdict in reversed(VERDICTS) if verdict in verdicts]

    @property
    def is_grave(self):
        return self.worst == STOP


# What each room computes, as the ticket heads it.
COMPUTED = {
    "parts": "Load, balance, battery and charger",
    "wiring": "Wire runs, fuses and switching parts",
    "drive": "Speed and reach",
}


def computed(reports):
    """The findings of each room, in the order of the rooms, each room's under its own headings."""
    found = []
    for name, report in reports.items():
        headings = {}
        for heading, finding in report.findings:
            headings.setdefault(heading, []).append(finding)
        if headings:
            groups = tuple(FindingGroup(heading, findings) for heading, findings in headings.items())
            everything = [finding for group in groups for finding in group.findings]
            found.append(FindingGroup(COMPUTED.get(name, name.capitalize()), everything, groups))
    return found


def grown(build):
    """The growth outlook as a heading of its own, for a ride-on that is being built or in use."""
    found = outlook.for_ticket(build)
    return [FindingGroup(outlook.HEADING, list(found.findings), outlook=found)] if found else []


def needed_supports(client):
    sitting = getattr(client, "sitting", None)
    return sitting.supports if sitting and sitting.supports_decided else []


def supports_in_words(codes):
    names = dict(SittingProfile.Support.choices)
    return ", ".join(names.get(code, code) for code in codes)


def ticket_of(build, account):
    today = timezone.localdate()
    reports = registry.reports(build)
    lines = hold_lines(build, reports, today)
    findings = [*computed(reports), *grown(build)]
    configuration, clearance = build.configuration(), build.client.clearance(today)
    equipment = build.plan_revision.plan.equipment
    return {
        "build": build,
        "configuration": configuration,
        "clearance": clearance,
        "outside_clearance": outside(clearance, configuration, equipment) if clearance else [],
        "supports_needed": supports_in_words(needed_supports(build.client)),
        "supports_fitted": supports_in_words(configuration.supports if configuration else []),
        "work": work_lines(build, reports, account),
        "do_not_use_lines": [build.unit.do_not_use_reason],
        "may_end": build.stage in ENDS and build.stage != Stage.IN_USE,
        "earlier": PATH[: PATH.index(build.stage)] if build.stage in PATH else [],
        "holds": lines,
        "stale": stale_lines(build, lines),
        "path": path_of(build, lines),
        "next": next_step(build, reports, lines, account),
        "findings": findings,
        "worst": worst([finding for group in findings for finding in group.findings]) if findings else None,
        "nonconformances": sorted(build.nonconformances.all(), key=lambda one: not one.is_open),
        "problems": build.problems.all(),
        "to_collect": reports["papers"].section.get("to_collect", []),
        "to_replace": reports["papers"].section.get("to_replace", []),
        "may_issue": account.has_role(Role.COORDINATOR),
        "sees_names": account.sees_identity,
        "tasks": sorted((one for one in build.tasks.all() if one.done_at is None), key=lambda one: -one.gravity),
        "told_by_the_family": any(one.told_by_the_family for one in build.urgent_tasks()),
        "is_coordinator": account.has_role(Role.COORDINATOR),
    }
