"""Every model that leads to a client is told to the family and erased, or stays with the unit for a reason."""

import pytest
from django.apps import apps
from django.db import models

from builds.personal.held import BY_PLACE, DEVICE, HELD, device_models, held_models
from clients.export import NOT_TOLD, path_to_client, records
from clients.models import Client, Erasure

# Models of the builds without a way to a client: units, parts, plans, and what is said of a whole language.
NOBODYS = {"BaseUnit", "BaseUnitType", "Battery", "CatalogueReading", "Charger", "Plan", "PlanRevision", "UnitMark"}
BUILDS = list(apps.get_app_config("builds").get_models())


def test_every_model_of_the_builds_is_told_or_stays_for_a_reason():
    leads = {model for model in BUILDS if path_to_client(model)}
    assert leads - {*held_models(), *device_models()} == set(), "Say it in builds/personal/held.py"
    assert {model.__name__ for model in set(BUILDS) - leads - {BY_PLACE}} == NOBODYS


def test_every_model_of_the_clients_is_told():
    ours = set(apps.get_app_config("clients").get_models()) - {Client}
    assert ours == {model for model, _ in records()} and Erasure in ours


def test_no_model_is_said_twice_and_every_reason_is_a_reason():
    assert len(device_models()) == len(set(device_models()))
    assert not set(device_models()) & set(held_models())
    assert all(len(reason.split()) > 5 for reason in DEVICE)


def test_a_model_with_a_link_to_a_client_would_be_found():
    """So that the first test can fail."""

    class Whisper(models.Model):
        build = models.ForeignKey("builds.Build", on_delete=models.CASCADE)

        class Meta:
            app_label = "builds"

    try:
        assert path_to_client(Whisper) == "build__client"
        assert Whisper not in {*held_models(), *device_models()}
    finally:
        del apps.all_models["builds"]["whisper"]
        apps.clear_cache()


@pytest.mark.parametrize("held", HELD, ids=lambda held: held.says)
def test_what_is_said_of_a_model_is_so(held):
    names = {field.name for field in held.model._meta.concrete_fields}
    assert set(held.words) | set(held.secret) | ({held.file} - {""}) <= names
    assert held.path == path_to_client(held.model)
    assert not held.file or not held.words or held.words[held.file] == "", "a file that goes leaves no name behind"


@pytest.mark.parametrize("held", HELD, ids=lambda held: held.says)
def test_no_two_fields_share_a_label(held):
    fields = [one for one in held.model._meta.concrete_fields if one.name not in {*NOT_TOLD, *held.secret}]
    labels = [str(one.verbose_name) for one in fields]
    assert len(labels) == len(set(labels))


@pytest.mark.parametrize("model", held_models(), ids=lambda model: model.__name__)
def test_what_a_family_or_somebody_about_it_writes_is_emptied_or_goes(model):
    """A new text of such a model is emptied with the others, or is said here to stay."""
    stays = {
        "FamilyLink": {"language", "key_digest"}, "TeachBack": {"item", "taught_by"},
        "IssuedPaper": {"language", "size", "code", "digest"},
    }.get(model.__name__, set())  # fmt: skip
    of_model = [held for held in HELD if held.model is model]
    if not any(held.words for held in of_model):
        return
    texts = {
        field.name for field in model._meta.concrete_fields
        if isinstance(field, (models.CharField, models.TextField)) and not field.choices
    }  # fmt: skip
    emptied = {name for held in of_model for name in held.words}
    assert texts - emptied - {"struck_reason"} == stays
