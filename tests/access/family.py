"""Family links: the coordinator makes them, the director reads them; the family's own pages ask for link and word."""

from django.core.files.base import ContentFile

from builds.demo.factories.bench import drawn_photo
from builds.papers.family import links, rules
from tests.access.papers import IDENTITY
from tests.access.record import DESK, done, refused
from tests.access.rows import PEOPLE, row

ORDER = 47
ANYBODY = dict.fromkeys(PEOPLE, 200)
SENT_TO_THE_DOOR = dict.fromkeys(PEOPLE, 302)
DOOR = "family_link"

ROWS = [
    row("paper_check", **ANYBODY),
    row("paper_check", query="?code=ACDE-FGHJ", **ANYBODY),
    row("family_link", **ANYBODY),
    row("family_link", "POST", **dict.fromkeys(PEOPLE, 422)),
    row("family_lost", page=False, **dict.fromkeys(PEOPLE, 404)),
    row("family_paper", door=DOOR, **SENT_TO_THE_DOOR),
    row("family_report", door=DOOR, **SENT_TO_THE_DOOR),
    row("family_report", "POST", door=DOOR, **SENT_TO_THE_DOOR),
    row("family_reported", door=DOOR, **SENT_TO_THE_DOOR),
    row("family_diary", door=DOOR, **SENT_TO_THE_DOOR),
    row("family_diary", "POST", door=DOOR, **SENT_TO_THE_DOOR),
    row("family_close", "POST", door=DOOR, **SENT_TO_THE_DOOR),
    row("family_links", **IDENTITY),
    row("family_link_new", **DESK),
    row("family_link_new", "POST", **refused(DESK)),
    row("family_link_revoke", "POST", **done(DESK)),
    row("family_report_photo", **IDENTITY, page=False),
]


def arguments(world):
    build = world.build
    made = links.make_link(build, world.coordinator, days=30, word="bamotu")
    kept = rules.report(
        made.link, text="It hums", hurt="no", photo=ContentFile(drawn_photo().read(), name="x.jpg"), shows_client="no"
    )
    token, number = {"token": made.token}, {"number": build.number}
    return {
        **dict.fromkeys(("family_link", "family_report", "family_diary", "family_close"), token),
        "family_paper": {**token, "kind": "use_guide"},
        "family_lost": {"rest": f"{made.token}/no-such-page/"},
        "family_reported": {**token, "pk": kept.pk},
        **dict.fromkeys(("family_links", "family_link_new"), number),
        "family_link_revoke": {**number, "pk": made.link.pk},
        "family_report_photo": {**number, "pk": kept.pk},
    }
