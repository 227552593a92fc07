"""The project's own source, read as text and as syntax trees."""

import ast
import subprocess
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
APPS = ("labsite", "clients", "builds")


@cache
def python_files():
    """Our application modules; migrations are written by Django and tests have their own habits."""
    found = (path for app in APPS for path in sorted((ROOT / app).rglob("*.py")))
    return tuple(path for path in found if "migrations" not in path.parts)


@cache
def template_files():
    return tuple(sorted(path for path in (ROOT / "templates").rglob("*") if path.suffix in {".html", ".svg", ".txt"}))


@cache
def tree_of(path):
    return ast.parse(path.read_text(), filename=str(path))


def place(path, node=None):
    """Where something stands, as a person would look for it."""
    line = f":{node.lineno}" if node is not None else ""
    return f"{path.relative_to(ROOT)}{line}"


def module_of(path):
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def imports_of(path):
    """(node, full module name) for every import of a file, those hidden inside functions too."""
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.Import):
            yield from ((node, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = _base(path, node)
            yield from ((node, f"{base}.{alias.name}") for alias in node.names)


def _base(path, node):
    if not node.level:
        return node.module or ""
    package = module_of(path).split(".")
    inside = package if path.name == "__init__.py" else package[:-1]
    kept = inside[: len(inside) - node.level + 1]
    return ".".join([*kept, *([node.module] if node.module else [])])


@cache
def kept_files():
    """The files of the repository: tracked, or new and not ignored."""
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    return tuple(ROOT / name for name in listed.stdout.splitlines() if (ROOT / name).is_file())
