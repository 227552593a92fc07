"""The last stretch of a demo build: papers, teach-back, terms and contacts, and the signed sheet."""

from django.utils import timezone

from builds.demo.factories.bench import drawn_photo
from builds.demo.factories.translations import translate_record
from builds.followup import rules as contacts
from builds.papers import handing_over, teaching, wanted
from builds.papers import rules as papers
from builds.papers.models import HandOff
from builds.record.rules import forget_prefetched

INTERPRETER = "Telephone interpreter of the county service"


def hand_over(build, crew, *, terms=HandOff.Terms.LOAN):
    """Everything that the hand-off asks for, each by its own rule."""
    settle(build, crew, terms)
    contacts.suggest(build, crew.coordinator)
    forget_prefetched(build)
    issue_papers(build, crew)
    teach(build, crew)
    forget_prefetched(build)


def settle(build, crew, terms):
    """Loan or gift, the day, and who went through the papers where the family reads another language."""
    today = timezone.localdate()
    kept = HandOff(build=build, terms=terms, handed_on=today, recorded_by=crew.coordinator)
    if handing_over.other_languages(build):
        kept.interpreted_by, kept.interpreted_on = INTERPRETER, today
    kept.save(force_insert=True)
    build.refresh_from_db()


def issue_papers(build, crew):
    given_to = teaching.supervising_adults(build)[0].name
    translate_record(build, crew.coordinator)
    for kind in papers.asked_by_plan(build):
        for one in wanted.editions(build, kind):
            read = {"language": one.language, "print_size": one.print_size}
            papers.issue(build, kind, crew.coordinator, given_to=given_to, **read)
            forget_prefetched(build)


def teach(build, crew):
    """Every supervising adult shows or says every item, right at the first try."""
    for adult in teaching.supervising_adults(build):
        for item in teaching.items(build):
            teaching.record_try(
                build, crew.coordinator, adult=adult, item=item["code"], how=item["proof"], right=True
            )


def sign(build):
    """The signed sheet comes back as a photo."""
    kept = build.hand_off
    kept.signed_by = teaching.supervising_adults(build)[0].name
    kept.save(update_fields=["signed_by"])
    handing_over.keep_signed_sheet(kept, drawn_photo("Signed hand-off sheet"), handing_over.JPEG)
