"""Plans are read by everybody of the lab."""

from builds.demo.factories.plans import make_plan_revision
from tests.access.labsite import ANYONE
from tests.access.rows import row

ORDER = 20
ROWS = [
    row("plans", **ANYONE, signed_out=302),
    row("plan_sheet", **ANYONE, signed_out=302),
]


def arguments(world):
    world.plan_revision = make_plan_revision()
    return {"plan_sheet": {"code": world.plan_revision.plan.code, "number": world.plan_revision.number}}
