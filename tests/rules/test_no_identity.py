"""No page, file or message that a builder or a reviewer can open tells who a client or a caregiver is."""

import pytest
from django.db import transaction

from tests.access.rows import all_rows
from tests.test_access import knock, sessions  # noqa: F401 a fixture

TOLD = {
    "given_name": "Zephyrine",
    "family_name": "Quillfeather",
    "address": "4 Marrowbone Row",
    "caregiver": "Ottoline Pemberly",
    "relation": "Great-aunt",
    "phone": "555 0199 77",
    "email": "ottoline@example.org",
    "signer": "Persephone Ashdown",
    "given_to": "Leopoldina Frost",
    "birth_date": "2021-07-19",
    "birth_day": "19 Jul 2021",
}
NOT_IDENTIFIED = ("builder", "builder_elsewhere", "reviewer")


def tell(world):
    """Put something unmistakable in every field that may hold who somebody is."""
    client = world.client
    for name in ("given_name", "family_name", "address", "birth_date"):
        setattr(client.person, name, TOLD[name])
    client.person.save(update_fields=["given_name", "family_name", "address", "birth_date"])
    people = {"name": TOLD["caregiver"], **{name: TOLD[name] for name in ("relation", "phone", "email")}}
    client.caregivers.update(**people)
    client.consents.update(signer=TOLD["signer"])
    world.build.issued_papers.update(given_to=TOLD["given_to"])


def text_of(answer):
    body = b"".join(answer.streaming_content) if answer.streaming else answer.content
    return f"{dict(answer.headers)} {body.decode(errors='replace')}"


@pytest.mark.django_db
@pytest.mark.parametrize("person", NOT_IDENTIFIED)
def test_nothing_tells_who_they_are(person, world, sessions):  # noqa: F811
    leaks, opened = {}, 0
    with transaction.atomic():
        tell(world)
        for row in all_rows():
            text = text_of(knock(sessions, world, row, person))
            opened += row.expected[person] in (200, 302)
            found = [what for what, said in TOLD.items() if said in text]
            if found:
                leaks[str(row)] = found
        transaction.set_rollback(True)
    assert opened > 10
    assert leaks == {}


@pytest.mark.django_db
def test_the_coordinator_is_told(world, sessions):  # noqa: F811
    """So that the test above looks for what the pages could show."""
    with transaction.atomic():
        tell(world)
        rows = {each.name: each for each in all_rows() if each.method == "GET" and not each.query}
        told = "".join(text_of(knock(sessions, world, rows[name], "coordinator")) for name in (
            "client_page", "teach_back", "papers",
        ))  # fmt: skip
        transaction.set_rollback(True)
    assert [what for what, said in TOLD.items() if said not in told and what != "birth_date"] == []
