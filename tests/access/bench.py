"""The bench: everybody on the build and above reads, the builders on it and the coordinator record."""

from builds.bench.models import Section
from builds.demo.factories.bench import drawn_photo, pass_step
from builds.record.photos import keep_photo
from tests.access.record import BENCH, READS, done, refused
from tests.access.rows import row

ROWS = [
    row("bench", **done(READS)),
    row("bench_section", **READS),
    row("step_record", **BENCH),
    row("step_record", "POST", **refused(BENCH)),
    row("step_change", **BENCH),
    row("step_change", "POST", **refused(BENCH)),
    row("step_add", **BENCH),
    row("step_add", "POST", **refused(BENCH)),
    row("step_strike", **BENCH),
    row("step_strike", "POST", **refused(BENCH)),
    row("result_strike", **BENCH),
    row("result_strike", "POST", data={"reason": "Read from another unit"}, **done(BENCH)),
    row("build_photos", **READS),
    row("photo_add", **BENCH),
    row("photo_add", "POST", **refused(BENCH)),
    row("photo", page=False, **READS),
    row("photo_strike", **BENCH),
    row("photo_strike", "POST", data={"reason": "Blurred"}, **done(BENCH)),
]


def arguments(world):
    build = world.build
    number = {"number": build.number}
    first, second = build.steps.filter(section=Section.INCOMING_TEST)[:2]
    result = pass_step(first, world.builder)
    photo = keep_photo(build, world.builder, drawn_photo(), caption="The unit from its left")
    section = {**number, "section": Section.INCOMING_TEST.value}
    return {
        "bench": number,
        "build_photos": number,
        "photo_add": number,
        "bench_section": section,
        "step_add": section,
        **dict.fromkeys(("step_record", "step_change", "step_strike"), {**number, "pk": second.pk}),
        "result_strike": {**number, "pk": result.pk},
        **dict.fromkeys(("photo", "photo_strike"), {**number, "pk": photo.pk}),
    }
