"""The traps of many rooms in one app: a register of models, one label, functions that never move."""

import ast
import importlib
import pkgutil

import pytest
from django.apps import apps
from django.conf import settings
from django.db import models

from tests.rules.source import APPS, ROOT

NEVER_MOVES = {"builds.fields"}


def import_every_module(package):
    found = importlib.import_module(package)
    for _, name, _ in pkgutil.walk_packages(found.__path__, f"{package}."):
        if ".migrations" not in name and ".management.commands" not in name:
            importlib.import_module(name)


def named_in(register):
    """The names that a register of models imports, one by one."""
    imports = [node for node in ast.walk(ast.parse(register.read_text())) if isinstance(node, ast.ImportFrom)]
    return {alias.asname or alias.name for node in imports for alias in node.names}


@pytest.mark.parametrize(
    ("app", "register"), [("builds", "builds/models.py"), ("clients", "clients/models/__init__.py")]
)
def test_every_model_stands_in_the_register(app, register):
    import_every_module(app)
    every = {model.__name__ for model in apps.get_app_config(app).get_models()}
    assert every, "no model was found"
    assert every - named_in(ROOT / register) == set()


def test_the_register_imports_nothing_by_a_star():
    assert "*" not in named_in(ROOT / "builds/models.py")


def test_no_room_is_an_app_of_its_own():
    assert [app for app in settings.INSTALLED_APPS if app.startswith(tuple(f"{ours}." for ours in APPS))] == []


def our_fields():
    for app in APPS:
        for model in apps.get_app_config(app).get_models():
            for field in model._meta.get_fields():
                if isinstance(field, models.Field):
                    yield f"{model.__name__}.{field.name}", field


def test_text_is_empty_or_said_but_never_null():
    text = (models.CharField, models.TextField)
    assert [name for name, field in our_fields() if isinstance(field, text) and field.null] == []


def test_functions_that_migrations_name_live_where_nothing_moves():
    moved = {}
    for name, field in our_fields():
        for function in (field.default, getattr(field, "upload_to", None), *field.validators):
            module = getattr(function, "__module__", None) if callable(function) else None
            if module and module.startswith("builds.") and module not in NEVER_MOVES:
                moved[name] = f"{module}.{getattr(function, '__name__', type(function).__name__)}"
    assert moved == {}


def test_every_link_says_what_happens_when_its_end_goes():
    guessed = {
        name
        for name, field in our_fields()
        if isinstance(field, models.ForeignKey) and field.remote_field.on_delete is models.DO_NOTHING
    }
    assert guessed == set()
