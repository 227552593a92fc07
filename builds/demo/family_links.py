"""The family links of the demo lab: one that works, with a diary and a reported problem, and one revoked.

Their key and word are known to everybody, as the demo's password is; a lab's own links have random ones.
"""

from django.utils import timezone

from builds.demo.factories.bench import drawn_photo
from builds.papers.family import door, links, rules
from builds.papers.family.models import FamilyLink
from builds.record.models import Build

KEY, WORD = "demo-family-link", "bamotu"
USES = (
    (27, 15, "Yard", "He presses it and laughs."),
    (20, 20, "Yard", ""),
    (13, 10, "School", "Tired early, it was warm."),
    (4, 25, "Path by the river", "To the bench and back by himself."),
)
REPORTED = (3, "One screw of the cover at the back has come out. We found it. It still runs as before.")


def add_family_links(clock, people):
    works(clock, people, build_of("Hartwigsen"))
    revoked(clock, people, build_of("Quintero Vidales"))


def build_of(family_name):
    return Build.objects.get(client__person__family_name=family_name)


def works(clock, people, build):
    clock.go_to(30)
    link = links.make_link(build, people.nadia, days=365, word=WORD, key=KEY).link
    for days_ago, minutes, place, note in USES:
        clock.go_to(days_ago)
        open_with(link)
        rules.write_in_diary(link, used_on=timezone.localdate(), minutes=minutes, place=place, note=note)
    days_ago, text = REPORTED
    clock.go_to(days_ago)
    open_with(link)
    rules.report(link, text=text, hurt="no", danger="no", photo=drawn_photo("The cover at the back"), shows_client="no")
    door.note(link, "Reported a problem")


def open_with(link):
    links.try_word(link, WORD)
    door.note(link, "Opened")


def revoked(clock, people, build):
    """The phone was lost, so the link was revoked."""
    clock.go_to(20)
    link = links.make_link(build, people.nadia, days=180, language="es").link
    clock.go_to(12)
    link.revoke(people.nadia)


def told():
    """(address, word) of the demo's own link while it works; nothing in a lab that has none."""
    link = FamilyLink.objects.filter(key_digest=links.digest_of(KEY), revoked_at=None).select_related("build").first()
    return (links.address_of(links.token_of(KEY)), WORD) if link and link.works else None
