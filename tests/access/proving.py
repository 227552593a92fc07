"""The proving run: read by everybody on the build, recorded by its builders and the coordinator."""

from builds.demo.factories.proving import good_showing
from builds.engineering.proving import LINES
from builds.models import ProvingLine, ProvingRun
from builds.record import voids
from builds.record.voiding import all_evidence, snapshot
from tests.access.record import BENCH, READS, done, refused
from tests.access.rows import row

ORDER = 90  # a change of the wiring by another room would void the run

ROWS = [
    row("proving_runs", **READS),
    row("proving_new", **BENCH),
    row("proving_new", "POST", **refused(BENCH)),
    row("proving_line", **BENCH),
    row("proving_line", "POST", **refused(BENCH)),
    row("proving_line_strike", **BENCH),
    row("proving_line_strike", "POST", data={"reason": "Looked at the other wheel"}, **done(BENCH)),
    row("proving_strike", **BENCH),
    row("proving_strike", "POST", data={"reason": "The wheels touched the floor"}, **done(BENCH)),
]


def arguments(world):
    """A run with its first line, as it would be after First power."""
    build = type(world.build).objects.get(pk=world.build.pk)
    run = ProvingRun.objects.create(
        build=build, configuration=build.configuration(), supply="Bench supply, limited to 2 A",
        evidence=snapshot(voids.PROVING, all_evidence(build)), made_by=world.builder,
    )  # fmt: skip
    line = ProvingLine.objects.create(
        build=build, run=run, code=LINES[0].code, made_by=world.builder, **good_showing(LINES[0], run.configuration)
    )
    number = {"number": build.number}
    return {
        **dict.fromkeys(("proving_runs", "proving_new"), number),
        **dict.fromkeys(("proving_line", "proving_strike"), {**number, "pk": run.pk}),
        "proving_line_strike": {**number, "pk": line.pk},
    }
