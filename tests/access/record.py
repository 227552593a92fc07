"""The build that every room's pages are about: its people, moves, hold points and notes."""

from django.utils import timezone

from builds.demo.factories.parts import BaseUnitFactory
from builds.demo.factories.plans import make_plan_revision
from builds.models import Nonconformance, Problem, Task
from builds.record import releasing, rules
from builds.record.holds import Hold
from tests.access.rows import row

ORDER = 30  # the rooms' own rows come later and find world.build here

ALL_ON_IT = {"coordinator": 200, "builder": 200, "reviewer": 200, "director": 200}
READS = {**ALL_ON_IT, "builder_elsewhere": 404, "signed_out": 302}
NOT_ON_IT = {"builder_elsewhere": 404, "signed_out": 302}
DESK = {"coordinator": 200, "builder": 403, "reviewer": 403, "director": 403, **NOT_ON_IT}
BENCH = {"coordinator": 200, "builder": 200, "reviewer": 403, "director": 403, **NOT_ON_IT}
REVIEW = {"coordinator": 403, "builder": 403, "reviewer": 200, "director": 403, **NOT_ON_IT}
CHECK = {"coordinator": 200, "builder": 200, "reviewer": 200, "director": 403, **NOT_ON_IT}


def refused(expected):
    """The same people sending an empty form: those who may are told what to enter."""
    return {who: 422 if status == 200 else status for who, status in expected.items()}


def done(expected):
    return {who: 302 if status == 200 else status for who, status in expected.items()}


MAY_LIST = dict.fromkeys(("coordinator", "builder", "builder_elsewhere", "reviewer", "director"), 200)
OVER = {**MAY_LIST, "builder": 403, "builder_elsewhere": 403, "signed_out": 302}

ROWS = [
    row("ticket", **READS),
    row("build_new", **{**MAY_LIST, "builder": 403, "builder_elsewhere": 403, "reviewer": 403, "director": 403},
        signed_out=302),
    row("build_new", "POST", **{**MAY_LIST, "coordinator": 422, "builder": 403, "builder_elsewhere": 403,
        "reviewer": 403, "director": 403}, signed_out=302),
    row("builds", **MAY_LIST, signed_out=302),
    row("search", **MAY_LIST, signed_out=302, query="q=C-"),
    row("my_builds", **{**MAY_LIST, "coordinator": 403, "reviewer": 403, "director": 403}, signed_out=302),
    row("review_queue", **OVER),
    row("board", **OVER),
    row("desk", **{**OVER, "reviewer": 403}),
    row("build_people", **DESK),
    row("build_people", "POST", data={"builders": []}, **done(DESK)),
    row("build_move", **BENCH),
    row("build_move", "POST", **refused(BENCH)),
    row("build_standing", **DESK),
    row("build_standing", "POST", **refused(DESK)),
    row("build_end", **{**DESK, "coordinator": 404}),
    row("build_end", "POST", **{**DESK, "coordinator": 404}),
    row("hold_point", **READS),
    row("hold_ask", "POST", **done(BENCH)),
    row("hold_release", "POST", **done(REVIEW)),
    row("hold_refuse", **REVIEW),
    row("hold_refuse", "POST", **refused(REVIEW)),
    row("hold_decision", **READS),
    row("nonconformance_new", **CHECK),
    row("nonconformance_new", "POST", **refused(CHECK)),
    row("nonconformance_close", **CHECK),
    row("nonconformance_close", "POST", **refused(CHECK)),
    row("problem_new", **READS),
    row("problem_new", "POST", **refused(READS)),
    row("problem_settle", **CHECK),
    row("problem_settle", "POST", **refused(CHECK)),
    row("problem_strike", **CHECK),
    row("problem_strike", "POST", **refused(CHECK)),
    row("task_new", **DESK),
    row("task_new", "POST", **refused(DESK)),
    row("task_done", **DESK),
    row("task_done", "POST", **refused(DESK)),
    row("void_table", **MAY_LIST, signed_out=302),
]  # fmt: skip


def arguments(world):
    world.unit = BaseUnitFactory(number="U-900")
    world.build = build = rules.start_build(
        client=world.client,
        unit=world.unit,
        plan_revision=make_plan_revision("one-hand-stick"),
        account=world.coordinator,
        builders=[world.builder],
        reviewer=world.reviewer,
    )
    wrong = Nonconformance.objects.create(build=build, text="A wire is bare", made_by=world.builder)
    problem = Problem.objects.create(build=build, text="It squeaks", made_by=world.builder)
    task = Task.objects.create(build=build, text="Order a fuse", due_on=timezone.localdate())
    refusal = releasing.refuse(build, Hold.SOUND_UNIT, world.reviewer, "No photo of the label")
    number = {"number": build.number}
    hold = {**number, "hold": Hold.SOUND_UNIT.value}
    of = {
        "build_move": {**number, "stage": "teardown"},
        "build_standing": {**number, "standing": "on_hold"},
        "hold_decision": {**number, "pk": refusal.pk},
        "nonconformance_close": {**number, "pk": wrong.pk},
        "problem_settle": {**number, "pk": problem.pk},
        "problem_strike": {**number, "pk": problem.pk},
        "task_done": {**number, "pk": task.pk},
    }
    plain = ("ticket", "build_people", "build_end", "nonconformance_new", "problem_new", "task_new")
    holds = ("hold_point", "hold_ask", "hold_release", "hold_refuse")
    return {**of, **dict.fromkeys(plain, number), **dict.fromkeys(holds, hold)}
