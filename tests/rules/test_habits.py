"""Habits that keep the house safe: named saves, escaped text, no inline script or style, no secrets, small files."""

import ast
import re

import pytest

from tests.rules.source import ROOT, kept_files, place, python_files, template_files, tree_of

INLINE = {
    "a style attribute": re.compile(r"\sstyle\s*=", re.IGNORECASE),
    "a style element": re.compile(r"<style\b", re.IGNORECASE),
    "an inline script": re.compile(r"<script\b(?![^>]*\ssrc\s*=)", re.IGNORECASE),
    "an event attribute": re.compile(r"<[^>]*\son[a-z]+\s*=", re.IGNORECASE),
    "a script address": re.compile(r"(href|src|action)\s*=\s*[\"']?\s*javascript:", re.IGNORECASE),
}
TEMPLATE_CODE = re.compile(r"{%.*?%}|{{.*?}}|{#.*?#}", re.DOTALL)
UNESCAPED = re.compile(r"\|\s*safe(seq)?\b|{%\s*autoescape\s+off")
SECRETS = {
    "a private key": re.compile(r"-----BEGIN [A-Z ]*PRIVATE KEY"),
    "a made-up Django key": re.compile("django" + "-insecure-"),
    "a key in the code": re.compile(r"(?i)(secret|api|access)_?(key|token)\s*[:=]\s*[\"'][A-Za-z0-9+/_=-]{16,}[\"']"),
    "a password in an address": re.compile(r"://[^/\s:@\"']+:(?!tell-nobody)[a-z0-9]{6,}@"),
}
# Where a record is saved whole, and why that is right.
SAVED_WHOLE = {}
# Where text is marked as safe, and why it is.
MARKED_SAFE = {}


def saves_without_names(tree):
    """Calls of `.save()` that could be a record's and do not say which fields."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr == "save":
            if not _says_what(node) and not _is_no_record(node.func.value):
                yield node


def _says_what(call):
    # A picture is saved to a place, which is a positional argument; a record takes none.
    return bool(call.args) or any(word.arg in {None, "update_fields", "force_insert"} for word in call.keywords)


def _is_no_record(receiver):
    text = ast.unparse(receiver)
    return text == "super()" or text.endswith("form") or text.endswith("formset") or text.endswith("session")


@pytest.mark.parametrize(
    ("code", "found"),
    [
        ("build.save()", True),
        ("Build(number=1).save()", True),
        ("build.save(using='default')", True),
        ("build.save(update_fields=['stage'])", False),
        ("account.save(force_insert=True)", False),
        ("form.save()", False),
        ("picture.save(buffer, 'JPEG')", False),
    ],
)
def test_a_save_without_names_is_seen(code, found):
    assert bool(list(saves_without_names(ast.parse(code)))) is found


def test_every_save_names_its_fields():
    wrong = [place(path, node) for path in python_files() for node in saves_without_names(tree_of(path))]
    assert [where for where in wrong if where.partition(":")[0] not in SAVED_WHOLE] == []


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ('<p style="color: red">', "a style attribute"),
        ("<style>p { color: red }</style>", "a style element"),
        ("<script>alert(1)</script>", "an inline script"),
        ('<button onclick="go()">', "an event attribute"),
        ('<a href="javascript:go()">', "a script address"),
        ('<script src="/static/js/site.js"></script>', None),
        ('{% include "x.html" with style="plain" %}', None),
    ],
)
def test_inline_code_is_seen(text, found):
    assert inline_in(text) == ([found] if found else [])


def inline_in(text):
    bare = TEMPLATE_CODE.sub("", text)
    return [what for what, pattern in INLINE.items() if pattern.search(bare)]


def test_no_template_holds_inline_script_or_style():
    wrong = {place(path): inline_in(path.read_text()) for path in template_files()}
    assert {where: what for where, what in wrong.items() if what} == {}


def test_no_template_shows_text_unescaped():
    assert [place(path) for path in template_files() if UNESCAPED.search(path.read_text())] == []


def test_no_code_marks_text_as_safe_without_a_reason():
    wrong = [
        place(path, node)
        for path in python_files()
        for node in ast.walk(tree_of(path))
        if isinstance(node, ast.Name) and node.id in {"mark_safe", "SafeString", "SafeText"}
    ]
    assert [where for where in wrong if where.partition(":")[0] not in MARKED_SAFE] == []


def secrets_in(text):
    return [what for what, pattern in SECRETS.items() if pattern.search(text)]


def test_a_secret_is_seen():
    assert secrets_in("SECRET" + '_KEY = "abcdefghijklmnopqrstuvwxyz"') == ["a key in the code"]
    assert secrets_in("postgres://lab:" + "hunter22@host/lab") == ["a password in an address"]


def test_the_repository_holds_no_secret():
    found = {}
    for path in kept_files():
        try:
            secrets = secrets_in(path.read_text())
        except UnicodeDecodeError:
            continue
        if secrets:
            found[place(path)] = secrets
    assert found == {}


def test_the_repository_holds_no_data_of_a_running_lab():
    names = {path.name for path in kept_files()}
    assert "secret-key" not in names
    assert not any(name.endswith((".sqlite3", ".sqlite3-wal")) for name in names)
    assert (ROOT / "var") not in {parent for path in kept_files() for parent in path.parents}


def lines_of(path):
    return len(path.read_text().splitlines())


def test_no_module_is_longer_than_400_lines():
    assert {place(path): lines_of(path) for path in python_files() if lines_of(path) > 400} == {}


def test_no_template_is_longer_than_80_lines():
    assert {place(path): lines_of(path) for path in template_files() if lines_of(path) > 80} == {}


def test_query_counts_stand_in_a_with_block():
    wrong = [
        place(path, node)
        for path in sorted((ROOT / "tests").rglob("*.py"))
        for node in ast.walk(tree_of(path))
        if isinstance(node, ast.Expr)
        and isinstance(node.value, ast.Call)
        and ast.unparse(node.value.func).lower().endswith(("assertnumqueries", "assert_num_queries"))
    ]
    assert wrong == []
