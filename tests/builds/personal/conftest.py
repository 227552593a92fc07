"""One family with something unmistakable in every place that holds what they are, and a unit that came back."""

import base64
from dataclasses import dataclass
from io import BytesIO

import pytest
from django.apps import apps
from django.core.files.storage import default_storage
from django.db import transaction
from django.test import TestCase, override_settings
from django.utils import timezone
from PIL import Image, ImageDraw

from builds.demo.factories import clients as make
from builds.demo.factories.bench import drawn_photo
from builds.demo.factories.record import make_build, make_crew
from builds.followup import rules as contacts
from builds.papers import rules as papers
from builds.papers import signing
from builds.papers.family import links
from builds.papers.family import rules as family
from builds.papers.models import PaperKind
from builds.papers.translations import Translation, digest_of
from builds.record import photos, rules, voiding
from builds.record.holds import Stage
from builds.record.models import Build
from clients import erasing, export
from clients.models import Client, Consent
from labsite.roles import Role
from tests.factory import make_account, make_lab

# What may be nowhere when the file is erased.
TOLD = {
    "given name": "Zephyrine",
    "family name": "Quillfeather",
    "address": "4 Marrowbone Row",
    "birth date": "2021-07-19",
    "birth day": "19 Jul 2021",
    "caregiver": "Ottoline Pemberly",
    "caregiver's name": "Ottoline",
    "relation": "Great-aunt by marriage",
    "phone": "555 0199 77",
    "mail": "ottoline@example.org",
    "signer": "Persephone",
    "given to": "Leopoldina",
    "interpreter": "Ines Roldan",
    "referrer": "Balthazar",
    "referrer's clinic": "Larkspur",
    "reason": "Squeals with delight",
    "case closed because": "moved to the coast",
    "goal": "Chase cousin",
    "place": "behind the bakery",
    "hazards": "duck pond past the hedge",
    "plan": "lay on the left side and ring",
    "conditions": "only while an aunt is near",
    "hours at home": "05:17",
    "contact": "told of a birthday",
    "diary": "laughed at the ducks",
    "report": "rang the bell twice",
    "second report": "A screw came out",
    "third report": "He giggled at the horn",
    "translation": "estanque de patos",
    "link": "the aunt's own phone",
}
SETTLED = "A screw of the cover was tightened"
REPORTS = (f"{TOLD['second report']}, says Ottoline. Ring {TOLD['phone']}.", "Mirror rang the bell twice")


@dataclass
class Parted:
    """A family whose file is erased, and what was known before."""

    build: int
    client: int
    other: int
    people: dict
    before: dict
    copy: bytes
    files: list


def make_family(crew):
    client = make.make_cleared_client(
        crew.coordinator,
        person__given_name=TOLD["given name"],
        person__family_name=TOLD["family name"],
        person__birth_date=TOLD["birth date"],
        person__address=TOLD["address"],
        case__referrer_name="Balthazar Stone",
        case__referrer_organisation="Larkspur Clinic",
        case__reason="Squeals with delight when moved",
        clearance={"conditions": TOLD["conditions"].capitalize()},
    )
    save(client.caregivers.get(), name=TOLD["caregiver"], relation=TOLD["relation"], phone=TOLD["phone"],
         email=TOLD["mail"], supervises=True)  # fmt: skip
    save(client.household, wake_time="05:17")
    save(client.places.get(), name="Yard behind the bakery", hazards="A duck pond past the hedge")
    save(client.cautions.get(kind="heat"), answer="yes", plan="Lay on the left side and ring")
    save(client.goals.get(), text="Chase cousin at the gate")
    for consent in client.consents.all():
        save(consent, signer="Persephone Ashdown")
    for purpose in (Consent.Purpose.PHOTO_RECORD, Consent.Purpose.CLINICIAN):
        make.ConsentFactory(client=client, made_by=crew.coordinator, purpose=purpose, signer="Persephone Ashdown")
    return Client.objects.get(pk=client.pk)


def save(row, **values):
    for name, value in values.items():
        setattr(row, name, value)
    row.save(update_fields=list(values))


def live(build, crew):
    """What gathers while a family uses a unit: calls, a link with a diary and a report, photos, a signature, notes."""
    contacts.finish(
        build.contacts.order_by("due_on").first(), crew.coordinator, done_on=timezone.localdate(),
        outcome="The great-aunt told of a birthday",
    )  # fmt: skip
    for kind in (PaperKind.WHAT_WE_KEEP, PaperKind.CLINICIAN_SUMMARY, PaperKind.AS_BUILT):
        papers.issue(build, kind, crew.coordinator, given_to="Leopoldina Frost")
    save(build.hand_off, interpreted_by=TOLD["interpreter"], interpreted_on=timezone.localdate())
    (adult,) = build.client.caregivers.all()
    ink = signing.clean_drawing(a_signature())
    signing.sign(Build.objects.get(pk=build.pk), crew.coordinator, adult=adult, drawing=ink)
    link = links.make_link(build, crew.coordinator, days=90).link
    family.write_in_diary(link, used_on=timezone.localdate(), minutes=20, place="Yard", note="We laughed at the ducks")
    for text, hurt in zip(REPORTS, ("no", "unknown"), strict=True):
        family.report(link, text=text, hurt=hurt, danger="no", photo=drawn_photo("Cover"), shows_client="no")
    photos.keep_photo(build, crew.builder, drawn_photo("Smile"), caption="Zephyrine smiles", shows_client=True)
    photos.keep_photo(build, crew.builder, drawn_photo("Wheel"), caption="Wheel, as Ottoline brought it")
    name_in_a_note(build, "Ottoline held the arm while Bo Ottoline Lind measured")
    save(build.teach_backs.order_by("pk").first(), note="Persephone showed it too")
    Translation.objects.create(
        language="es", source="A duck pond past the hedge", source_digest=digest_of("A duck pond past the hedge"),
        place=f"Hazards at a place of case {build.client.case_code}", text="Un estanque de patos",
        translated_by="A speaker", made_by=crew.coordinator,
    )  # fmt: skip


def name_in_a_note(build, note):
    """In a result and in what stands on it, as if it had been written before any of that was given or issued."""
    step = build.steps.order_by("pk").first()

    def named(kept):
        for key, item in kept.items():
            if key.endswith(f"-step:{step.pk}"):
                item["fields"]["note"] = note
        return kept

    for release in build.hold_decisions.all():
        kept = named(release.evidence)
        build.hold_decisions.filter(pk=release.pk).update(evidence=kept, digest=voiding.digest(kept))
    for paper in build.issued_papers.all():
        kept = {target: named(one) for target, one in paper.evidence.items()}
        build.issued_papers.filter(pk=paper.pk).update(evidence=kept)
    save(step.results.get(), note=note)


def a_signature():
    image = Image.new("RGBA", (400, 120), (0, 0, 0, 0))
    ImageDraw.Draw(image).line([(20, 90), (120, 20), (200, 100), (370, 30)], fill="black", width=6)
    held = BytesIO()
    image.save(held, "PNG")
    return signing.HEAD + base64.b64encode(held.getvalue()).decode()


def reword(build):
    """A report of a time when the lab began these texts in other words."""
    link = build.family_links.get()
    told = family.report(link, text=TOLD["third report"], hurt="no", danger="no").problem
    save(told, text=f"The parents said: {TOLD['third report']}")
    save(told.tasks.get(), text=f"Ring them, they said: {TOLD['third report']}")


def bring_back(build, crew):
    """The unit comes back, what was reported is called about, and the case is closed."""
    for task in build.tasks.filter(done_at__isnull=True):
        task.finish(crew.coordinator, "Called them")
    for problem in build.problems.all():
        problem.settle(crew.coordinator, SETTLED)
    rules.move(Build.objects.get(pk=build.pk), Stage.RETURNED, crew.coordinator, "Grown out of it")
    for case in build.client.referrals.all():
        save(case, outcome="equipped", outcome_on=timezone.localdate(), outcome_reason="They moved to the coast")


@pytest.fixture(scope="module")
def parted(django_db_setup, django_db_blocker, tmp_path_factory):
    """Made once for a module; each test takes back what it changes."""
    folder = tmp_path_factory.mktemp("files")
    with django_db_blocker.unblock(), override_settings(MEDIA_ROOT=str(folder)), transaction.atomic():
        make_lab()
        crew = make_crew(builder=make_account(Role.BUILDER, full_name="Bo Ottoline Lind"))
        director = make_account(Role.DIRECTOR, full_name="Dana Quill")
        other = make.make_cleared_client(crew.coordinator)
        build = make_build(crew=crew, client=make_family(crew), stage=Stage.IN_USE)
        live(build, crew)
        reword(build)
        bring_back(build, crew)
        before = everything_of(build)
        with export.packed(build.client) as kept:
            copy = kept.read()
        erasure = make.ErasureFactory(client=build.client, begun_by=crew.coordinator)
        with TestCase.captureOnCommitCallbacks(execute=True):
            erasing.confirm(erasure, director)
        people = {"coordinator": crew.coordinator, "builder": crew.builder, "reviewer": crew.reviewer,
                  "director": director}  # fmt: skip
        yield Parted(build.pk, build.client_id, other.pk, people, before, copy, sorted(folder.rglob("*.*")))
        transaction.set_rollback(True)


def everything_of(build):
    """What must be the same afterwards, and what files there were."""
    build = Build.objects.get(pk=build.pk)
    return {
        "releases": [(one.pk, one.hold, one.digest, one.voided_at) for one in build.hold_decisions.order_by("pk")],
        "configurations": list(build.configurations.order_by("pk").values()),
        "parts": list(build.parts.order_by("pk").values()),
        "runs": list(build.wire_runs.order_by("pk").values()),
        "papers": list(
            build.issued_papers.order_by("pk").values_list("kind", "copy_number", "digest", "superseded_at")
        ),
        "dump": dump(),
        "files": {
            name: default_storage.exists(name)
            for name in [
                *build.issued_papers.values_list("file", flat=True), *build.photos.values_list("file", flat=True),
                build.hand_off.signed_sheet.name,
            ]
        },
    }  # fmt: skip


def dump():
    """Every value of every row of every model, as text."""
    return "\n".join(
        f"{model._meta.label} {row}"
        for model in apps.get_models(include_auto_created=True)
        for row in model._base_manager.values_list()
    )


@pytest.fixture
def build(parted):
    with transaction.atomic():
        yield Build.objects.get(pk=parted.build)
        transaction.set_rollback(True)
