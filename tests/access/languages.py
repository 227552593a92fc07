"""Languages of the papers: the desk reads them; the coordinator translates and writes down who read what."""

from builds.papers.translations import digest_of
from tests.access.record import DESK, MAY_LIST, READS, refused
from tests.access.rows import row

ORDER = 46
DESK_READS = {**MAY_LIST, "builder": 403, "builder_elsewhere": 403, "reviewer": 403, "signed_out": 302}
DESK_ONLY = {**DESK_READS, "director": 403}

ROWS = [
    row("paper_languages", **DESK_READS),
    row("paper_catalogue", **DESK_READS),
    row("catalogue_read", **DESK_ONLY),
    row("catalogue_read", "POST", **refused(DESK_ONLY)),
    row("paper_beside", **READS, page=False),
    row("build_sentences", **DESK),
    row("sentence_translate", **DESK),
    row("sentence_translate", "POST", **refused(DESK)),
]


def arguments(world):
    build = {"number": world.build.number, "language": "es"}
    first = world.build.plan_revision.content["check_before_use"][0]
    return {
        **dict.fromkeys(("paper_catalogue", "catalogue_read"), {"language": "es"}),
        "build_sentences": build,
        "paper_beside": {**build, "kind": "use_guide"},
        "sentence_translate": {**build, "digest": digest_of(first)},
    }
