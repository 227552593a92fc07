"""One rule for names in a text: what counts as one, what does not, and who is told which word it was."""

from types import SimpleNamespace

import pytest

from builds.demo.factories import clients as make
from clients import names
from clients.names import Names

pytestmark = pytest.mark.django_db


def of(*caregivers, given="Mirela", family="Sandoval"):
    client = make.make_cleared_client(person__given_name=given, person__family_name=family)
    client.caregivers.all().delete()
    for name in caregivers:
        client.caregivers.create(name=name, relation="aunt")
    return Names(client)


def found(text, name):
    """Whether the text names a client whose given name this is."""
    return bool(of(given=name, family="Quillfeather").found_in(text))


@pytest.mark.parametrize(
    "text", ["Mirela leans", "mirela leans", "MIRELA", "Mirela's strap", "Mirelá", "sandoval’s cart", "for Mirela-Ann"]
)
def test_a_name_counts_however_it_is_written(text):
    assert of().found_in(text)


def test_accents_make_no_difference():
    assert found("zoe leans left", "Zoë")
    assert found("Zoe\u0308 leans left", "Zoe")
    assert found("Lukasz pushes", "Łukasz")
    assert found("jose sits", "José")


@pytest.mark.parametrize("text", ["Mirelatown", "the sand oval", "", "case C-0007"])
def test_a_part_of_a_word_is_no_name(text):
    assert of().found_in(text) == []


def test_caregivers_are_family():
    assert of("Ottoline Crane").found_in("ask ottoline first") == ["ottoline"]


@pytest.mark.parametrize(
    ("name", "text", "counts"),
    [
        ("Li", "Li leans left", True),
        ("Li", "ask Li first", True),
        ("Li", "LI leans", True),
        ("Li", "the Li-ion battery", False),
        ("Ah", "a battery of 12 Ah", False),
        ("Ah", "ask Ah first", True),
        ("The", "The arm is loose", False),
        ("Li", "a limit of light", False),
        ("Bo", "bo leans", False),
        ("An", "An edge was sharp", False),
        ("An", "It stopped. An edge was sharp", False),
        ("An", "an edge was sharp", False),
        ("An", "ask An first", True),
        ("Will", "Will leans left", True),
        ("Will", "she will lean", False),
        ("May", "it may tip", False),
        ("May", "May sits well", True),
        ("Rose", "the front rose", False),
        ("Rose", "told by Rose", True),
        ("Sol", "no lo deje al sol", False),
        ("J", "J bolt", False),
        ("李明", "李明 sits well", True),
    ],
)
def test_short_names_and_everyday_words_count_only_as_a_name(name, text, counts):
    assert found(text, name) is counts


def test_names_are_taken_out_and_the_rest_stays():
    family = of("Will Crane")
    assert family.taken_out("Will says mirela will lean, Zoë too") == "[name] says [name] will lean, Zoë too"


def test_the_whole_name_of_somebody_of_the_lab_is_no_name_of_the_family(builder):
    builder.full_name = "Ben Sandoval"
    builder.save(update_fields=["full_name"])
    assert of().found_in("Ben Sandoval checked it") == []
    assert of().found_in("Ben Sandoval asked Sandoval, and mirela") == ["Sandoval", "mirela"]


def test_without_a_person_file_nobody_is_named():
    client = make.make_cleared_client()
    client.caregivers.all().delete()
    client.person.delete()
    client = type(client).objects.get(pk=client.pk)
    assert Names(client).found_in("Anybody may sit here") == []


def test_only_who_may_know_the_name_is_told_the_word():
    family = of()
    knows, builds = SimpleNamespace(sees_identity=True), SimpleNamespace(sees_identity=False)
    assert "“mirela”" in names.refusal(family, ["mirela leans"], knows)
    for account in (builds, None):
        assert names.refusal(family, ["mirela leans"], account) == names.NOT_TOLD
    assert "mirela" not in names.NOT_TOLD.lower()
    assert names.refusal(family, ["leans left", ""], knows) == ""
