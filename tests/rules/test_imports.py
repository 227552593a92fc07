"""Imports run one way: engineering, record, a room, then papers and overview."""

import subprocess
import sys
import textwrap

import pytest

from tests.rules.source import ROOT, imports_of, module_of, place, python_files

SHARED = {"access", "fields", "templatetags"}  # beside the rooms; every room may use them
READS_ALL = {"papers", "overview", "personal"}
GLUE = {"", "models", "admin", "urls", "apps", "rooms", "management", "demo"}  # these put the rooms together


def zone(module):
    """(project package, room) of a module, for example ("builds", "wiring")."""
    package, _, rest = module.partition(".")
    return package, rest.partition(".")[0] if package == "builds" else ""


def may_import(importer, imported):
    """Whether a module of ours may import another module of ours."""
    (package, room), (other, other_room) = zone(importer), zone(imported)
    if (package, room) == (other, other_room):
        return True
    if (package, room) == ("builds", "engineering"):
        return False
    if package != "builds":
        return other == "labsite" or (other, other_room) == ("builds", "engineering")
    if room in GLUE or other != "builds":
        return True
    if other_room == "demo" or other_room in GLUE:
        return False
    if room in SHARED:
        return other_room in {"engineering", "record"} | SHARED
    if other_room in {"engineering"} | SHARED:
        return True
    if other_room == "record":
        return True
    return room in READS_ALL and (other_room not in READS_ALL or (room, other_room) == ("personal", "papers"))


@pytest.mark.parametrize(
    ("importer", "imported", "allowed"),
    [
        ("builds.engineering.fuse", "builds.engineering.finding", True),
        ("builds.engineering.fuse", "labsite.marks", False),
        ("builds.record.rules", "builds.engineering.finding", True),
        ("builds.record.rules", "builds.wiring.models", False),
        ("builds.record.rules", "clients.models", True),
        ("builds.wiring.views", "builds.record.models", True),
        ("builds.wiring.views", "builds.bench.models", False),
        ("builds.wiring.views", "builds.access", True),
        ("builds.wiring.views", "builds.papers.views", False),
        ("builds.wiring.views", "builds.demo.factories", False),
        ("builds.papers.views", "builds.wiring.models", True),
        ("builds.papers.views", "builds.overview.views", False),
        ("builds.personal.held", "builds.papers.models", True),
        ("builds.papers.views", "builds.personal.held", False),
        ("builds.access", "builds.record.models", True),
        ("builds.access", "builds.wiring.models", False),
        ("clients.models.case", "builds.record.models", False),
        ("clients.forms", "builds.engineering.quantities", True),
        ("clients.forms", "labsite.forms", True),
        ("labsite.forms", "clients.models", False),
        ("labsite.forms", "builds.engineering.quantities", True),
        ("builds.models", "builds.wiring.models", True),
    ],
)
def test_the_direction_is_read_as_meant(importer, imported, allowed):
    assert may_import(importer, imported) is allowed


def test_imports_run_one_way():
    wrong = [
        f"{place(path, node)} imports {imported}"
        for path in python_files()
        for node, imported in imports_of(path)
        if zone(imported)[0] in {"labsite", "clients", "builds"} and not may_import(module_of(path), imported)
    ]
    assert wrong == []


def test_hidden_and_relative_imports_are_seen(tmp_path, monkeypatch):
    hidden = tmp_path / "builds" / "wiring" / "views.py"
    hidden.parent.mkdir(parents=True)
    hidden.write_text("def view():\n    from ..bench import models\n    from .models import WireRun\n")
    monkeypatch.setattr("tests.rules.source.ROOT", tmp_path)
    assert [name for _, name in imports_of(hidden)] == ["builds.bench.models", "builds.wiring.models.WireRun"]


def test_engineering_imports_no_django():
    wrong = [
        f"{place(path, node)} imports {imported}"
        for path in python_files()
        if module_of(path).startswith("builds.engineering")
        for node, imported in imports_of(path)
        if imported.split(".")[0] in {"django", "crispy_forms", "auditlog", "axes"}
    ]
    assert wrong == []


def test_engineering_loads_in_a_bare_interpreter():
    script = textwrap.dedent(
        """
        import importlib, pkgutil, sys
        import builds.engineering as package
        loaded = [name for _, name, _ in pkgutil.walk_packages(package.__path__, package.__name__ + ".")]
        for name in loaded:
            importlib.import_module(name)
        assert loaded, "no module was found"
        assert "django" not in sys.modules, "django was loaded"
        """
    )
    bare = subprocess.run([sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True, check=False)
    assert bare.returncode == 0, bare.stderr
